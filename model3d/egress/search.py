"""Find the way out: to which exit, along which points, how wide, where narrowest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import shapely

from model3d.egress.exits import WIDEST
from model3d.egress.floor import CONTACT
from model3d.egress.neck import Neck, neck_of
from model3d.egress.widest import Width, widest
from model3d.results import Way

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Corners, Floor
    from model3d.egress.route import Corner

_EASY: Final = 0.97
"""The drawn way is that of a person narrower by this part than the widest who passes:
so it goes through the narrowest place with few points."""


@dataclass(frozen=True, slots=True)
class Path:
    """A way out with what is narrowest on it.

    Attributes:
        way: Its points, where it leads and how wide it is.
        neck: What it is narrowest beside, in words.
    """

    way: Way
    neck: Neck


def way_out(
    floor: Floor, area: shapely.Geometry, hint: Corner, width: float
) -> Path | None:
    """Find a way of at least a width from an area: the nearest exit, as wide as can be.

    Args:
        floor: The free floor.
        area: Where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        width: Metres.
    """
    clear = width - CONTACT
    parts = floor.reaching(area, clear)
    if not parts:
        return None
    reached = {id(one): one for part in parts for one in part.exits}
    if len(reached) == 1:
        (nearest,) = reached.values()
    else:
        points = _points(floor, area, hint, clear, list(reached.values()))
        nearest = _exit_at(points[-1], list(reached.values()))
    found = widest(floor, area, nearest)
    return _path(floor, area, hint, [nearest], found, clear)


def widest_way(floor: Floor, area: shapely.Geometry, hint: Corner) -> Path | None:
    """Find the widest way from an area to any exit; None where nobody comes through."""
    found = widest(floor, area)
    if not found.passes:
        return None
    return _path(floor, area, hint, list(floor.exits), found, 0.0)


def _path(
    floor: Floor,
    area: shapely.Geometry,
    hint: Corner,
    ends: Sequence[Exit],
    found: Width,
    least: float,
) -> Path:
    width = max(found.passes * _EASY, min(least, found.passes - CONTACT))
    points = _points(floor, area, hint, width, ends)
    way_out = _exit_at(points[-1], ends)
    neck = neck_of(floor, area, points, found, way_out)
    narrowest = min(neck.width, WIDEST)
    return Path(Way(way_out.id, points, narrowest, neck.at), neck)


def _points(
    floor: Floor,
    area: shapely.Geometry,
    hint: Corner,
    width: float,
    ends: Sequence[Exit],
) -> tuple[Corner, ...]:
    """Return the points of a way that a person of a width can go.

    Corners are gone round with a little more room than needed, so that there are few
    points; as near as can be where that leaves no way.
    """
    goals = shapely.union_all([one.goal for one in ends])
    styles: tuple[Corners, ...] = ("pointed", "cut", "round")
    for corners in styles:
        for net in floor.nets(width, corners):
            starts = net.plan.intersection(area)
            if starts.is_empty or not net.plan.intersects(goals):
                continue
            start = shapely.shortest_line(starts, shapely.Point(hint)).coords[0]
            points = net.route(start, net.plan.intersection(goals))
            if points:
                return points
    msg = "a way that was found cannot be drawn"
    raise RuntimeError(msg)


def _exit_at(point: Corner, ends: Sequence[Exit]) -> Exit:
    return min(ends, key=lambda one: one.goal.distance(shapely.Point(point)))
