"""Lengths that are too long or too short, told in metres whatever their unit is."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, Final, get_args

from model3d.scene.parts.part import LengthMark, Part
from model3d.scene.words.mistakes import shown
from model3d.units import LengthError, check_length, from_metres, to_metres

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from model3d.scene.checks.setting import BareUnit
    from model3d.scene.words.mistakes import Found, Loc

LEAST: Final = 1e-5
"""Metres. What is thinner is no thing that stands in a room."""
_ALL_ABOVE: Final = 1000 * LEAST
"""A bare number from here on is long enough in any unit."""
_NONE_BEYOND: Final = 1e6
"""A bare number up to here is short enough in any unit."""


def length_mistakes(
    part: Part, ruler: BareUnit, without: Collection[str] = ()
) -> list[Found]:
    """Return the lengths of a part and of what is in it that nothing can have.

    Args:
        part: It need not be right: what is no length at all has its line already.
        ruler: What a bare number means; where that is not known, nothing is told.
        without: Fields of it that are looked at elsewhere.
    """
    mistakes: list[Found] = []
    if ruler.units is not None:
        _look_at(part, ruler.units, (), mistakes, without)
    return mistakes


def _look_at(
    part: Part,
    unit: str,
    where: Loc,
    mistakes: list[Found],
    without: Collection[str] = (),
) -> None:
    lengths, values = _lengths(type(part)), part.__dict__
    for name in part.__pydantic_fields_set__:
        value = values.get(name)
        if value is None or name in without:
            continue
        if name in lengths:
            if type(value) is not float or not _ALL_ABOVE <= value <= _NONE_BEYOND:
                key, above_zero = lengths[name]
                mistakes += _of_value(value, unit, (*where, key), above_zero=above_zero)
        elif isinstance(value, Part):
            _look_at(value, unit, (*where, name), mistakes)
        elif isinstance(value, tuple):
            for number, one in enumerate(value):
                if isinstance(one, Part):
                    _look_at(one, unit, (*where, name, number), mistakes)


def _of_value(
    value: object, unit: str, where: Loc, *, above_zero: bool
) -> Iterator[Found]:
    if isinstance(value, tuple | list):
        for number, one in enumerate(value):
            if type(one) is not float or not _ALL_ABOVE <= one <= _NONE_BEYOND:
                yield from _of_value(one, unit, (*where, number), above_zero=above_zero)
    elif not isinstance(value, Part) and (fault := _fault(value, unit, above_zero)):
        yield where, f"found {shown(value)}, right is {fault}"


def _fault(value: object, unit: str, above_zero: bool) -> str | None:  # noqa: FBT001
    try:
        check_length(value, above_zero=above_zero)
    except LengthError:
        return None
    try:
        metres = to_metres(value, unit)
    except LengthError as error:
        return str(error)
    if above_zero and metres < LEAST:
        return f"a length of at least {from_metres(LEAST, unit):g} {unit}"
    return None


@cache
def _lengths(part: type[Part]) -> dict[str, tuple[str, bool]]:
    """Return the fields of a part that are lengths: key in the file, above zero."""
    found: dict[str, tuple[str, bool]] = {}
    for name, field in part.model_fields.items():
        mark = next(
            (one for one in field.metadata if isinstance(one, LengthMark)), None
        ) or _mark(field.annotation)
        if mark is not None:
            found[name] = (field.alias or name, mark.above_zero)
    return found


def _mark(form: Any) -> LengthMark | None:  # noqa: ANN401 - any type
    for one in (*getattr(form, "__metadata__", ()), *get_args(form)):
        found = one if isinstance(one, LengthMark) else _mark(one)
        if found is not None:
            return found
    return None
