"""The bare lengths in plain data: those whose unit is not written beside them."""

from __future__ import annotations

from copy import deepcopy
from functools import cache
from types import UnionType
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin

from pydantic import WithJsonSchema

from model3d.scene.faults.salvage import chosen, hints_of
from model3d.scene.parts.item import Item
from model3d.scene.parts.part import LENGTH_SCHEMAS, Part
from model3d.units import LengthError, to_metres

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.words.mistakes import Loc


def bare_lengths(item: dict[str, Any]) -> list[Loc]:
    """Return where the bare lengths stand in an item as it is written.

    >>> bare_lengths({"size": [500, "6 in", 900], "supply": {"amps": 200}})
    [('size', 0), ('size', 2)]
    """
    return [*_bare(Item, item, ())]


def with_unit(item: dict[str, Any], unit: str) -> dict[str, Any]:
    """Return an item as it is written, each bare length with a unit.

    >>> with_unit({"size": [500, "6 in", 0.25]}, "mm")
    {'size': ['500 mm', '6 in', '0.25 mm']}
    """
    said = deepcopy(item)
    for loc in bare_lengths(item):
        *way, last = loc
        above: Any = said
        for step in way:
            above = above[step]
        above[last] = f"{_plain(above[last])} {unit}"
    return said


def _plain(value: float | str) -> str:
    if not isinstance(value, float):
        return str(value)
    return format(value, ".12f").rstrip("0").rstrip(".")


def _bare(form: Any, value: Any, loc: Loc) -> Iterator[Loc]:  # noqa: ANN401 - any type
    first, *others = get_args(form) or (None,)
    origin = get_origin(form)
    if isinstance(form, type) and issubclass(form, Part):
        forms = _forms(form)
        for key, one in value.items() if isinstance(value, dict) else ():
            if key in forms:
                yield from _bare(forms[key], one, (*loc, key))
    elif origin is Annotated:
        if any(_is_length(note) for note in others):
            if _is_bare(value):
                yield loc
        else:
            yield from _bare(chosen(first, others, value), value, loc)
    elif origin in (Union, UnionType):
        yield from _bare(first, value, loc)
    elif origin is tuple and isinstance(value, list | tuple):
        many = [first] * len(value) if others == [...] else [first, *others]
        for number, (one, part) in enumerate(zip(many, value, strict=False)):
            yield from _bare(one, part, (*loc, number))


@cache
def _forms(part: type[Part]) -> dict[str, Any]:
    hints = hints_of(part)
    return {
        field.alias or name: hints[name] for name, field in part.model_fields.items()
    }


def _is_length(note: object) -> bool:
    made = isinstance(note, WithJsonSchema)
    return made and any(note.json_schema is one for one in LENGTH_SCHEMAS.values())  # type: ignore[attr-defined]


def _is_bare(value: object) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return False
    try:
        return to_metres(value, "mm") != to_metres(value, "m") or value == 0
    except LengthError:
        return False
