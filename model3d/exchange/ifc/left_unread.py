"""What of a building could not be read, with where it is placed if that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.gear.classes import LEFT_OUT
from model3d.exchange.listed_unread import listed_unread

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.ifc.element import Building, Element, Points
    from model3d.exchange.ifc.scene_entries import Writing

_AT_ORIGIN: Final = 1e-6
"""Metres."""
_AT_GEAR: Final = 0.05
"""Metres from gear to where what is built into it may be placed."""
_WIRING: Final = "conduit"
"""The kind of cables too."""
_BUILT_IN: Final = frozenset(
    {
        *("IfcProtectiveDevice", "IfcProtectiveDeviceType"),
        *("IfcProtectiveDeviceTrippingUnit", "IfcProtectiveDeviceTrippingUnitType"),
        *("IfcSwitchingDevice", "IfcSwitchingDeviceType"),
    }
)
"""What boards are fitted with."""


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
    gear = [
        (
            one.called,
            one.points.min(axis=0) - _AT_GEAR,
            one.points.max(axis=0) + _AT_GEAR,
        )
        for one in writing.building.solids
        if writing.is_gear(one)
    ]
    together: dict[str, list[Element]] = {}
    for one in writing.building.elements:
        if (
            not one.unread
            or not one.is_a("IfcElement", "IfcProxy")
            or writing.kinds[one.key] == LEFT_OUT
        ):
            continue
        at = _placed(writing.building, one)
        if group := _only_named(writing, one, at, gear):
            together.setdefault(group, []).append(one)
        else:
            yield at, _entry(writing, one, at)
    for group, some in together.items():
        if len(some) == 1:
            yield None, _entry(writing, some[0], None)
        else:
            name = f"{group} such as {some[0].called}"
            yield None, {"name": name, "count": len(some)}


def _only_named(
    writing: Writing,
    one: Element,
    at: Points | None,
    gear: Sequence[tuple[str, Points, Points]],
) -> str:
    """Return what a thing is that a model names and nobody draws; "" for any other.

    Cables and conduits are placed by the gear that they end at, and nothing tells how
    they run from there; breakers without a shape stand in a board that has one.
    """
    if not one.undrawn:
        return ""
    if writing.kinds[one.key] == _WIRING:
        return "undrawn wiring"
    if at is not None and {*one.classes, *one.type_classes} & _BUILT_IN:
        for name, low, high in gear:
            if np.all(low <= at) and np.all(at <= high):
                return f"undrawn gear in {name}"
    return ""


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
