"""The part of a report that tells one room: what is wrong, where, and item by item."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.catalogue.provenance import provenance
from model3d.judging.results import ROOM
from model3d.wording import length, sentences
from model3d.wording.said import LINE, Said, joined, say
from viewer.figure.plans.room import room_figure
from viewer.report.document.content import (
    SIZES,
    Counts,
    Drawing,
    Heading,
    Pairs,
    Paragraph,
    Table,
)
from viewer.report.document.item_part import item_blocks
from viewer.report.document.rests_part import rests_blocks
from viewer.report.rows import (
    asked,
    cure_words,
    deciding_row,
    name_of,
    way_words,
)
from viewer.report.text.mend import PROVED
from viewer.wording.alike import listed, told_once
from viewer.wording.sizes import measured
from viewer.wording.words import units_of, why_open

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d import Judgement, Report, Verdict
    from viewer.report.document.content import Block, Paper
    from viewer.report.document.cures import Cures

MARGIN: Final = 15.0
"""Millimetres of a page on the left and on the right."""
_PLAN: Final = 150.0
"""Millimetres of height that a room's plan takes at most."""
_PREMISES: Final = {
    "new": "new",
    "existing": "existing",
    "existing-dwelling": "existing dwelling",
}


def room_blocks(
    report: Report,
    number: int,
    cures: Cures,
    *,
    paper: Paper,
    every: bool,
    several: bool,
    told: Callable[[str], None],
) -> Iterator[Block]:
    """Yield the part of one room.

    Args:
        report: What the check answered.
        number: Of the room in the report, from 1.
        cures: What is proved to put it right.
        paper: What it is printed on.
        every: A sheet for every item, not only where there is something to say.
        several: There are other rooms.
        told: Is told the name of each sheet before it is made.
    """
    name = f"room-{number}"
    yield Heading(1, report.scene, name, new_page=several)
    yield Paragraph("Working space report", "strong")
    yield Counts(tuple((word, report.counts[verdict]) for verdict, word in _COUNTED))
    yield Pairs(tuple(_facts(report)))
    yield from _not_met(report, name, cures, every=every)
    yield from _open(report, name, every=every)
    told(f"{report.scene}: plan of the room")
    width = SIZES[paper][0] - 2 * MARGIN
    if report.arrangement is not None and _has_plan(report):
        yield Heading(2, "Plan of the room", f"{name}-plan")
        yield Drawing(room_figure(report, width, _PLAN))
    for subject in subjects(report, every=every):
        told(f"{report.scene}: {subject}")
        sheet = f"{name}-{anchor(subject)}"
        yield from item_blocks(report, subject, sheet, width, cures)
    yield from rests_blocks(report, name, cures)


_COUNTED: Final[tuple[tuple[Verdict, str], ...]] = (
    ("not-met", "not met"),
    ("open", "open"),
    ("met", "met"),
)


def _has_plan(report: Report) -> bool:
    arrangement = report.arrangement
    return arrangement is not None and bool(
        arrangement.shell.outline or arrangement.scene.items
    )


def subjects(report: Report, *, every: bool) -> list[str]:
    """Return the subjects that get a sheet: what is not met first, then the open."""
    order = {"not-met": 0, "open": 1, "met": 2}
    worst: dict[str, int] = {}
    for one in report.judgements:
        rank = order[one.verdict]
        worst[one.subject] = min(rank, worst.get(one.subject, rank))
    wanted = [name for name, rank in worst.items() if every or rank < order["met"]]
    return sorted(wanted, key=lambda name: (worst[name], name))


def anchor(subject: str) -> str:
    """Return an id as an anchor: letters, digits and hyphens.

    >>> anchor("LP1"), anchor("pump 2/left")
    ('LP1', 'pump-20-2-2f-left')
    """
    return "".join(
        sign if sign.isascii() and sign.isalnum() else f"-{ord(sign):x}-"
        for sign in subject
    )


def _facts(report: Report) -> Iterator[tuple[str, str]]:
    scene = report.arrangement.scene if report.arrangement else None
    book = provenance(report)
    rules = report.rules if book is None else f"{book.name} ({report.rules})"
    yield "Rule book", rules
    if scene is None:
        return
    if book is not None and book.amends:
        yield "Amends", book.amends
    if scene.installed is not None:
        yield "Installed", scene.installed.isoformat()
    yield "Premises", _PREMISES.get(scene.premises, scene.premises)
    yield "Use", scene.use
    measures = scene.measures or "either"
    yield "Figures that count", "of either system" if measures == "either" else measures
    tolerance = scene.metres(scene.survey_tolerance)
    if tolerance:
        yield "Survey tolerance", length(tolerance, scene.units)
    yield "File", report.file or "none"
    sheet = scene.sheet
    for label, value in (
        ("Project", sheet.project if sheet else None),
        ("Address", sheet.address if sheet else None),
        ("Drawing", sheet.number if sheet else None),
        ("Revision", sheet.revision if sheet else None),
        ("Date", sheet.date if sheet else None),
        ("Drawn", sheet.drawn if sheet else None),
        ("Checked", sheet.checked if sheet else None),
        ("Note", sheet.note if sheet else None),
    ):
        if value:
            yield label, value


def _link(one: Judgement, name: str, *, every: bool) -> str:
    has_sheet = every or one.verdict != "met"
    return f"{name}-{anchor(one.subject)}" if has_sheet else ""


def _not_met(
    report: Report, name: str, cures: Cures, *, every: bool
) -> Iterator[Block]:
    found = [one for one in report.judgements if one.verdict == "not-met"]
    yield Heading(2, f"Not met ({len(found)})", f"{name}-not-met")
    if not found:
        yield Paragraph("Nothing that was judged is not met.")
        return
    units = units_of(report)
    told = []
    for one in found:
        needed, there, margin = deciding_row(one, units)
        words = (
            Said(asked(one), LINE, one.citation),
            needed,
            joined(LINE, dict.fromkeys((there, margin))),
            way_words(one, report, units),
            joined(_OR, cure_words(cures.of(one))[:_CURES]) or one.reason,
        )
        told.append((one.subject, one, words))
    rows, links = _rows(told, report, name, every=every)
    yield Table(
        "What is not met, and what cures it",
        ("Item", "Requirement", "Required", "There, margin", "In the way", "Cure"),
        rows,
        (2.0, 2.4, 2.2, 2.9, 2.2, 4.1),
        links,
        frozenset({0}),
    )
    if any(one.remedies for one in cures.mends.values()):
        yield Paragraph(f"Cures are proved. {PROVED}", "small")
    cut_short = [one.cut_short for one in cures.mends.values() if one.cut_short]
    if cut_short:
        yield Paragraph(f"{cut_short[0]} {_SEARCH}", "small")


def _rows(
    told: Sequence[tuple[str, Judgement, tuple[str, ...]]],
    report: Report,
    name: str,
    *,
    every: bool,
) -> tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]:
    """Return the rows of a table, what is the same as one, and where each leads."""
    rows, links = [], []
    for same, words in told_once(told):
        subjects = [*dict.fromkeys(one.subject for one in same)]
        names = {name_of(one, report.arrangement) for one in subjects}
        who = "The room" if subjects == [ROOM] else listed(subjects)
        names = names if len(names) == 1 else set()
        rows.append((joined(LINE, filter(None, (who, *names))), *words))
        links.append(_link(same[0], name, every=every))
    return tuple(rows), tuple(links)


_SEARCH: Final = "standclear mend searches on."
_OR: Final = Said(LINE, "or: ")
_CURES: Final = 2
"""So many remedies of a breach are told on the first page; its sheet tells all."""


def _open(report: Report, name: str, *, every: bool) -> Iterator[Block]:
    found = [one for one in report.judgements if one.verdict == "open"]
    if not found:
        return
    yield Heading(2, f"Open ({len(found)})", f"{name}-open")
    yield Paragraph(
        "What is open is not met and not refused: a fact has to be stated by whoever "
        "answers for the design, or the authority having jurisdiction has to decide.",
        "lead",
    )
    told = []
    for one in found:
        decide = _to_state(one, units_of(report))
        told.append(
            (one.subject, one, (Said(asked(one), LINE, one.citation), decide, ""))
        )
    rows, links = _rows(told, report, name, every=every)
    yield Table(
        "What is open, and what must be said or decided",
        ("Item", "Requirement", "To be stated or decided", "Decision, by whom, date"),
        rows,
        (2, 3, 6, 3.5),
        links,
        frozenset({0}),
    )


def _to_state(judgement: Judgement, units: str) -> str:
    """Say what is missing, and what was measured of it."""
    said = why_open(judgement)
    sizes = measured(judgement, units, said)
    return sentences(said, say("Measured: {}.", sizes)) if sizes else said
