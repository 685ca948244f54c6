"""Ways out at both ends of a working space, and what may stand in for the second."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import shapely

from model3d.egress.floor import CONTACT
from model3d.fitting import fit
from model3d.working import working_space

if TYPE_CHECKING:
    from model3d.egress.exits import Exit
    from model3d.egress.floor import Floor
    from model3d.egress.stand import Stand
    from model3d.situation import Situation

End: TypeAlias = Literal["left", "right"]
ENDS: Final[tuple[End, End]] = ("left", "right")


def exits_at(
    stand: Stand, floor: Floor, width: float, end: End, reach: float
) -> tuple[Exit, ...]:
    """Return the exits that are reached from one end without passing in front again.

    The person steps out of the working space sideways, at that end. What lies ahead of
    the item, to twice the depth, is barred from there on: beyond that the depth counts
    as doubled, which is another matter.

    Args:
        stand: The working space.
        floor: The floor.
        width: Of the way, metres.
        end: As seen by somebody who faces the item.
        reach: How far the room goes on ahead of the item, metres.
    """
    clear, depth = width - CONTACT, stand.space.depth
    left, right = stand.place, stand.place + stand.space.width
    if end == "left":
        outside = stand.strip(left - width, left, depth)
    else:
        outside = stand.strip(right, right + width, depth)
    both = floor.free(stand.plan.union(outside))
    # Out of the working space at that end, and not from somewhere else.
    stepped = [
        place
        for place, _ in floor.places(both, clear)
        if place.intersection(stand.plan).area > 0
    ]
    ahead = stand.strip(left, right, min(2 * depth, max(reach, depth)))
    barred = floor.with_obstacles([("the front", ahead)])
    found: dict[str, Exit] = {}
    for place in stepped:
        for _, part in barred.places(place.intersection(outside), clear):
            found.update((one.id, one) for one in part.exits)
    return tuple(found[name] for name in sorted(found))


def straight_exit(stand: Stand, floor: Floor, width: float) -> Exit | None:
    """Return an exit that is in straight reach from every point along the front.

    A person stands in front of the item, at the middle of the depth, anywhere along its
    whole width, and goes straight to the middle of the opening: all these ways together
    must be clear to their full width.
    """
    front = stand.item.front
    wide = front.width if front is not None else stand.space.width
    side, middle = min(width, wide) / 2, stand.space.depth / 2
    ends = [stand.frame.to_plan(u, middle) for u in (side, wide - side)]
    for one in floor.exits:
        if one.opening is None:
            far = floor.region.buffer(-width, join_style="mitre")
            ahead = stand.strip(side, wide - side, floor.region.length)
            line = shapely.LineString(ends)
            ways = [ahead.intersection(far), line]
        else:
            door = one.opening.interpolate(0.5, normalized=True)
            x, y = one.inside
            before = (door.x + x * width / 2, door.y + y * width / 2)
            goal = one.goal.interpolate(0.5, normalized=True)
            ways = [
                shapely.MultiPoint([*ends, before]).convex_hull,
                shapely.LineString([before, (goal.x, goal.y)]),
            ]
        if all(floor.is_clear(way, width - CONTACT) for way in ways):
            return one
    return None


def is_clear_to(stand: Stand, situation: Situation, depth: float) -> bool:
    """Tell whether a working space is clear to a depth, whatever lies opposite."""
    figures = replace(stand.figures, depths=(depth, depth, depth))
    space = working_space(stand.item, situation, figures)
    return not fit(space, situation).all


def apart(stand: Stand, way_out: Exit) -> float:
    """Return the distance in plan from an item to the nearest edge of an opening."""
    front = stand.item.front
    if way_out.opening is None or front is None:
        return float("inf")
    corners = ((0, 0), (front.width, 0), (front.width, -front.depth), (0, -front.depth))
    body = shapely.Polygon([front.frame.to_plan(u, v) for u, v in corners])
    return float(body.distance(way_out.opening))
