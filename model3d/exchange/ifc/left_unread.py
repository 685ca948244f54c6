"""What of a building could not be read: no scene can show it, so it is named there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.gear.classes import LEFT_OUT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.exchange.ifc.element import Building, Element, Points
    from model3d.exchange.ifc.scene_entries import Writing

_MOST: Final = 100
"""So many are named in a scene, the nearest first; the others are counted."""
_LONGEST: Final = 100
_AT_ORIGIN: Final = 1e-6
"""Metres."""


def left_unread(writing: Writing) -> list[dict[str, Any]]:
    """Return what could not be read and may be in the way, as a scene lists it.

    Args:
        writing: The scene; what its mapping leaves out is left out here too.
    """
    found = [
        (_aside(writing, at), number, one, at)
        for number, (one, at) in enumerate(_unread(writing))
    ]
    found.sort(key=lambda each: each[:2])
    listed = [_entry(writing, one, at) for *_, one, at in found[:_MOST]]
    if more := len(found) - len(listed):
        listed.append({"name": "others of the model", "count": more})
    return listed


def _unread(writing: Writing) -> Iterator[tuple[Element, Points | None]]:
    for one in writing.building.elements:
        if (
            one.unread
            and one.is_a("IfcElement", "IfcProxy")
            and writing.kinds[one.key] != LEFT_OUT
        ):
            yield one, _placed(writing.building, one)


def _placed(building: Building, element: Element) -> Points | None:
    """Return where an element is placed; None at its model's origin, as by default."""
    at: Points = element.matrix[:3, 3]
    base = building.bases[element.key[0]].matrix
    own = base[:3, :3] @ at + base[:3, 3]
    return at if np.abs(own).max() > _AT_ORIGIN else None


def _aside(writing: Writing, at: Points | None) -> float:
    """Return roughly how far from the room a point is; what has none is nearest."""
    if at is None:
        return -1.0
    xs, ys = zip(*writing.place.outline, strict=True)
    low = min(xs), min(ys), writing.place.floor
    high = max(xs), max(ys), writing.place.top
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(low - at, at - high))))


def _entry(writing: Writing, one: Element, at: Points | None) -> dict[str, Any]:
    part = "a part of " if one.meshed else ""
    entry: dict[str, Any] = {"name": f"{part}{one.called}"[:_LONGEST]}
    if at is not None:
        entry["at"] = [writing.length(metres) for metres in at - writing.origin]
    return {**entry, "guid": one.guid}
