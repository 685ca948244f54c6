"""What every written part of a scene has in common: strict keys and plain values."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator  # noqa: TC003 - others ask for the types
from keyword import iskeyword
from typing import Annotated, Any, ClassVar, Final

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    WithJsonSchema,
)

from model3d.scene.words.seen import unseen
from model3d.units import check_length


class Part(BaseModel):
    """A written part of a scene: frozen, and no key that is not known.

    The text below each field is its description in the file format's schema, which
    reads it from the source when it is asked for; to have pydantic do so would cost
    every start of the program.

    Raises:
        SceneError: One made in Python has mistakes; all of them are in it.
    """

    # What checks a scene is built once, with the first scene, and not for every part
    # of it when the program starts.
    model_config = ConfigDict(
        frozen=True, extra="forbid", populate_by_name=True, defer_build=True
    )

    refusal: ClassVar[
        Callable[[ValidationError, type[Part], dict[str, Any]], Exception]
    ]
    """Puts the library's errors into words; told by the module that has the words."""

    def __init__(self, /, **data: Any) -> None:  # noqa: ANN401 - whatever is written
        try:
            super().__init__(**data)
        except ValidationError as error:
            raise Part.refusal(error, type(self), data) from None

    # So that parts of parts are made by the library, as if this were its own.
    __init__.__pydantic_base_init__ = True  # type: ignore[attr-defined]

    def __setattr__(self, name: str, value: Any) -> None:  # noqa: ANN401 - as the library has it
        try:
            super().__setattr__(name, value)
        except ValidationError:
            msg = f"{name}: a part of a scene does not change; make a new one"
            raise AttributeError(msg) from None

    # The library lists its fields so; a list of parts with one left out of brackets
    # would be read as many wrong ones.
    __iter__ = None  # type: ignore[assignment]

    def __repr_args__(self) -> Iterator[tuple[str | None, Any]]:
        """Yield what is written, for a short ``repr``."""
        for name, value in super().__repr_args__():
            if name in self.__pydantic_fields_set__:
                yield name, value

    def said(self, key: str) -> bool:
        """Return whether anything is written at a key of the file."""
        # As plain as can be: every cross check of every item asks this many times.
        name = f"{key}_" if iskeyword(key) else key
        if name not in self.__pydantic_fields_set__:
            return False
        return self.__dict__.get(name) is not None

    def written(self, only: type[Part] | None = None) -> dict[str, Any]:
        """Return the part, or what a base of it has, as plain data.

        Keys are those of the file format.
        """
        return self.model_dump(
            include={*only.model_fields} if only else None,
            by_alias=True,
            exclude_unset=True,
            # What could not be used of a file stands in its part as it was written.
            warnings=False,
        )


_DIGITS: Final = r"(\d+\s+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)"
_AFTER_SIGN: Final = (
    rf"""\s*{_DIGITS}\s*(mm|m|in|ft|'|")?(\s*-?\s*{_DIGITS}\s*(in|"))?\s*$"""
)


def _length_schema(signs: str, about: str, **limits: float) -> dict[str, Any]:
    # What a length looks like to an editor; whoever reads it looks more closely.
    written = {"type": "string", "pattern": rf"^\s*{signs}?{_AFTER_SIGN}"}
    return {"anyOf": [{"type": "number", **limits}, written], "description": about}


LENGTH_SCHEMAS: Final = {
    "Length": _length_schema("[-+]", "A length; a bare number is in the file's units."),
    "PositiveLength": _length_schema(
        r"\+", "A length above zero, as any length is written.", exclusiveMinimum=0
    ),
    "Distance": _length_schema(
        r"\+", "A length of zero or more, as any length is written.", minimum=0
    ),
}
"""The three sorts of length as JSON schema, by name."""


def _any_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value)


def _positive_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value, above_zero=True)


def _not_negative_length(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return check_length(value, not_below_zero=True)


class LengthMark:
    """Marks a type as a length, and whether it is above zero."""

    __slots__ = ("above_zero",)

    def __init__(self, *, above_zero: bool = False) -> None:
        self.above_zero = above_zero


Length = Annotated[
    float | str,
    LengthMark(),
    BeforeValidator(_any_length),
    WithJsonSchema(LENGTH_SCHEMAS["Length"]),
]
"""A length as written; it may be negative. A bare number is in the scene's units."""
PositiveLength = Annotated[
    float | str,
    LengthMark(above_zero=True),
    BeforeValidator(_positive_length),
    WithJsonSchema(LENGTH_SCHEMAS["PositiveLength"]),
]
"""A length as written, above zero."""
Distance = Annotated[
    float | str,
    LengthMark(),
    BeforeValidator(_not_negative_length),
    WithJsonSchema(LENGTH_SCHEMAS["Distance"]),
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
    Field(min_length=1, max_length=100),
    BeforeValidator(_number_as_text),
    _TEXT_OR_WHOLE,
]
"""An id, or the id of something else. A plain whole number is its text: 1 is "1"."""


def _all_seen(name: str) -> str:
    if sign := unseen(name):
        msg = f"an id without the sign {sign}, which nobody sees"
        raise ValueError(msg)
    if not name.strip():
        msg = "an id that can be seen"
        raise ValueError(msg)
    return name


Id = Annotated[Name, AfterValidator(_all_seen)]
"""An id where it is given. Signs that nobody sees are refused; names may have them."""
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
