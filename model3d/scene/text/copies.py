"""Copies of an item as it is written: their ids, and where each of them stands."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.frame import turned
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING, REFERENCES
from model3d.units import LengthError, from_metres, to_metres

if TYPE_CHECKING:
    from collections.abc import Sequence

Vector = tuple[float | str, float | str, float | str]
"""Right, out and up, as written."""

NUMBER_SIGN: Final = "{n}"
_LAST_NUMBER: Final = re.compile(r"([0-9]{1,15})(?=[^0-9]*$)")
_DIGITS: Final = 9
"""Decimals kept of a bare number, so that 0.1 three times on is 0.3."""
_SOUTH: Final = 180.0


def id_of_copy(name: str, copy: int) -> str | None:
    """Return the id of a copy, the first is number 0; None where it cannot be told.

    >>> id_of_copy("P1", 2), id_of_copy("LP-09A", 1), id_of_copy("P{n}", 0)
    ('P3', 'LP-10A', 'P1')
    >>> id_of_copy("PUMP", 1) is None
    True
    """
    if NUMBER_SIGN in name:
        return name.replace(NUMBER_SIGN, str(copy + 1))
    match = _LAST_NUMBER.search(name)
    if match is None:
        return None
    number = f"{int(match[1]) + copy:0{len(match[1])}d}"
    return f"{name[: match.start()]}{number}{name[match.end() :]}"


def copied(item: dict[str, Any], copy: int, step: Vector, unit: str) -> dict[str, Any]:
    """Return an item moved by so many steps.

    What is no length stays as it is written: it is told as the mistake that it is.

    Args:
        item: The item as it is written, without its type and repeat.
        copy: How many steps; the item itself is number 0.
        step: Right, out and up, as the item sees it.
        unit: What a bare number means.
    """
    if copy == 0:
        return item
    try:
        right, out, up = (_times(length, copy, unit) for length in step)
        return {**item, **_moved(item, (right, out, up), unit)}
    except (LengthError, TypeError, ValueError, KeyError):
        return item


def _times(length: float | str, copy: int, unit: str) -> float:
    """Return so many times a length, as a bare number."""
    if isinstance(length, str):
        return from_metres(copy * to_metres(length, unit), unit)
    to_metres(length, unit)
    return copy * length


def _moved(
    item: dict[str, Any], own: tuple[float, float, float], unit: str
) -> dict[str, Any]:
    right, out, up = own
    place: Any = item.get("place")
    if "from" in item or "to" in item:
        world = (*_in_plan(_bearing_of_run(item, unit), right, out), up)
        return {key: _plus(item[key], world, unit) for key in ("from", "to")}
    if not isinstance(place, dict):
        is_file = "mesh" in item or "points" in item
        if place is not None or "size" in item or not is_file:
            return {}
        world = (*_in_plan(_SOUTH, right, out), up)
        return {"shift": _plus(item.get("shift") or [0, 0, 0], world, unit)}
    if any(key in place for key in REFERENCES):
        shift = _plus(place.get("shift") or [0, 0, 0], own, unit)
        return {"place": {**place, "shift": shift}}
    moved = {**place, **_height(item, place, up, unit)}
    if "at" in place:
        facing: Any = place.get("facing")
        bearing = _SOUTH if facing is None else float(BEARING.get(facing, facing))
        world = (*_in_plan(bearing, right, out), up)
        moved["at"] = _plus(place["at"], world[:2], unit)
    else:
        moved["along"] = _sum(place["along"], right, unit)
        if out:
            moved["gap"] = _sum(place.get("gap") or 0, out, unit)
    return {"place": moved}


def _height(
    item: dict[str, Any], place: dict[str, Any], up: float, unit: str
) -> dict[str, Any]:
    if not up:
        return {}
    kind = KINDS.get(str(item.get("kind")))
    hung = kind is not None and kind.hole and place.get("bottom") is None
    key = "top" if hung or place.get("top") is not None else "bottom"
    return {key: _sum(place.get(key) or 0, up, unit)}


def _in_plan(bearing: float, right: float, out: float) -> tuple[float, float]:
    """Return a distance east and north, of one as seen by who faces an item's front."""
    sine, cosine = turned(bearing)
    return right * -cosine + out * sine, right * sine + out * cosine


def _bearing_of_run(item: dict[str, Any], unit: str) -> float:
    """Return where a run's front points to: back from where it begins."""
    (x, y), (to_x, to_y) = (
        [to_metres(length, unit) for length in item[key][:2]] for key in ("from", "to")
    )
    if math.dist((x, y), (to_x, to_y)) == 0:
        return _SOUTH
    return math.degrees(math.atan2(x - to_x, y - to_y))


def _plus(
    lengths: Sequence[float | str], more: Sequence[float], unit: str
) -> list[float | str]:
    return [_sum(one, plus, unit) for one, plus in zip(lengths, more, strict=True)]


def _sum(length: float | str, more: float, unit: str) -> float | str:
    if not round(more, _DIGITS):
        return length
    if isinstance(length, str):
        length = from_metres(to_metres(length, unit), unit)
    to_metres(length, unit)
    return round(length + more, _DIGITS)
