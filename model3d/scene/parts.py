"""What every written part of a scene has in common: strict keys and plain values."""

from __future__ import annotations

import datetime as dt
import re
from typing import Annotated, Any, Final

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from model3d.units import check_length


class Part(BaseModel):
    """A written part of a scene: frozen, and no key that is not known.

    The text below each field is its description in the file format's schema, which
    reads it from the source when it is asked for; to have pydantic do so would cost
    every start of the program.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


LENGTH_PATTERN: Final = (
    r"^\s*[-+]?\s*(\d+\s+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)\s*"
    r"(mm|m|in|ft|'|\")?"
    r"(\s*-?\s*(\d+\s+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)\s*(in|\"))?\s*$"
)
"""What a written length looks like to an editor; reading it is stricter."""
_NO_SIGN: Final = LENGTH_PATTERN.replace("[-+]?", r"\+?")


def _any_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value)


def _positive_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value, above_zero=True)


def _not_negative_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value, not_below_zero=True)


def _length_schema(pattern: str, **limits: float) -> WithJsonSchema:
    number = {"type": "number", **limits}
    return WithJsonSchema({"anyOf": [number, {"type": "string", "pattern": pattern}]})


Length = Annotated[
    float | str, BeforeValidator(_any_length), _length_schema(LENGTH_PATTERN)
]
"""A length as written; it may be negative. A bare number is in the scene's units."""
PositiveLength = Annotated[
    float | str,
    BeforeValidator(_positive_length),
    _length_schema(_NO_SIGN, exclusiveMinimum=0),
]
"""A length as written, above zero."""
Distance = Annotated[
    float | str,
    BeforeValidator(_not_negative_length),
    _length_schema(_NO_SIGN, minimum=0),
]
"""A length as written, zero or more."""
Point2 = tuple[Length, Length]
"""x, y."""
Point3 = tuple[Length, Length, Length]
"""x, y, z."""
Size3 = tuple[PositiveLength, PositiveLength, PositiveLength]
"""Width, depth, height."""


def _number_as_text(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    is_whole = isinstance(value, int) and not isinstance(value, bool)
    return str(value) if is_whole else value


_SHORT_TEXT: Final = {"type": "string", "minLength": 1, "maxLength": 100}
_TEXT_OR_WHOLE: Final = WithJsonSchema({"anyOf": [_SHORT_TEXT, {"type": "integer"}]})
Name = Annotated[
    str,
    BeforeValidator(_number_as_text),
    Field(min_length=1, max_length=100),
    _TEXT_OR_WHOLE,
]
"""An id, or the id of something else. A plain whole number is its text: 1 is "1"."""
Words = Annotated[str, Field(min_length=1, max_length=10_000)]
"""Text for people."""
Flag = Annotated[bool, Field(strict=True)]
"""true or false, and nothing that might be taken for it."""
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
"""A finite number."""
Angle = Annotated[Number, Field(ge=-360, le=360)]
"""Degrees."""

_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)


def _day(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    msg = "a date such as 2024-05-01"
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value
    if not isinstance(value, str) or not _DAY.fullmatch(value):
        raise ValueError(msg)
    try:
        return dt.date.fromisoformat(value)
    except ValueError:
        raise ValueError(msg) from None


Day = Annotated[dt.date, BeforeValidator(_day)]
"""A calendar day, year first."""
