"""What the rule books print, one line a value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.codebook import VoltageRow, read_table
from model3d.codebook.entry import Entry, Value, VoltageRows
from model3d.codebook.figures import PrintedFigure, worst

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.codebook import Mark, RuleBook
    from model3d.codebook.written.keys import Key

VERIFY: Final = "verify against the adopted code"
"""The note beside a value from memory."""


@dataclass(frozen=True, slots=True)
class ValueLine:
    """One printed value of one rule book.

    Attributes:
        table: Name of the table.
        key: Key in the table; empty where the book has no such rule.
        about: What the value means, for people.
        text: The value in both systems as printed, or why there is none.
        citation: Book and section that say it.
        checked: How it was checked.
        note: A warning where it is from memory, else empty.
    """

    table: str
    key: str
    about: str
    text: str
    citation: str
    checked: Mark
    note: str


def values(book: RuleBook, tables: Iterable[str]) -> tuple[ValueLine, ...]:
    """Return what a rule book prints in some tables, one line a value.

    Raises:
        BookError: There is no such table.
    """
    return tuple(line for table in tables for line in _lines(book.entry(table), table))


def _lines(entry: Entry, table: str) -> Iterator[ValueLine]:
    keys = read_table(table).keys
    if entry.absent is not None:
        mark, why = entry.marked, entry.absent
        note = _note(mark, mark)
        yield ValueLine(table, "", "no such rule", why, entry.citation, mark, note)
    for name, value in entry.values.items():
        if entry.absent is not None and not keys[name].apart:
            # It is printed, but does not bind an installation of that day.
            continue
        for about, text, si, inch_pound in _texts(keys[name], value):
            mark, note = worst((si, inch_pound)), _note(si, inch_pound)
            yield ValueLine(table, name, about, text, value.citation, mark, note)


def _note(si: Mark, inch_pound: Mark) -> str:
    match si, inch_pound:
        case "memory", "memory":
            return VERIFY
        case "memory", _:
            return f"SI: {VERIFY}"
        case _, "memory":
            return f"inch-pound: {VERIFY}"
        case _:
            return ""


def _texts(key: Key, value: Value) -> Iterator[tuple[str, str, Mark, Mark]]:
    """Yield meaning, words and both marks of a value; of a voltage table, one a row."""
    mark = value.checked
    match value.content:
        case VoltageRows(rows):
            columns = f": {'; '.join(key.columns)}" if len(key.columns) > 1 else ""
            for row in rows:
                si = worst(cell.checked_si for cell in row.cells)
                inch_pound = worst(cell.checked_inch_pound for cell in row.cells)
                text = "; ".join(cell.text for cell in row.cells)
                yield f"{_volts(row)} {key.volts}{columns}", text, si, inch_pound
        case PrintedFigure() as figure:
            yield key.about, figure.text, figure.checked_si, figure.checked_inch_pound
        case bool() as flag:
            yield key.about, "yes" if flag else "no", mark, mark
        case float() as number:
            yield key.about, f"{number:g} {key.unit}".strip(), mark, mark
        case words:
            yield key.about, ", ".join(words) or "all", mark, mark


def _volts(row: VoltageRow) -> str:
    """Name the voltages of a row.

    >>> rows = (0, 150), (150, 600), (75e3, 1e999)
    >>> tuple(_volts(VoltageRow(*row, ())) for row in rows)
    ('up to 150 V', 'over 150 to 600 V', 'over 75000 V')
    """
    if row.above == 0:
        return f"up to {row.up_to:.0f} V"
    if row.up_to == float("inf"):
        return f"over {row.above:.0f} V"
    return f"over {row.above:.0f} to {row.up_to:.0f} V"
