"""What cannot be as it is drawn, in words and with its amount."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.tolerance import SLACK, TOUCH

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class Contradiction:
    """One thing about an item that cannot be.

    Attributes:
        words: What, after the item's name: lies 40 mm inside WW1.
        size: What the amount measures: overlap, outside, gap, size.
        metres: By how much.
        other: The item that it lies in, if any.
    """

    words: str
    size: str
    metres: float
    other: Placed | None = None


def slack(situation: Situation) -> float:
    """Return how far what is drawn may miss, metres; a survey misses by more."""
    return SLACK + TOUCH + situation.survey_tolerance
