"""Compare a stated length with a limit, for what no space can show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation


def at_least(found: float, wanted: float, situation: Situation) -> tuple[Verdict, str]:
    """Tell whether a length keeps a limit from below, and why it is left open.

    A length that misses the limit by no more than contact keeps it. One that keeps or
    misses it within the survey tolerance is open.

    Args:
        found: The length, metres.
        wanted: The limit, metres.
        situation: The room, with its survey tolerance.
    """
    return _compared(found - wanted, situation)


def at_most(found: float, wanted: float, situation: Situation) -> tuple[Verdict, str]:
    """Tell whether a length keeps a limit from above, and why it is left open."""
    return _compared(wanted - found, situation)


def _compared(margin: float, situation: Situation) -> tuple[Verdict, str]:
    tolerance = situation.survey_tolerance
    kept = margin >= -TOUCH
    if tolerance and abs(margin) < tolerance - TOUCH:
        return "open", situation.survey_doubt
    return ("met" if kept else "not-met"), ""
