"""The outer edge of what a body covers in plan, and what lies inside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import shapely

from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.lines.enclosed import Area
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.frame import Corner

_LEAST: Final = 1e-6
"""Square metres that count as overlap."""
_FOOT: Final = 0.1
"""Metres."""
_STRAIGHT: Final = TOUCH / 2
"""Metres by which a corner may stand out of a line and be none: a room's outline
in a model has joints of walls in it."""


def ring_of(solid: Solid, low: float, high: float) -> tuple[Corner, ...]:
    """Return the outer corners of a body between two heights, counter-clockwise.

    Of several pieces the largest counts; empty where there is none.
    """
    found = footprint(solid, low, high)
    pieces = [one for one in shapely.get_parts(found) if one.geom_type == "Polygon"]
    if not pieces:
        return ()
    largest = max(pieces, key=lambda one: float(one.area))
    ring = shapely.orient_polygons(
        shapely.Polygon(largest.exterior).simplify(_STRAIGHT)
    ).exterior
    corners = [(float(x), float(y)) for x, y in ring.coords[:-1]]
    first = corners.index(min(corners, key=lambda one: (one[1], one[0])))
    return tuple(corners[first:] + corners[:first])


def holds(outline: Sequence[Corner], point: Corner) -> bool:
    """Tell whether a point lies inside an outline."""
    return bool(shapely.Polygon(outline).contains(shapely.Point(point)))


def share_of(outline: Sequence[Corner], solid: Solid) -> float:
    """Return which share of an outline lies under or over a body, from 0 to 1."""
    (x0, y0, low), (x1, y1, high) = solid.bounds
    floor = shapely.Polygon(outline)
    if not floor.intersects(shapely.box(x0, y0, x1, y1)):
        return 0.0
    cover = footprint(solid, low - 1.0, high + 1.0)
    return float(floor.intersection(cover).area / floor.area)


def left_open(
    outline: Sequence[Corner], solids: Iterable[Solid], low: float, high: float
) -> list[Area]:
    """Return the parts of an outline in which nothing is between two heights.

    What is narrower than a foot, as between a floor and a wall, is none.
    """
    floor = shapely.Polygon(outline)
    covers = [footprint(one, low, high) for one in solids]
    rest = floor.difference(shapely.union_all(covers))
    rest = rest.buffer(-_FOOT / 2, join_style="mitre")
    rest = rest.buffer(_FOOT / 2, join_style="mitre").intersection(floor)
    return [
        Area(tuple((float(x), float(y)) for x, y in one.exterior.coords[:-1]))
        for one in shapely.get_parts(rest)
        if one.geom_type == "Polygon" and one.area > _FOOT**2
    ]


def goes_through(
    outline: Sequence[Corner], pieces: Iterable[Sequence[Corner]], inside: float
) -> bool:
    """Tell whether one of some lines comes further into an outline than a length.

    Args:
        outline: The outline.
        pieces: The ends of straight lines; both may be one point.
        inside: Metres from its sides.
    """
    inner = shapely.Polygon(outline).buffer(-inside)
    return any(inner.intersects(shapely.LineString(piece)) for piece in pieces)


def reaches_into(
    outline: Sequence[Corner], solid: Solid, low: float, high: float
) -> bool:
    """Tell whether a body stands inside an outline between two heights.

    Contact, and what reaches in by no more than two millimetres, is none.
    """
    (x0, y0, z0), (x1, y1, z1) = solid.bounds
    inside = shapely.Polygon(outline).buffer(-20 * TOUCH)
    if z0 >= high - TOUCH or z1 <= low + TOUCH:
        return False
    if not inside.intersects(shapely.box(x0, y0, x1, y1)):
        return False
    cover = footprint(solid, low, high)
    return bool(inside.intersection(cover).area > _LEAST)
