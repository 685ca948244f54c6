"""From a value as it is written in a table to the value itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Annotated, Any, Final

from pydantic import (
    AfterValidator,
    Field,
    PlainValidator,
    TypeAdapter,
    ValidationInfo,
    model_validator,
)

from model3d.codebook.entry import Content, Value, VoltageRows
from model3d.codebook.errors import BookError, refuse_unknown, wrong
from model3d.codebook.figures import PrintedFigure, VoltageRow, worst
from model3d.codebook.written.lengths import InchPound, Length, Metric, figure
from model3d.codebook.written.models import (
    CHECKED,
    Checked,
    Marks,
    Section,
    Written,
    read,
    right,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.figures import Mark
    from model3d.codebook.written.keys import Key

_MOST = 1e9
"""No voltage, current or angle of a code comes near it; nor does it overflow."""


@dataclass(frozen=True, slots=True)
class Backing:
    """What a value stands on where it does not say so itself.

    Attributes:
        book: Name that opens the citation.
        section: Section of the block, if it names one.
        marks: How the block was checked.
    """

    book: str
    section: str | None
    marks: Marks

    def cite(self, section: str | None = None) -> str:
        """Join the name of the book and a section of it, or the block's own.

        >>> Backing("29 CFR 1910.303", None, Marks("read", "read")).cite("(g)(1)(ii)")
        '29 CFR 1910.303(g)(1)(ii)'
        >>> Backing("NEC 2023", "110.26(B)", Marks("read", "read")).cite()
        'NEC 2023 110.26(B)'
        """
        place = section or self.section or ""
        return f"{self.book}{place and ' ' * (place[0] != '(')}{place}"


def read_value(key: Key, raw: object, ground: Backing, where: str) -> Value:
    """Return one value with its citation.

    Raises:
        BookError: It is no value of the key's kind, or nothing cites it.
    """
    written = read(_KINDS[key.kind], raw, where, key)
    marks, section = ground.marks, ground.section
    if isinstance(written, tuple):
        content: Content = VoltageRows(tuple(line.row(marks) for line in written))
    else:
        marks, section = written.checked or marks, written.section or section
        content = written.content(marks)
    if section is None:
        msg = f"{where}: no section; right would be the citation of this value"
        raise BookError(msg)
    return Value(content, ground.cite(section), _checked(content, marks))


def passed_on(raw: object, limit: Marks) -> object:
    """Return a value for another edition: no mark on it is better than the limit."""
    if isinstance(raw, list):
        return [passed_on(one, limit) for one in raw]
    if isinstance(raw, dict) and "checked" in raw:
        own = CHECKED.validate_python(raw["checked"])
        return {**raw, "checked": own.under(limit)._asdict()}
    return raw


def _checked(content: Content, marks: Marks) -> Mark:
    if isinstance(content, PrintedFigure):
        return content.checked("either")
    if isinstance(content, VoltageRows):
        cells = (cell for row in content.rows for cell in row.cells)
        return worst(cell.checked("either") for cell in cells)
    return worst(marks)


class _Single(Written):
    section: Section | None = None
    checked: Checked | None = None
    value: Any

    @model_validator(mode="before")
    @classmethod
    def _spelled_out(cls, raw: object) -> object:
        return {"value": None, **raw} if isinstance(raw, dict) else {"value": raw}

    def content(self, _marks: Marks) -> Any:  # noqa: ANN401 - whatever it must be
        return self.value


class _Number(_Single):
    value: Annotated[float, Field(gt=0, le=_MOST), right("a number above zero")]


class _Flag(_Single):
    value: Annotated[bool, right("true or false")]


def _of_these(raw: object, info: ValidationInfo[Key]) -> tuple[str, ...]:
    known = info.context.one_of
    if not isinstance(raw, list):
        raise wrong(raw, f"a list of {', '.join(known)}")
    words = tuple(map(str, raw))
    refuse_unknown(words, known)
    if len(set(words)) < len(words):
        raise wrong(raw, "each word once")
    return words


class _Words(_Single):
    value: Annotated[Any, PlainValidator(_of_these)]


def _one_a_column(cells: tuple[Any, ...], info: ValidationInfo[Key]) -> tuple[Any, ...]:
    columns = info.context.columns
    if len(cells) != len(columns):
        raise wrong(list(cells), f"{len(columns)} lengths: {', '.join(columns)}")
    return cells


_CELLS: Final = (
    Field(strict=False),
    AfterValidator(_one_a_column),
    right("a list of lengths"),
)
_Volts = Annotated[float, Field(ge=0, le=_MOST), right("volts, rising")]


class _Line(Written):
    above: _Volts
    up_to: _Volts = math.inf
    si: Annotated[tuple[Metric, ...], *_CELLS] = ()
    inch_pound: Annotated[tuple[InchPound, ...], *_CELLS] = ()
    checked: Checked | None = None

    @model_validator(mode="after")
    def _is_a_row(self) -> _Line:
        if self.above >= self.up_to:
            raise wrong(self.above, "above and up_to in volts, rising")
        self.row(Marks("read", "read"))
        return self

    def row(self, marks: Marks) -> VoltageRow:
        none = (None,) * max(len(self.si), len(self.inch_pound), 1)
        pairs = zip(self.si or none, self.inch_pound or none, strict=True)
        cells = tuple(figure(*pair, self.checked or marks) for pair in pairs)
        return VoltageRow(self.above, self.up_to, cells)


def _joined(lines: tuple[_Line, ...]) -> tuple[_Line, ...]:
    for below, line in pairwise(lines):
        if below.up_to != line.above:
            raise wrong(line.above, f"above = {below.up_to:g}, where a row ends")
    return lines


_Lines = Annotated[
    tuple[Annotated[_Line, right("{ above, up_to, si, inch_pound }")], ...],
    Field(strict=False, min_length=1),
    AfterValidator(_joined),
    right("a list of rows, the lowest voltage first"),
]
_KINDS: Final[Mapping[str, TypeAdapter[Any]]] = {
    "length": TypeAdapter(Length),
    "number": TypeAdapter(_Number),
    "flag": TypeAdapter(_Flag),
    "words": TypeAdapter(_Words),
    "rows": TypeAdapter(_Lines),
}
