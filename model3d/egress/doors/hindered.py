"""Personnel doors whose own leaf is stopped by equipment doors that stand open."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from model3d.egress.doors.open_leaves import named
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.egress.doors.door_leaf import Hanging, RoomLeaf
    from model3d.egress.doors.exits import Exit
    from model3d.egress.doors.open_leaves import LeafAjar


def hindered(exits: Sequence[Exit], leaves: Sequence[LeafAjar]) -> tuple[Exit, ...]:
    """Return the exits, each opened as far as open equipment doors let it.

    An exit that none of them stops is the same as before.
    """
    return tuple(_hindered(one, leaves) for one in exits)


def _hindered(way_out: Exit, leaves: Sequence[LeafAjar]) -> Exit:
    low, high = way_out.sill, way_out.sill + way_out.height
    beside = [
        one for one in leaves if min(one.top, high) - max(one.bottom, low) > TOUCH
    ]
    ways = tuple(_stopped(one, beside) for one in way_out.hangings)
    if ways == way_out.hangings:
        return way_out
    # Whichever part of the opening its leaf leaves, it leads out.
    ends = [side.interpolate(0.5, normalized=True) for side in way_out.sides]
    clear = min(one.clear for one in ways)
    return replace(way_out, hangings=ways, width=clear, goal=flat.LineString(ends))


def _stopped(hanging: Hanging, leaves: Sequence[LeafAjar]) -> Hanging:
    if hanging.opens == "out":
        return hanging
    return replace(
        hanging, leaves=tuple(_as_far(leaf, leaves) for leaf in hanging.leaves)
    )


def _as_far(leaf: RoomLeaf, others: Sequence[LeafAjar]) -> RoomLeaf:
    """Return a leaf that opens until it meets the first of the others."""
    met = [(_angle_met(leaf, one), named(one)[0]) for one in others]
    angle, stop = min(met, default=(math.inf, ""))
    return replace(leaf, angle=angle, stop=stop) if angle < leaf.angle else leaf


def _angle_met(leaf: RoomLeaf, other: LeafAjar) -> float:
    """Return at which angle a leaf meets another in plan, degrees; infinite if never.

    Along a straight line the angle about the hinge only rises or only falls: it is
    least at one end of what lies within the leaf's reach.
    """
    ends = other.frame.to_plan(0.0, 0.0), other.frame.to_plan(*other.tip)
    (ax, ay), (bx, by) = (leaf.frame.to_frame(*end) for end in ends)
    dx, dy = bx - ax, by - ay
    square, half = dx * dx + dy * dy, ax * dx + ay * dy
    radius = leaf.width - TOUCH
    inside = half * half - square * (ax * ax + ay * ay - radius * radius)
    if inside <= 0:
        return math.inf
    first = max(0.0, (-half - math.sqrt(inside)) / square)
    last = min(1.0, (-half + math.sqrt(inside)) / square)
    if last <= first:
        return math.inf
    spots = [(ax + t * dx, ay + t * dy) for t in (first, last)]
    if max(v for _, v in spots) <= TOUCH:
        return math.inf
    return min(math.degrees(math.atan2(max(v, 0.0), u)) for u, v in spots)
