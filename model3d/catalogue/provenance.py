"""Where a required figure comes from: the cell of the table, its section, its check."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

from model3d.catalogue.rule_pages import rule_pages
from model3d.codebook import Mark, PrintedFigure, load_book
from model3d.codebook.entry import VoltageRows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry, RuleBook
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement

CHECKED: Final[dict[Mark, str]] = {
    "read": "read in the source",
    "copy": "read in a copy of the source",
    "memory": "from memory",
}
"""How a value was checked, in words."""


@dataclass(frozen=True, slots=True)
class Source:
    """One printed figure that a judgement rests on.

    Attributes:
        size: Which size it is: depth, width, reach ...
        about: What the figure is, or which cell of a table.
        printed: As the rule book prints it, in both systems where it does.
        citation: Book and section.
        checked: How it was checked, in words.
    """

    size: str
    about: str
    printed: str
    citation: str
    checked: str


@dataclass(frozen=True, slots=True)
class Provenance:
    """The rule book of a report, asked where its figures come from.

    Attributes:
        name: The book's name in full.
        amends: Id of the book that it amends; "" where it amends none.
    """

    name: str
    amends: str
    _book: RuleBook

    def sources(self, judgement: Judgement, volts: float | None) -> tuple[Source, ...]:
        """Return the printed figures that a judgement's required sizes are.

        Args:
            judgement: With the sizes as printed.
            volts: To ground, of its subject, where that is known.
        """
        found: dict[Source, None] = {}
        for table in _tables().get(judgement.requirement, ()):
            entry = self._book.entry(table)
            if entry.given:
                found.update(dict.fromkeys(_figures(entry, judgement, volts)))
        return tuple(found)

    def condition_name(self, judgement: Judgement, volts: float | None) -> str:
        """Return the condition that decides a figure as the book calls it, or "".

        Args:
            judgement: With its condition.
            volts: To ground, of its subject: where every condition has the same depth
                at that, none decides.
        """
        if judgement.condition is None or volts is None:
            return ""
        for table in _tables().get(judgement.requirement, ()):
            entry = self._book.entry(table)
            if not entry.given or not entry.has(_NAMES):
                continue
            row = entry.row(volts)
            if row.above < volts <= row.up_to:
                cells = {cell.texts for cell in row.cells}
                name = entry.words(_NAMES)[judgement.condition - 1]
                return name if len(cells) > 1 else ""
        return str(judgement.condition)


def provenance(report: Report) -> Provenance | None:
    """Return the rule book that a report was made by; None where it is not known."""
    scene = report.arrangement.scene if report.arrangement else None
    if scene is None:
        return None
    folder = scene.file.parent if scene.file else None
    book = load_book(scene.rules, folder, installed=scene.installed)
    amends = book.base if book.base != book.id else ""
    return Provenance(book.name, amends, book)


_NAMES: Final = "condition_names"


@cache
def _tables() -> dict[str, tuple[str, ...]]:
    return {page.name: page.tables for page in rule_pages()}


def _figures(
    entry: Entry, judgement: Judgement, volts: float | None
) -> Iterator[Source]:
    for size, texts in judgement.printed.items():
        for name, value in entry.values.items():
            match value.content:
                case PrintedFigure() as figure if set(figure.texts) == set(texts):
                    yield _source(size, name, figure, value.citation)
                case VoltageRows() if volts is not None or len(value.content.rows) == 1:
                    yield from _cell(entry, judgement, size, volts or 0.0)
                case _:
                    pass


def _cell(
    entry: Entry, judgement: Judgement, size: str, volts: float
) -> Iterator[Source]:
    row = entry.row(volts)
    place = (judgement.condition or 1) - 1
    cells = row.cells if judgement.condition is None else row.cells[place : place + 1]
    texts = set(judgement.printed[size])
    found = [cell for cell in cells if set(cell.texts) == texts]
    if not found:
        return
    about = f"up to {row.up_to:.0f} V to ground"
    if row.above > 0:
        ends = f"over {row.above:.0f}"
        about = f"{ends} V to ground"
        if row.up_to != float("inf"):
            about = f"{ends} to {row.up_to:.0f} V to ground"
    if judgement.condition is not None and len({cell.texts for cell in row.cells}) > 1:
        names = entry.words(_NAMES) if entry.has(_NAMES) else ("1", "2", "3")
        about = f"{about}, condition {names[place]}"
    yield _source(size, about, found[0], entry.cite("rows"))


def _source(size: str, about: str, figure: PrintedFigure, citation: str) -> Source:
    marks = {figure.checked_si, figure.checked_inch_pound}
    said = CHECKED[figure.checked_si]
    if len(marks) > 1:
        said = (
            f"SI: {CHECKED[figure.checked_si]}; "
            f"inch-pound: {CHECKED[figure.checked_inch_pound]}"
        )
    return Source(size, about.replace("_", " "), figure.text, citation, said)
