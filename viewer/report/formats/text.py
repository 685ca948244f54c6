"""What is not met, open and met stands in tables for people."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from viewer.output.whole import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report


def write(
    checked: Sequence[Report | Refused], output: Path | None, *, mend: bool
) -> None:
    """Write reports for people, as wide as the terminal."""
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text import reports_text

    stream = None if output else sys.stdout
    width, colour = width_of(stream), wants_colour(stream)
    text = reports_text(checked, width=width, colour=colour)
    if mend:
        reports = (one for one in checked if not isinstance(one, Refused))
        text += "".join(_remedies(one, width, colour=colour) for one in reports)
    emit(text, output)


def _remedies(report: Report, width: int, *, colour: bool) -> str:
    from model3d.mending.remedies import bench_of_report, mends
    from viewer.report.mend_text import mend_text

    if report.arrangement is None or report.passed:
        return ""
    found = mends(bench_of_report(report))
    scene = report.arrangement.scene
    return f"\n{mend_text(scene, found, width=width, colour=colour)}"
