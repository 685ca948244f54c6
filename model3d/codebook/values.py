"""From a value as it is written in a table to the value itself."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.codebook.entry import Content, Rows, Value
from model3d.codebook.errors import BookError, nearest, refuse_unknown, wrong
from model3d.codebook.figures import Figure, Mark, Row, worst
from model3d.codebook.lengths import read_length, read_pair
from model3d.codebook.marks import Ground, Marks, citation, read_marks, read_text

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from model3d.codebook.keys import Key

_MOST = 1e9
"""No voltage, current or angle of a code comes near it; nor does it overflow."""


def read_value(key: Key, raw: object, ground: Ground) -> Value:
    """Return one value with its citation.

    A value is written plainly, or as a table where it has a section or a mark of its
    own.

    Raises:
        BookError: It is no value of the key's kind, or nothing cites it.
    """
    where = f"{ground.where} {key.name}"
    own = raw if isinstance(raw, dict) else {}
    marks = read_marks(own["checked"], where) if "checked" in own else ground.marks
    section = ground.section
    if "section" in own:
        section = read_text(own["section"], where, "a section")
    if section is None:
        msg = f"{where}: no section; right would be the citation of this value"
        raise BookError(msg)
    content = _READERS[key.kind](key, raw, marks, where)
    return Value(content, citation(ground.book, section), _checked(content, marks))


def _checked(content: Content, marks: Marks) -> Mark:
    if isinstance(content, Figure):
        return content.checked("either")
    if isinstance(content, Rows):
        cells = (cell for row in content.rows for cell in row.cells)
        return worst(cell.checked("either") for cell in cells)
    return worst(marks)


def _length(_key: Key, raw: object, marks: Marks, where: str) -> Figure:
    if not isinstance(raw, dict):
        return read_length(raw, marks, where)
    refuse_unknown(raw, ("si", "inch_pound", "section", "checked"), where)
    return read_pair(raw.get("si"), raw.get("inch_pound"), marks, where)


def _number(_key: Key, raw: object, _marks: Marks, where: str) -> float:
    value = _volts(_plain(raw, where))
    if value is None or value == 0:
        raise wrong(_plain(raw, where), where, "a number above zero")
    return value


def _flag(_key: Key, raw: object, _marks: Marks, where: str) -> bool:
    value = _plain(raw, where)
    if not isinstance(value, bool):
        raise wrong(value, where, "true or false")
    return value


def _words(key: Key, raw: object, _marks: Marks, where: str) -> tuple[str, ...]:
    value = _plain(raw, where)
    if not isinstance(value, list):
        raise wrong(value, where, f"a list of {', '.join(key.one_of)}")
    words = [str(word) for word in value]
    for word in words:
        if word not in key.one_of:
            msg = f"{where}: {word!r} is not known there; {nearest(word, key.one_of)}"
            raise BookError(msg)
    if len(set(words)) < len(words):
        raise wrong(value, where, "each word once")
    return tuple(words)


def _rows(key: Key, raw: object, marks: Marks, where: str) -> Rows:
    if not isinstance(raw, list) or not raw:
        raise wrong(raw, where, "a list of rows, the lowest voltage first")
    rows = tuple(
        _row(key, line, marks, f"{where} row {place}")
        for place, line in enumerate(raw, start=1)
    )
    for below, row in pairwise(rows):
        if below.up_to != row.above:
            raise wrong(row.above, where, f"above = {below.up_to:g}, where a row ends")
    return Rows(rows)


def _row(key: Key, raw: object, marks: Marks, where: str) -> Row:
    if not isinstance(raw, dict):
        raise wrong(raw, where, "{ above, up_to, si, inch_pound }")
    refuse_unknown(raw, ("above", "up_to", "si", "inch_pound", "checked"), where)
    if "checked" in raw:
        marks = read_marks(raw["checked"], where)
    above = _volts(raw.get("above"))
    up_to = _volts(raw["up_to"]) if "up_to" in raw else math.inf
    if above is None or up_to is None or above >= up_to:
        raise wrong(raw, where, "above and up_to in volts, rising")
    metric = _cells(key, raw.get("si"), where)
    imperial = _cells(key, raw.get("inch_pound"), where)
    pairs = zip(metric, imperial, strict=True)
    return Row(above, up_to, tuple(read_pair(*pair, marks, where) for pair in pairs))


def _cells(key: Key, raw: object, where: str) -> list[object]:
    count = len(key.columns)
    if raw is None:
        return [None] * count
    if not isinstance(raw, list) or len(raw) != count:
        raise wrong(raw, where, f"{count} lengths: {', '.join(key.columns)}")
    return raw


def _volts(raw: object) -> float | None:
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        return None
    return float(raw) if 0 <= raw <= _MOST else None


def _plain(raw: object, where: str) -> object:
    if not isinstance(raw, dict):
        return raw
    refuse_unknown(raw, ("value", "section", "checked"), where)
    return raw.get("value")


_READERS: Final[Mapping[str, Callable[[Key, object, Marks, str], Content]]] = {
    "length": _length,
    "number": _number,
    "flag": _flag,
    "words": _words,
    "rows": _rows,
}
