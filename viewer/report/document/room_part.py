"""The part of a report that tells one room: what is wrong, where, and item by item."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ROOM
from model3d.provenance import provenance
from model3d.wording import length
from viewer.figure.plans.room import room_figure
from viewer.report.document.content import (
    SIZES,
    Counts,
    Drawing,
    Heading,
    Pairs,
    Paragraph,
    Points,
    Signature,
    Table,
)
from viewer.report.document.item_part import item_blocks
from viewer.report.rows import asked, called, cure_words, deciding_row, way_words
from viewer.report.text.mend import PROVED
from viewer.wording.sizes import measured
from viewer.wording.words import (
    CAUTION,
    from_memory,
    no_place,
    requirement_words,
    units_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

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
    yield from _end(report, name, cures)


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
    rows = []
    for one in found:
        needed, there, margin = deciding_row(one, units)
        rows.append(
            (
                called(one.subject, report.arrangement).replace(", ", "\n", 1),
                f"{asked(one)}\n{one.citation}",
                needed,
                f"{there}\n{margin}" if there != margin else there,
                way_words(one, report, units),
                "\nor: ".join(cure_words(cures.of(one))[:_CURES]) or one.reason,
            )
        )
    yield Table(
        "What is not met, and what cures it",
        ("Item", "Requirement", "Required", "There, margin", "In the way", "Cure"),
        tuple(rows),
        (2.1, 2.5, 2.1, 2.4, 2.2, 4.3),
        tuple(_link(one, name, every=every) for one in found),
        frozenset({0}),
    )
    if any(one.remedies for one in cures.mends.values()):
        yield Paragraph(f"Cures are proved. {PROVED}", "small")
    cut_short = [one for one in cures.mends.values() if one.cut_short]
    if cut_short:
        where = f"{len(cut_short)} of {len(found)}"
        yield Paragraph(f"Cures of {where}: {cut_short[0].cut_short} {_SEARCH}")


_SEARCH: Final = "standclear mend searches on without that limit."
_CURES: Final = 2
"""So many remedies of a breach are told on the first page; its sheet tells all."""


def _open(report: Report, name: str, *, every: bool) -> Iterator[Block]:
    found = [one for one in report.judgements if one.verdict == "open"]
    if not found:
        return
    yield Heading(2, f"Open ({len(found)})", f"{name}-open")
    yield Paragraph(
        "What is open is not met and not refused: a fact has to be stated by whoever "
        "answers for the design, or the authority having jurisdiction has to decide."
    )
    rows = [
        (
            called(one.subject, report.arrangement).replace(", ", "\n", 1),
            f"{asked(one)}\n{one.citation}",
            _to_state(one, units_of(report)),
            "",
        )
        for one in found
    ]
    yield Table(
        "What is open, and what must be said or decided",
        ("Item", "Requirement", "To be stated or decided", "Decision, by whom, date"),
        tuple(rows),
        (2, 3, 6, 3.5),
        tuple(_link(one, name, every=every) for one in found),
        frozenset({0}),
    )


def _to_state(judgement: Judgement, units: str) -> str:
    """Say what is missing, and what was measured of it."""
    said = judgement.missing or judgement.reason
    sizes = measured(judgement, units, said)
    return f"{said} Measured: {sizes}." if sizes else said


def _end(report: Report, name: str, cures: Cures) -> Iterator[Block]:
    # It goes on below the last sheet: else that may leave a page with two lines.
    yield Heading(2, "What this rests on", f"{name}-rests")
    yield from _met(report, name)
    yield from _tightest(report, name, cures)
    if report.no_place:
        yield Heading(3, "No place yet", f"{name}-no-place", listed=False)
        names = ", ".join(report.no_place)
        yield Paragraph(f"{names}: {no_place(len(report.no_place))}")
    if report.assumed:
        yield Heading(
            3, "Assumed, because nothing was said", f"{name}-assumed", listed=False
        )
        groups: dict[str, list[str]] = {}
        for one in report.assumed:
            groups.setdefault(one.what, []).append(called(one.item, report.arrangement))
        yield Points(tuple(f"{'; '.join(who)}: {what}" for what, who in groups.items()))
    overrides = [*_overrides(report)]
    if overrides:
        yield Heading(
            3, "Overrides, with their reasons", f"{name}-overrides", listed=False
        )
        yield Points(tuple(overrides))
    words = from_memory(report.unread)
    if words:
        yield Heading(3, "Values to verify", f"{name}-verify", listed=False)
        yield Paragraph(
            "These sentences and figures decide here and were not read in any source; "
            f"{words}."
        )
    yield Heading(3, "Caution", f"{name}-caution", listed=False)
    for line in CAUTION:
        yield Paragraph(line, "caution")
    yield Signature(("Name", "Licence", "Date", "Signature"))


def _met(report: Report, name: str) -> Iterator[Block]:
    met: dict[str, Counter[str]] = {}
    for one in report.judgements:
        if one.verdict == "met":
            met.setdefault(one.requirement, Counter())[one.subject] += 1
    if not met:
        return
    yield Heading(3, f"Met ({report.counts['met']})", f"{name}-met", listed=False)
    rows = []
    for requirement, counted in sorted(met.items()):
        who = [
            ("the room" if subject == ROOM else subject)
            + (f" ({times})" if times > 1 else "")
            for subject, times in counted.items()
        ]
        rows.append((requirement_words(requirement), ", ".join(who)))
    yield Table("What is met", ("Requirement", "At"), tuple(rows), (3, 9))
    exceptions = [
        f"{one.subject}, {asked(one).lower()}: {one.exception}"
        for one in report.judgements
        if one.verdict == "met" and one.exception
    ]
    if exceptions:
        yield Paragraph("Met by an exception:", "strong")
        yield Points(tuple(exceptions))


def _tightest(report: Report, name: str, cures: Cures) -> Iterator[Block]:
    """Tell how little what is met holds by, and what to measure again."""
    if not cures.tightest:
        return
    yield Heading(3, "The tightest of what is met", f"{name}-tightest", listed=False)
    units, arrangement = units_of(report), report.arrangement
    rows = tuple(
        (
            length(one.distance, units),
            called(one.thing, arrangement),
            f"{requirement_words(one.requirement)}: {called(one.subject, arrangement)}",
        )
        for one in cures.tightest
    )
    title = "How much nearer things may come before what is met fails"
    heads = ("By less than", "This may come nearer", "Before this fails")
    yield Table(title, heads, rows, (2.4, 4, 6))
    again = cures.again
    if again is not None:
        thing, subject = (
            called(one, arrangement) for one in (again.thing, again.subject)
        )
        yield Paragraph(
            f"Measure again: from {thing} to {subject}. What is left over there, "
            f"{length(again.distance, units)}, is less than the survey tolerance.",
            "strong",
        )


def _overrides(report: Report) -> Iterator[str]:
    scene = report.arrangement.scene if report.arrangement else None
    for item in scene.items if scene else ():
        said = []
        if item.working_space == "none":
            said.append("no working space")
        elif item.working_space != "auto":
            said.append("a working space of its own")
        if item.condition is not None:
            said.append(f"condition {item.condition}")
        for key in ("associated", "grounded", "foreign", "dead_front", "structural"):
            value = getattr(item, key)
            if value is not None:
                said.append(f"{key.replace('_', ' ')}: {'yes' if value else 'no'}")
        if said:
            why = f" ({item.why})" if item.why else ", no reason given"
            yield f"{called(item.id, report.arrangement)}: {', '.join(said)}{why}"
