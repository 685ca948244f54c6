"""What is made to pass through, or into, what else: common practice, by kind."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.extents import reaching
from model3d.scene.parts.placement import StandsOn
from model3d.working.drawn.runs import is_run, may_meet

if TYPE_CHECKING:
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front, Placed

_ENDS_IN: Final = {
    "luminaire": {"conduit", "busway", "cable-tray", "wireway"},
    "sprinkler": {"sprinkler", "pipe"},
}
_FEET: Final = 0.3
"""Metres. Housekeeping pads and trays are lower than that: common practice."""


def may_share(one: Placed, other: Placed, scene: Scene, tolerance: float) -> bool:
    """Tell whether two items may be in one another, whichever is named first.

    Args:
        one: An item; no wall, floor or ceiling of the room.
        other: Another one.
        scene: As it is written.
        tolerance: How far lines and planes may miss each other, metres.
    """
    if one.kind.hole or other.kind.hole:
        return True
    runs = is_run(one), is_run(other)
    if all(runs):
        return may_meet(one, other, scene, tolerance)
    if any(runs):
        run, body = (one, other) if runs[0] else (other, one)
        ends = _ENDS_IN.get(body.kind.name, ())
        return not body.kind.stops_runs or run.kind.name in ends
    return _may(one, other, tolerance) or _may(other, one, tolerance)


def _may(one: Placed, other: Placed, tolerance: float) -> bool:
    """Tell whether the first of two items may be in the second."""
    kind, into = one.kind, other.kind
    is_built = into.structure or into.pad
    if into.frame or (is_built and (kind.structure or kind.pad)):
        return True
    if into.tray:
        return _stands_in(one, other, tolerance)
    if into.wall:
        return let_into(one, other, tolerance)
    if into.ceiling:
        return kind.in_ceiling
    if into.holds_goods:
        return kind.goods
    if into.platform or into.stair:
        return _says_it_stands_on(one, other)
    return kind.meter and into.needs_working_space


def _stands_in(one: Placed, tray: Placed, tolerance: float) -> bool:
    deep = min(one.top, tray.top) - max(one.bottom, tray.bottom)
    return tray.bottom <= one.bottom + tolerance and deep <= _FEET


def let_into(one: Placed, wall: Placed, tolerance: float) -> bool:
    """Tell whether an item may be let into a wall that stands in the room."""
    if one.kind.boxed:
        return True
    if not one.kind.flush or one.front is None:
        return False
    front: Front = one.front
    view = wall.solid.seen_from(front.frame)
    low = (tolerance, tolerance, front.bottom + tolerance)
    high = (front.width - tolerance, 2 * tolerance, front.top - tolerance)
    return reaching(view, low, high) is None


def _says_it_stands_on(one: Placed, other: Placed) -> bool:
    place = one.item.place if one.item else None
    return isinstance(place, StandsOn) and place.stands_on == other.id
