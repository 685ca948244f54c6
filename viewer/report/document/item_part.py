"""The sheet of one item: what it is, what is asked, what is there, and the drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.catalogue.provenance import provenance
from model3d.wording import length
from model3d.wording.said import lowered, say
from viewer.figure.item.rack_front import rack_figure
from viewer.figure.item.reach_detail import reach_figure, reaching
from viewer.figure.item.three_sides import ALL, item_figure
from viewer.figure.plans.ways_sheet import way_figures
from viewer.figure.things.subject import subject_of
from viewer.report.document.content import (
    Drawing,
    Heading,
    Pairs,
    Paragraph,
    Points,
    Table,
)
from viewer.report.rows import (
    asked,
    called,
    cure_words,
    size_rows,
    verdict_words,
    way_words,
)
from viewer.wording.shortfall import REACH
from viewer.wording.words import units_of, why_open

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Judgement, Report
    from model3d.catalogue.provenance import Provenance, Source
    from model3d.mending.remedies import Mend
    from model3d.scene.parts.item import Item
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Placed
    from viewer.report.document.content import Block
    from viewer.report.document.cures import Cures

_HIGH: Final = 162.0
"""Millimetres of height that an item's drawing takes at most."""
_DETAIL: Final = 95.0
"""Millimetres of height that a detail takes at most."""
_ORDER: Final = {"not-met": 0, "open": 1, "met": 2}


def item_blocks(
    report: Report, subject: str, name: str, width: float, cures: Cures
) -> Iterator[Block]:
    """Yield the sheet of one subject.

    Args:
        report: What the check answered.
        subject: Id of the item, the door or the room.
        name: Anchor of the sheet.
        width: Of its drawings, millimetres.
        cures: What is proved to put the room right.
    """
    arrangement, units = report.arrangement, units_of(report)
    drawings = [*_drawings(report, subject, width)]
    # What has no drawing is short: it needs no page of its own.
    new_page = bool(drawings)
    yield Heading(2, called(subject, arrangement), name, new_page=new_page)
    placed = arrangement.items.get(subject) if arrangement else None
    judged = [one for one in report.judgements if one.subject == subject]
    judged.sort(key=lambda one: _ORDER[one.verdict])
    told = [one for one in judged if one.verdict != "met"]
    for one in told:
        words = f"{asked(one)}: {verdict_words(one)}, {one.citation}. {why_open(one)}"
        yield Paragraph(words, "strong" if drawings else "question")
        yield from _cures(cures.of(one))
    yield from drawings
    if placed is not None and placed.item is not None and arrangement is not None:
        yield Pairs(tuple(_inputs(placed, placed.item, arrangement.scene)))
    measured = [
        one
        for one in judged
        if one.required and (one.provided or one.verdict == "not-met")
    ]
    if measured:
        yield _table(measured, units, report)
    plain = [one for one in judged if one not in measured]
    if plain:
        words = "; ".join(f"{asked(one)}: {verdict_words(one)}" for one in plain)
        yield Paragraph(f"Judged without a measured figure: {words}.")
    book = provenance(report)
    if book is not None:
        yield from _origins(told or judged, book, placed, name)


def _cures(mend: Mend | None) -> Iterator[Block]:
    """Yield what cures a breach."""
    words = cure_words(mend)
    if mend is None or not words:
        return
    if not mend.remedies:
        yield Paragraph(say("What cures it: {}", lowered(words[0])), "lead")
        return
    yield Paragraph("What cures it, the smallest change first:")
    yield Points(words)


def _drawings(report: Report, subject: str, width: float) -> Iterator[Block]:
    """Yield the item's views, its details, and its way out if in question."""
    drawn = subject_of(report, subject) if report.arrangement else None
    if drawn is not None and drawn.judgements:
        yield Drawing(item_figure(drawn, ALL, width, _HIGH))
        if reaching(drawn) is not None:
            yield Drawing(reach_figure(drawn, width, _DETAIL))
    if drawn is not None and drawn.placed.item and drawn.placed.item.tiers:
        yield Drawing(rack_figure(drawn, width, _DETAIL))
    for figure in way_figures(report, subject, width):
        yield Drawing(figure)


def _decisive(judgement: Judgement, found: tuple[Source, ...]) -> Iterator[Source]:
    """Yield one source a size: the sentence cited, else the cell, else the first.

    Other sentences may print the same figure and do not apply.
    """
    for size in dict.fromkeys(one.size for one in found):
        mine = [one for one in found if one.size == size]
        cited = [one for one in mine if one.citation == judgement.citation]
        cells = [one for one in mine if "to ground" in one.about]
        yield (cited or cells or mine)[0]


def _inputs(placed: Placed, item: Item, scene: Scene) -> Iterator[tuple[str, str]]:
    units = scene.units
    yield "Kind", placed.kind.about
    low, high = placed.solid.bounds
    if placed.front is not None:
        front = placed.front
        sizes = (front.width, front.depth, front.top - front.bottom)
    else:
        sizes = (high[0] - low[0], high[1] - low[1], high[2] - low[2])
    names = ("Width", "Depth", "Height")
    yield from (
        (name, length(size, units)) for name, size in zip(names, sizes, strict=True)
    )
    yield "Underside", f"{length(low[2], units)} up" if low[2] > 0 else "on the floor"
    yield from _supply(placed, item)
    yield from _stated(item, scene)


def _supply(placed: Placed, item: Item) -> Iterator[tuple[str, str]]:
    supply = item.supply
    if supply is None:
        if placed.live:
            yield "Supply", "not stated"
        return
    if supply.system is not None:
        yield "Supply", supply.system
    if supply.volts is not None:
        yield "Voltage to ground", f"{supply.volts:.0f} V"
    if supply.amps is not None:
        yield "Rating", f"{supply.amps:g} A"


def _stated(item: Item, scene: Scene) -> Iterator[tuple[str, str]]:
    if item.doors is not None:
        count = len(item.doors)
        yield "Doors", f"{count} {'leaf' if count == 1 else 'leaves'}"
    elif item.door is not None:
        yield (
            "Doors",
            {
                "left": "one leaf, hinged left",
                "right": "one leaf, hinged right",
                "pair": "a pair of leaves",
                "bolted": "bolted cover",
                "none": "none",
            }[item.door],
        )
    if item.rear is not None:
        yield "Rear", item.rear.replace("-", " ")
    if item.handle is not None:
        words = length(scene.metres(item.handle), scene.units)
        yield "Handle", f"{words} above its underside"
    if item.service is not None:
        yield "Service equipment", "yes" if item.service else "no"
    if item.line_up is not None:
        yield "Line-up", item.line_up
    if item.top_clearance is not None:
        yield "Maker's clearance", length(scene.metres(item.top_clearance), scene.units)


def _table(judged: list[Judgement], units: str, report: Report) -> Table:
    rows = []
    for one in judged:
        sizes = enumerate(size_rows(one, units))
        for number, (size, needed, there, margin) in sizes:
            head = asked(one) if number == 0 else ""
            rows.append(
                (
                    head,
                    verdict_words(one) if number == 0 else "",
                    size,
                    needed,
                    there,
                    margin,
                    way_words(one, report, units) if number == 0 else "",
                )
            )
    return Table(
        "Required and there",
        ("Requirement", "Verdict", "Size", "Required", "There", "Margin", "In the way"),
        tuple(rows),
        (2.4, 1.4, 1.3, 2.5, 3.2, 3.2, 2.1),
        strong=frozenset({1}),
    )


def _origins(
    told: list[Judgement], book: Provenance, placed: Placed | None, name: str
) -> Iterator[Block]:
    """Say how each requirement came about."""
    yield Heading(3, "How the requirements came about", f"{name}-why", listed=False)
    points = []
    for one in told:
        parts = [f"{asked(one)}: decided by {one.citation}."]
        volts = placed.volts if placed else None
        decides = one.short != REACH and one.condition is not None
        if decides and volts is not None:
            condition = book.condition_name(one, volts)
            named = f", condition {condition}" if condition else ""
            parts.append(f"Voltage to ground {volts:.0f} V{named}.")
        parts += [
            f"{source.size.capitalize()} {source.printed} ({source.about}): "
            f"{source.citation}, {source.checked}."
            for source in _decisive(one, book.sources(one, volts))
        ]
        if one.exception:
            parts.append(f"Rests on an exception: {one.exception}.")
        points.append(" ".join(parts))
    yield Points(tuple(points))
