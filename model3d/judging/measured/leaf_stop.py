"""What stops a hinged leaf, and at which angle: of an item's leaf and of a door's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.sweep import QUARTER

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d.geometry.sweep import Sweep
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

Stop = tuple[float, "Placed"]
"""The angle at which a leaf meets a solid, in degrees from closed, and the solid."""


def stops_within(
    leaf: Sweep, situation: Situation, is_passed: Callable[[Placed], bool]
) -> tuple[Stop, ...]:
    """Return all that stops a leaf before a right angle, the first first.

    Args:
        leaf: What it sweeps.
        situation: The room.
        is_passed: Tells of a solid that it stops no leaf; the floor never does, nor
            does a hole in it.
    """
    near = (situation.items[place] for place in situation.index.touching(*leaf.bounds))
    stops = (
        (leaf.angle_reached(placed.solid), placed)
        for placed in near
        if placed.id != "floor" and not placed.kind.hole and not is_passed(placed)
    )
    found = (stop for stop in stops if stop[0] < QUARTER)
    return tuple(sorted(found, key=lambda stop: (stop[0], stop[1].id)))


def stops_of(leaf: Sweep, item: Placed, situation: Situation) -> tuple[Stop, ...]:
    """Return all that stops a leaf of an item before a right angle, the first first.

    The item itself does not, nor does the meter in a meter socket's own door.
    """
    return situation.remembered(_stops_of, leaf, item)


def angle_of(stops: tuple[Stop, ...]) -> float:
    """Return how far a leaf opens, degrees: to a right angle if nothing stops it."""
    return stops[0][0] if stops else QUARTER


def _stops_of(leaf: Sweep, item: Placed, situation: Situation) -> tuple[Stop, ...]:
    def is_passed(placed: Placed) -> bool:
        its_meter = placed.kind.meter and item.kind.holds_meter
        return placed.id == item.id or its_meter

    return stops_within(leaf, situation, is_passed)
