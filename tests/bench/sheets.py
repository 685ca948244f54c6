"""What a report of sixty sheets costs after the check, as HTML and as PDF.

Run ``python -m tests.bench.sheets``. Times are processor time of this process; what is
proved to cure the room is another measurement's, see ``tests.bench.mending``.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d import check
from tests.bench.halls import hall
from viewer.report.document.content import Heading
from viewer.report.document.cures import Cures
from viewer.report.document.dossier import dossier
from viewer.report.document.html import html_report
from viewer.report.document.pdf import pdf_report

if TYPE_CHECKING:
    from model3d import Report

BOXES: Final = 600
"""One of ten is gear, and each gear has a sheet."""
AIM: Final = 3.0
"""Seconds."""
_STEPS: Final = 3_000_000


@dataclass(frozen=True, slots=True)
class SheetTime:
    """How long a report took.

    Attributes:
        sheets: In it, one for each item.
        html, pdf: Seconds from what was checked to the whole file.
        yardstick: Seconds of plain counting at the same time on the same machine.
    """

    sheets: int
    html: float
    pdf: float
    yardstick: float


def sheet_times(boxes: int = BOXES, rounds: int = 3) -> SheetTime:
    """Write the report of a hall some times and return the least of each.

    What is loaded at first use does not count. Each round counts too: what else the
    machine does slows both.
    """
    report = check(hall(boxes, crowded=False))
    small = dossier([check(hall(10))], paper="a4", cured=[Cures()])
    html_report(small), pdf_report(small)
    found = [_round(report) for _ in range(rounds)]
    return SheetTime(
        found[0].sheets,
        min(one.html for one in found),
        min(one.pdf for one in found),
        min(one.yardstick for one in found),
    )


def _round(report: Report) -> SheetTime:
    start = time.process_time()
    document = dossier([report], paper="a4", cured=[Cures()])
    made = time.process_time()
    html_report(document)
    as_html = time.process_time()
    pdf_report(document)
    as_pdf = time.process_time()
    sheets = sum(
        isinstance(one, Heading) and one.level > 1 and one.new_page
        for one in document.blocks
    )
    return SheetTime(
        sheets,
        as_html - start,
        made - start + as_pdf - as_html,
        _yardstick(),
    )


def _yardstick() -> float:
    start, total = time.process_time(), 0
    for number in range(_STEPS):
        total += number * number % 7
    assert total
    return time.process_time() - start


def main() -> None:
    """Measure and print."""
    one = sheet_times()
    for name, seconds in (("HTML", one.html), ("PDF", one.pdf)):
        sys.stdout.write(
            f"{one.sheets} sheets as {name}: {seconds:.2f} s (aim: under {AIM:g}); "
            f"{seconds / one.yardstick:.1f} times counting to {_STEPS}\n"
        )


if __name__ == "__main__":
    main()
