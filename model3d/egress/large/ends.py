"""Ways out at both ends of a working space, and what may stand in for the second."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY, WIDEST
from model3d.egress.ground.floor import CONTACT
from model3d.geometry.plan import flat
from model3d.geometry.plan.grown import convex_parts
from model3d.geometry.plan.union import joined, less
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import fit
from model3d.judging.measured.provided import provided
from model3d.working import working_space

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.large.span import End, Span
    from model3d.judging.situation import Situation

ENDS: Final[tuple[End, End]] = ("left", "right")

_ROUND: Final = 64
"""Sides of a quarter of a round: at 0.3 m they stay within a quarter of the contact."""

_FINE: Final = 1e-6
"""Metres. How closely a width is searched: far finer than it is told."""

_SLIVER: Final = 1e-8
"""Square metres. What is smaller is rounding."""


def exits_at(
    span: Span, floor: Floor, width: float, end: End, reach: float
) -> tuple[Exit, ...]:
    """Return the exits that are reached from one end without passing in front again.

    The person steps out of the working space sideways, at that end. What lies ahead of
    the gear, to twice the depth, is barred from there on: beyond that the depth counts
    as doubled, which is another matter.

    Args:
        span: The working space.
        floor: The floor.
        width: Of the way, metres.
        end: As seen by somebody who faces the gear.
        reach: How far the room goes on ahead of the gear, metres.
    """
    clear, depth = width - CONTACT, span.depth_at(end)
    if end == "left":
        outside = span.strip(span.left - width, span.left, depth)
    else:
        outside = span.strip(span.right, span.right + width, depth)
    plan = span.plan
    both = floor.free(joined([plan, outside]))
    # Out of the working space at that end, and not from somewhere else.
    stepped = [
        place
        for place, _ in floor.places(both, clear)
        if place.intersection(plan).area > 0
    ]
    ahead = span.ahead(lambda deep: min(2 * deep, max(reach, deep)))
    barred = floor.with_obstacles([("the front", ahead)])
    found: dict[str, Exit] = {}
    for place in stepped:
        for _, part in barred.places(place.intersection(outside), clear):
            found.update((one.id, one) for one in part.exits)
    return tuple(found[name] for name in sorted(found))


def told_at(
    span: Span,
    floor: Floor,
    width: float,
    end: End,
    reach: float,
    found: tuple[Exit, ...],
) -> tuple[Exit, ...]:
    """Return which of the exits that are reached from one end a reader looks for.

    The doors, and of the open sides the nearest. Whoever has crossed one of them is
    outside: what is reached from there only is no second way.

    Args:
        span: The working space.
        floor: The floor.
        width: Of the way, metres.
        end: As seen by somebody who faces the gear.
        reach: How far the room goes on ahead of the gear, metres.
        found: The exits that are reached.
    """
    sides = [one for one in found if not one.hangings and one.opening is not None]
    if len(sides) <= 1:
        return found
    first = [
        one
        for one in sides
        if exits_at(span, floor.with_exits((one,)), width, end, reach)
    ]
    side = span.left if end == "left" else span.right
    corner = flat.Point(span.frame.to_plan(side, span.depth_at(end) / 2))
    nearest = min(
        first or sides, key=lambda one: (round(corner.distance(one.opening), 6), one.id)
    )
    return tuple(one for one in found if one is nearest or one not in sides)


def widest_at(
    span: Span,
    floor: Floor,
    width: float,
    end: End,
    reach: float,
    known: tuple[Exit, ...],
) -> float:
    """Return how wide the widest way is that leaves from one end, metres; 0 if none is.

    Args:
        span: The working space.
        floor: The floor.
        width: Of the way that is asked for, metres.
        end: As seen by somebody who faces the gear.
        reach: How far the room goes on ahead of the gear, metres.
        known: The exits that a way as wide as that leads to.
    """

    def leads_to(wide: float) -> tuple[Exit, ...]:
        return exits_at(span, floor, wide, end, reach)

    least = width if known else BODY
    found = known or leads_to(least)
    if not found:
        return 0.0
    # Mostly nothing is narrower than the door.
    low, high = least, min(WIDEST, max(one.width for one in found))
    if leads_to(high):
        return high
    while high - low > _FINE:
        middle = (low + high) / 2
        if leads_to(middle):
            low = middle
        else:
            high = middle
    # Who touches on both sides came through: that much wider than there is.
    return max(least, low - CONTACT)


def room_beyond(span: Span, floor: Floor, width: float) -> float | None:
    """Return how wide the floor is free beyond a working space, along all of it.

    No wider than the way is looked into. None where something within the working space
    stands between the floor beyond and a place where somebody can stand, slender or as
    wide as the way.

    Args:
        span: The working space.
        floor: The floor.
        width: Of the way, metres.
    """
    depth, left, right = span.depth, span.left + TOUCH, span.right - TOUCH
    # Looked at within its edges: what rounding leaves along them is nothing.
    ahead = span.strip(span.left, span.right, depth + width)
    # A thread that rounding leaves along an edge may cross itself once it is turned.
    taken = less(span.local(ahead), [span.local(floor.free(ahead))])
    within = flat.box(left, TOUCH, right, depth)
    inner = flat.get_parts(within.intersection(taken))
    pieces = [
        one
        for piece in inner[flat.area(inner) > _SLIVER]
        for one in convex_parts(piece)
    ]
    if not _behind(pieces, within).buffer(-BODY / 2).is_empty:
        return None
    half = (width - CONTACT) / 2
    middles = flat.box(left + half, half, right - half, depth)
    if _behind(flat.buffer(pieces, half, quad_segs=_ROUND), middles).area > _SLIVER:
        return None
    beyond = flat.box(left, depth + TOUCH, right, depth + width - TOUCH)
    outer = flat.get_parts(beyond.intersection(taken))
    nearest = flat.bounds(outer[flat.area(outer) > _SLIVER])[:, 1]
    found = float(min(nearest, default=depth + width)) - depth
    return found if found > CONTACT else 0.0


def _behind(pieces: Iterable[flat.Geometry], area: flat.Geometry) -> flat.Geometry:
    """Return where in an area convex pieces bar the way straight out, to larger v."""
    taken, far = list(pieces), area.bounds[3]
    hidden = [
        flat.GeometryCollection([one, flat.translate(one, 0.0, -far)]) for one in taken
    ]
    return less(area.intersection(joined(flat.convex_hull(hidden))), taken)


def clear_depth(stand: Stand, situation: Situation, depth: float) -> float:
    """Return how far a working space is clear, whatever lies opposite, metres.

    Infinite where nothing is ahead.

    Args:
        stand: Where somebody stands at the gear.
        situation: The room.
        depth: To which it should be clear: the place where it is, if there is one, is
            measured.
    """
    figures = replace(stand.figures, depths=(depth, depth, depth))
    space = working_space(stand.item, situation, figures)
    found = fit(space, situation)
    if found.all:
        return min(hit.extents[0][1] for hit in found.all)
    far = provided(space, situation, found).get("depth", float("inf"))
    return far - space.behind


def is_in_sight(span: Span, floor: Floor, width: float, way_out: Exit) -> bool:
    """Tell whether an exit is in straight reach from every point along the front.

    A person stands in front of the gear, at the middle of the depth, anywhere along its
    whole width, and goes straight to the middle of the opening: all these ways together
    must be clear to their full width. Open ground is in sight.
    """
    if way_out.opening is None:
        return True
    side, middle = min(width, span.right - span.left) / 2, span.depth / 2
    ends = [
        span.frame.to_plan(u, middle) for u in (span.left + side, span.right - side)
    ]
    door = way_out.opening.interpolate(0.5, normalized=True)
    x, y = way_out.inside
    before = (door.x + x * width / 2, door.y + y * width / 2)
    goal = way_out.goal.interpolate(0.5, normalized=True)
    ways = (
        flat.MultiPoint([*ends, before]).convex_hull,
        flat.LineString([before, (goal.x, goal.y)]),
    )
    return all(floor.is_clear(way, width - CONTACT) for way in ways)


def spare_apart(span: Span, way_out: Exit) -> tuple[float, float]:
    """Return by how much an opening is further from gear than the depth, and how far.

    At the section where that is least, from its body to the nearest edge, metres.
    """
    opening, found = way_out.opening, []
    for stand in span.stands:
        front = stand.item.front
        if opening is not None and front is not None:
            wide, deep = front.width, -front.depth
            corners = ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))
            body = flat.Polygon([front.frame.to_plan(u, v) for u, v in corners])
            away = float(body.distance(opening))
            found.append((away - stand.space.depth, away))
    return min(found, default=(float("inf"), float("inf")))
