"""What is not met, as the rows of a table that fits the window."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from itertools import chain
from typing import TYPE_CHECKING, Final

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from model3d.judging.results import ANGLE
from model3d.wording import lengths
from model3d.wording.said import say
from viewer.wording.alike import listed, told_once
from viewer.wording.cleaning import clean
from viewer.wording.shortfall import in_the_way, shortfall
from viewer.wording.sizes import NOTHING, deciding, lacking, required
from viewer.wording.words import part_words, units_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d import Judgement, Report
    from viewer.wording.shortfall import Shortfall

LONGEST_NAME: Final = 40
"""Characters of an id that are shown."""
LONGEST_REASON: Final = 2000
"""Characters of a reason that are shown."""
LONGEST_LINE: Final = 120
"""Columns; longer lines of prose are hard to read."""

_HEADS: Final = ("Item", "Requirement", "Required", "Provided", "Short by")
_LAST: Final = "In the way"
_WIDEST_ITEM: Final = 16
_NARROWEST_LAST: Final = 16
"""Columns. With less than that left, the cells stand one below the other."""
_GAP: Final = 2
_MOST_NAMED: Final = 3
"""So many things in the way are named."""

Repeated = frozenset[tuple[str, str]]
"""Subjects and requirements of which there are several judgements."""


@dataclass(frozen=True, slots=True)
class NotMetRow:
    """One judgement that is not met, in words, or several in the same words.

    Attributes:
        item: Id of the item, or of each.
        requirement: The requirement, and which size, leaf or tier of it.
        sizes: Required, provided and short by: each in the scene's own system, then
            in the other.
        way: What is in the way.
        why: Citation and reason.
    """

    item: str
    requirement: tuple[str, str]
    sizes: tuple[tuple[str, str], ...]
    way: tuple[str, ...]
    why: str

    @property
    def cells(self) -> tuple[tuple[str, ...], ...]:
        """The lines of every cell, as the columns have it."""
        return ((self.item,), self.requirement, *self.sizes, self.way)

    @property
    def words(self) -> tuple[str, ...]:
        """All that is said of the item, the reason last."""
        return (*chain.from_iterable(self.cells[1:]), self.why)


def repeated(report: Report) -> Repeated:
    """Return what is judged several times: by leaf, or by tier."""
    times = Counter((one.subject, one.requirement) for one in report.judgements)
    return frozenset(pair for pair, count in times.items() if count > 1)


def which(judgement: Judgement, several: Repeated) -> str:
    """Say which side is meant; which leaf or tier, where there are several."""
    one = judgement
    if (one.subject, one.requirement) in several:
        return part_words(one.leaf, one.tier, one.side)
    return one.side or ""


def not_met_rows(report: Report) -> list[NotMetRow]:
    """Return what is not met, in the report's order; what is the same as one row."""
    units, several = units_of(report), repeated(report)
    rows = (
        _row(judgement, units, which(judgement, several))
        for judgement in report.judgements
        if judgement.verdict == "not-met"
    )
    told = ((row.item, row, row.words) for row in rows)
    return [
        replace(same[0], item=listed(row.item for row in same), why=words[-1])
        for same, words in told_once(told)
    ]


def _row(judgement: Judgement, units: str, part: str) -> NotMetRow:
    short = shortfall(judgement)
    size = short.size if short else ""
    named = deciding(judgement, size)
    way = [clean(one) for one in in_the_way(judgement, size, units)]
    more = len(way) - _MOST_NAMED
    if more > 0:
        way[_MOST_NAMED:] = [f"and {more} more"]
    return NotMetRow(
        item=clean(judgement.subject, LONGEST_NAME),
        requirement=(judgement.requirement, ", ".join(filter(None, (named, part)))),
        sizes=_sizes(judgement, short, units),
        way=tuple(way),
        why=say(
            "{}: {}", clean(judgement.citation), clean(judgement.reason, LONGEST_REASON)
        ),
    )


def _sizes(
    judgement: Judgement, short: Shortfall | None, units: str
) -> tuple[tuple[str, str], ...]:
    if short is None:
        return (("", ""),) * 3
    if short.size == ANGLE:
        values = (short.required, short.provided or 0.0, short.by)
        return tuple((f"{round(value, 2):g} degrees", "") for value in values)
    needed, printed_too = required(judgement, short.size, units)
    metres = short.provided
    there = (NOTHING, "") if metres is None else _both(metres, units)
    by, by_other = lacking(judgement, short, units)
    by_too = f"({by_other})" if by_other else ""
    if short.most:
        needed, by = say("at most {}", needed), f"{by} {short.too}"
    return (needed, f"({printed_too})" if printed_too else ""), there, (by, by_too)


def _both(metres: float, units: str) -> tuple[str, str]:
    own, other = lengths(metres, units)
    return own, f"({other})"


def row_tables(rows: Sequence[NotMetRow], width: int) -> Iterator[RenderableType]:
    """Lay out rows as a table; in a narrow window with the cells below one another."""
    columns = _columns(rows)
    left = width - sum(columns) - _GAP * len(columns)
    if left < 0:
        for number, row in enumerate(rows):
            yield from [""] if number else []
            yield from _stacked(row)
        return
    has_last = left >= _NARROWEST_LAST
    heads = (*_HEADS, _LAST) if has_last else _HEADS
    yield _line([Text(head, style="underline") for head in heads], columns)
    for number, row in enumerate(rows):
        yield from [""] if number else []
        cells = [Text("\n".join(filter(None, lines))) for lines in row.cells]
        cells[0].stylize("bold")
        yield _line(cells[: len(heads)], columns)
        yield _why("" if has_last else _in_words(row), row, columns[0] + _GAP, width)


def _in_words(row: NotMetRow) -> str:
    return f"{_LAST}: {', '.join(row.way)}. " if row.way else ""


def _columns(rows: Sequence[NotMetRow]) -> list[int]:
    """Return how wide each column but the last must be, in cells."""
    lines = [
        [head, *chain.from_iterable(row.cells[place] for row in rows)]
        for place, head in enumerate(_HEADS)
    ]
    widths = [max(Text(line).cell_len for line in column) for column in lines]
    return [min(widths[0], _WIDEST_ITEM), *widths[1:]]


def _line(cells: Sequence[Text], columns: Sequence[int]) -> RenderableType:
    table = Table.grid(padding=(0, _GAP, 0, 0), pad_edge=False)
    for column in columns:
        table.add_column(width=column, overflow="fold")
    table.add_column(overflow="fold")
    table.add_row(*cells)
    return table


def _stacked(row: NotMetRow) -> Iterator[RenderableType]:
    name = ", ".join(filter(None, row.requirement))
    yield Text.assemble((row.item, "bold"), f" {name}", overflow="fold")
    table = Table.grid(padding=(0, _GAP, 0, 0), pad_edge=False)
    table.add_column(width=len(_LAST))
    table.add_column(overflow="fold")
    for head, lines in zip(_HEADS[2:], row.sizes, strict=True):
        if any(lines):
            table.add_row(head, " ".join(lines))
    if row.way:
        table.add_row(_LAST, Text(", ".join(row.way)))
    yield Padding(table, (0, 0, 0, _GAP))
    yield _why("", row, _GAP, LONGEST_LINE)


def _why(before: str, row: NotMetRow, indent: int, width: int) -> RenderableType:
    right = max(0, width - LONGEST_LINE)
    return Padding(Text(before + row.why, overflow="fold"), (0, right, 0, indent))
