"""A report that stands on its own: of one room, or of a set of rooms."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.report.document.content import (
    Contents,
    Counts,
    Document,
    Heading,
    Paragraph,
    Table,
)
from viewer.report.document.cures import cures_of
from viewer.report.document.room_part import room_blocks
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d import Report
    from viewer.report.document.content import Block, Paper
    from viewer.report.document.cures import Cures


def dossier(
    reports: Sequence[Report],
    *,
    paper: Paper,
    every: bool = False,
    told: Callable[[str], None] = lambda _: None,
    cured: Sequence[Cures] | None = None,
) -> Document:
    """Return the report of rooms: a summary of the set, then room by room.

    Args:
        reports: One or several, in the order they are told.
        paper: What it is printed on.
        every: A sheet for every item, not only where there is something to say.
        told: Is told the name of each sheet before it is made.
        cured: What is proved to put each room right; None: it is looked for.
    """
    blocks: list[Block] = []
    if len(reports) > 1:
        blocks += _summary(reports)
    for number, report in enumerate(reports, start=1):
        if cured is None:
            told(f"{report.scene}: what cures it")
        blocks += room_blocks(
            report,
            number,
            cures_of(report) if cured is None else cured[number - 1],
            paper=paper,
            every=every,
            several=len(reports) > 1,
            told=told,
        )
    title = reports[0].scene if len(reports) == 1 else f"{len(reports)} rooms"
    return Document(f"{title}: working space report", CAUTION[1], paper, tuple(blocks))


def _summary(reports: Sequence[Report]) -> Iterator[Block]:
    yield Heading(1, f"Working space report: {len(reports)} rooms", "set", listed=False)
    for line in CAUTION:
        yield Paragraph(line, "caution")
    totals = {"not-met": 0, "open": 0, "met": 0}
    for report in reports:
        for verdict, count in report.counts.items():
            totals[verdict] += count
    yield Counts(
        (
            ("not met", totals["not-met"]),
            ("open", totals["open"]),
            ("met", totals["met"]),
        )
    )
    rows = [
        (
            report.scene,
            report.file,
            report.rules,
            str(report.counts["not-met"]),
            str(report.counts["open"]),
            str(report.counts["met"]),
        )
        for report in reports
    ]
    yield Table(
        "All rooms",
        ("Room", "File", "Rule book", "Not met", "Open", "Met"),
        tuple(rows),
        (5, 4, 2, 1.4, 1.2, 1.2),
        tuple(f"room-{number}" for number in range(1, len(reports) + 1)),
        frozenset({3}),
    )
    yield Contents("Contents")
