"""Where a way is narrowest, how wide it is there, and between what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.egress.exits import WIDEST
from model3d.egress.floor import CONTACT

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Floor
    from model3d.egress.funnel import Corner

    Shapes = NDArray[np.object_]

_CLOSE: Final = 1e-5
"""Metres. By how much the way from one body over a point to another may be longer than
their distance while the point still counts as between them."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest place of a way.

    Attributes:
        width: Metres; no more than WIDEST is looked into.
        at: Where, in plan.
        between: What it is between: two names, or the exit alone at its opening;
            nothing where it is where the person stands at first.
    """

    width: float
    at: Corner
    between: tuple[str, ...]


def neck_of(
    floor: Floor, points: tuple[Corner, ...], width: float, way_out: Exit
) -> Neck:
    """Return the narrowest place along a way.

    Two bodies make a narrow place where the way passes between them: where it meets a
    shortest line from one to the other.

    Args:
        floor: The floor.
        points: Of the way.
        width: Of the person whose way it is, metres: no place is narrower.
        way_out: Where it leads.
    """
    widest = min(way_out.width, WIDEST)
    line = shapely.LineString([*points, points[-1]])
    names, shapes, tree = floor.features
    near = tree.query(line, predicate="dwithin", distance=widest - width / 2 + CONTACT)
    one, other, apart = _pairs(shapes[near], line, width - CONTACT, widest)
    for n in np.argsort(apart, kind="stable").tolist():
        a, b = near[one[n]], near[other[n]]
        at = _point_between(line, shapes[a], shapes[b], float(apart[n]))
        if at is not None and _is_free(floor, at, (shapes[a], shapes[b])):
            between = tuple(dict.fromkeys(sorted((names[a], names[b]))))
            return Neck(float(apart[n]), at, between)
    if way_out.opening is None:
        return Neck(widest, points[-1], (way_out.id,))
    middle = way_out.opening.interpolate(0.5, normalized=True)
    return Neck(widest, (float(middle.x), float(middle.y)), (way_out.id,))


def _pairs(
    shapes: Shapes, line: shapely.LineString, least: float, most: float
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64]]:
    """Return pairs that a way may pass between, by number, with their distance."""
    one, other = shapely.STRtree(shapes).query(
        shapes, predicate="dwithin", distance=most - CONTACT
    )
    once = one < other
    one, other = one[once], other[once]
    apart = shapely.distance(shapes[one], shapes[other])
    away = shapely.distance(shapes, line)
    kept = (apart >= least) & (away[one] + away[other] <= apart + _CLOSE)
    return one[kept], other[kept], apart[kept]


def _point_between(
    line: shapely.LineString,
    one: shapely.Geometry,
    other: shapely.Geometry,
    apart: float,
) -> Corner | None:
    """Return where a line passes between two convex shapes, or None.

    Where many shortest lines lie side by side, it may pass beside the known one. The
    way from one over a point to the other is convex along each straight piece, so its
    least is found by closing in from both ends.
    """
    across = shapely.shortest_line(one, other).intersection(line)
    if across.geom_type == "Point" and not across.is_empty:
        return float(across.x), float(across.y)
    points = shapely.get_coordinates(line)
    low, high = points[:-1].copy(), points[1:].copy()

    def over(places: NDArray[np.float64]) -> NDArray[np.float64]:
        spots = shapely.points(places)
        total: NDArray[np.float64] = shapely.distance(spots, one) + shapely.distance(
            spots, other
        )
        return total

    for _ in range(_STEPS):
        third = (high - low) / 3
        nearer = (over(low + third) <= over(high - third))[:, None]
        low, high = (
            np.where(nearer, low, low + third),
            np.where(nearer, high - third, high),
        )
    middle = (low + high) / 2
    totals = over(middle)
    best = int(totals.argmin())
    if totals[best] > apart + _CLOSE:
        return None
    x, y = middle[best].tolist()
    return x, y


_STEPS: Final = 48
"""Times that a stretch is cut to two thirds: 100 m come down to less than a micron."""


def _is_free(
    floor: Floor, at: Corner, both: tuple[shapely.Geometry, shapely.Geometry]
) -> bool:
    """Tell whether nothing else is between a point and either of two shapes."""
    spot = shapely.Point(at)
    for shape in both:
        across = shapely.shortest_line(spot, shape)
        inside = floor.free(across)
        if across.length - inside.length > CONTACT:
            return False
    return True
