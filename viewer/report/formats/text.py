"""What is not met, open and met stands in tables for people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from viewer.output.outlet import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner
    from viewer.report.text.findings import Tally


@dataclass(frozen=True, slots=True)
class ScenePart:
    """What is told of a scene, and further below what cures it."""

    text: str
    tally: Tally
    remedies: str = ""


def part(
    one: Report | Refused,
    basis: Basis,
    manner: Manner,
) -> ScenePart:
    """Return a report for people, as wide as the terminal."""
    from viewer.output.terminal import PLAIN_WIDTH
    from viewer.report.text.findings import report_text, tally_of

    width = manner.width or PLAIN_WIDTH
    colour, shown = manner.colour, basis.shown
    text = report_text(one, width=width, colour=colour, shown=shown)
    if not manner.mend or isinstance(one, Refused):
        return ScenePart(text, tally_of(one))
    return ScenePart(text, tally_of(one), _remedies(one, width, colour=manner.colour))


def write(parts: Sequence[ScenePart], output: Path | None, manner: Manner) -> None:
    """Write reports, then what they come to, then the remedies of each."""
    from viewer.output.terminal import PLAIN_WIDTH
    from viewer.report.text.findings import end_text

    tallies = [one.tally for one in parts]
    width = manner.width or PLAIN_WIDTH
    end = end_text(tallies, width=width, colour=manner.colour)
    text = "".join(one.text for one in parts)
    emit("".join((text, end, *(one.remedies for one in parts))), output)


def _remedies(report: Report, width: int, *, colour: bool) -> str:
    from model3d.mending.remedies import bench_of_report, mends
    from viewer.report.text.mend import mend_text

    if report.arrangement is None or report.passed:
        return ""
    found = mends(bench_of_report(report))
    scene = report.arrangement.scene
    return f"\n{mend_text(scene, found, width=width, colour=colour)}"
