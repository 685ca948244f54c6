"""What of a building could not be read, with where it is placed if that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.gear.classes import LEFT_OUT
from model3d.exchange.listed_unread import listed_unread

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.exchange.ifc.element import Building, Element, Points
    from model3d.exchange.ifc.scene_entries import Writing

_AT_ORIGIN: Final = 1e-6
"""Metres."""


def left_unread(writing: Writing) -> list[dict[str, Any]]:
    """Return what could not be read and may be in the way, as a scene lists it.

    Args:
        writing: The scene; what its mapping leaves out is left out here too.
    """
    xs, ys = zip(*writing.place.outline, strict=True)
    low = np.array([min(xs), min(ys), writing.place.floor])
    high = np.array([max(xs), max(ys), writing.place.top])
    return listed_unread(_unread(writing), low, high, "model")


def _unread(writing: Writing) -> Iterator[tuple[Points | None, dict[str, Any]]]:
    for one in writing.building.elements:
        if (
            one.unread
            and one.is_a("IfcElement", "IfcProxy")
            and writing.kinds[one.key] != LEFT_OUT
        ):
            at = _placed(writing.building, one)
            yield at, _entry(writing, one, at)


def _placed(building: Building, element: Element) -> Points | None:
    """Return where an element is placed; None at its model's origin, as by default."""
    at: Points = element.matrix[:3, 3]
    base = building.bases[element.key[0]].matrix
    own = base[:3, :3] @ at + base[:3, 3]
    return at if np.abs(own).max() > _AT_ORIGIN else None


def _entry(writing: Writing, one: Element, at: Points | None) -> dict[str, Any]:
    part = "a part of " if one.meshed else ""
    entry: dict[str, Any] = {"name": f"{part}{one.called}"}
    if at is not None:
        entry["at"] = [writing.length(metres) for metres in at - writing.origin]
    return {**entry, "guid": one.guid}
