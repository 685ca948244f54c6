"""Tables for notebooks: HTML that needs nothing around it."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_COLOURS: Final = {"not-met": "#b3261e", "open": "#8a5a00", "met": "#1b6e3c"}
"""Dark enough to be read on white; the words say the same."""
_SHORT: Final = 40
"""Characters of a cell that stays on one line."""
_CELL: Final = "text-align: left; vertical-align: top; padding: 2px 10px 2px 0"


def html_table(
    title: str,
    columns: Sequence[str],
    rows: Iterable[Sequence[object]],
    notes: Iterable[str] = (),
) -> str:
    """Return a table with a title above it and notes below.

    Args:
        title: What it is.
        columns: The names of the columns.
        rows: Cells as they are told; None is an empty one. A verdict is coloured.
        notes: What must be read with it.
    """
    head = "".join(f'<th style="{_CELL}">{escape(name)}</th>' for name in columns)
    body = "".join(f"<tr>{''.join(map(_cell, row))}</tr>" for row in rows)
    below = "".join(f"<div><small>{escape(note)}</small></div>" for note in notes)
    return (
        f"<div><strong>{escape(title)}</strong></div>"
        f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>{below}"
    )


def _cell(value: object) -> str:
    text = "" if value is None else _written(value)
    colour = _COLOURS.get(text)
    look = f"{_CELL}; color: {colour}; font-weight: bold" if colour else _CELL
    if len(text) <= _SHORT:
        look += "; white-space: nowrap"
    return f'<td style="{look}">{escape(text)}</td>'


def _written(value: object) -> str:
    """Write a value as people do.

    >>> _written(900.0), _written((1.0, "6 ft")), _written({"amps": 225.0})
    ('900', '1, 6 ft', 'amps 225')
    """
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, dict):
        return ", ".join(f"{key} {_written(one)}" for key, one in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(_written(one) for one in value)
    return str(value)
