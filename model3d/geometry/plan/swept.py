"""Where a shape may be put: plans summed with a shape that is moved.

A shape that is moved meets a plan just where its displacement lies in the sum of the
plan and the mirrored shape (the Minkowski sum of Lozano-Perez, 1983). Sums with a
convex shape are exact: of a convex plan the hull of the sums of corners, of any other
one all along its edges, and one copy of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from model3d.geometry.plan.mitred import mitred
from model3d.geometry.plan.union import joined, less

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_NOTHING = shapely.Polygon()
_HOLLOW = 1e-9
"""Square metres. A plan that lacks less of its hull counts as convex."""


def meeting(plan: shapely.Geometry, shape: Points) -> shapely.Geometry:
    """Return the displacements at which a convex shape meets a plan.

    Args:
        plan: Polygons, or lines of no width.
        shape: Corners of the shape in its place, shape (n, 2), metres.

    >>> meeting(shapely.box(0, 0, 2, 1), np.array([(0, 0), (1, 0), (1, 1)])).bounds
    (-1.0, -1.0, 2.0, 1.0)
    """
    parts = shapely.get_parts(plan)
    if not len(parts):
        return _NOTHING
    hulls = shapely.convex_hull(parts)
    whole = shapely.area(hulls) - shapely.area(parts) <= _HOLLOW
    found = [_summed(shapely.get_coordinates(one), -shape) for one in hulls[whole]]
    for part in parts[~whole]:
        found.append(shapely.transform(part, lambda at: at - shape[0]))
        for ring in shapely.get_parts(part.boundary):
            ends = shapely.get_coordinates(ring)
            found += [_summed(ends[n : n + 2], -shape) for n in range(len(ends) - 1)]
    return found[0] if len(found) == 1 else joined(found)


def mirrored(plan: shapely.Geometry) -> shapely.Geometry:
    """Return a plan with every displacement turned round."""
    return shapely.transform(plan, np.negative)


def shrunk(plan: shapely.Geometry, by: float) -> shapely.Geometry:
    """Return a plan without a rim of some metres; corners stay corners."""
    return mitred(plan, -by, mitre_limit=10)


def taken(
    whole: shapely.Geometry, pieces: Sequence[shapely.Geometry]
) -> shapely.Geometry:
    """Return what is left of an area; a rim of a piece stays."""
    return less(whole, pieces)


def closed(area: shapely.Geometry) -> shapely.Geometry:
    """Return an area without the cuts of no width that its parts had between them."""
    return joined(shapely.get_parts(area)) if not area.is_empty else area


def common(plans: Sequence[shapely.Geometry]) -> shapely.Geometry:
    """Return what all of some plans cover; at least one is given."""
    return shapely.intersection_all(list(plans))


def always(
    blocked: shapely.Geometry,
    way: tuple[tuple[float, float], tuple[float, float]],
    within: shapely.Geometry,
) -> shapely.Geometry:
    """Return the displacements that stay blocked all along a way.

    What may slide is in the way only where it is so wherever it slides to.

    Args:
        blocked: Displacements at which it is blocked where it stands.
        way: From where to where it may slide, as displacements.
        within: What is asked about; a plan without hollows.
    """
    (ax, ay), (bx, by) = way
    if (ax, ay) == (bx, by):
        moved = shapely.transform(blocked, lambda at: at - (ax, ay))
        return shapely.intersection(moved, within)
    if blocked.is_empty:
        return _NOTHING
    reach = abs(ax) + abs(ay) + abs(bx) + abs(by)
    low_x, low_y, high_x, high_y = within.bounds
    around = shapely.box(low_x - reach, low_y - reach, high_x + reach, high_y + reach)
    free = less(around, [blocked])
    return less(within, [slid(free, ((-ax, -ay), (-bx, -by)))])


def slid(
    plan: shapely.Geometry, way: tuple[tuple[float, float], tuple[float, float]]
) -> shapely.Geometry:
    """Return all that a plan covers while it slides along a way.

    >>> slid(shapely.box(0, 0, 1, 1), ((0, 0), (2, 0))).area
    3.0
    """
    segment = np.array(way, dtype=np.float64)
    found: list[shapely.Geometry] = []
    for part in shapely.get_parts(plan):
        if shapely.area(shapely.convex_hull(part)) - part.area <= _HOLLOW:
            found.append(_summed(shapely.get_coordinates(part), segment))
            continue
        found += [shapely.transform(part, lambda at, by=by: at + by) for by in segment]
        for ring in shapely.get_parts(part.boundary):
            found += _strips(shapely.get_coordinates(ring), segment)
    return joined(found) if found else _NOTHING


def _strips(ring: Points, segment: Points) -> list[shapely.Geometry]:
    """Return what each side of a ring sweeps, all at once."""
    start, end = ring[:-1], ring[1:]
    (a, b) = segment
    corners = np.stack([start + a, end + a, end + b, start + b], axis=1)
    strips = shapely.polygons(corners)
    kept: list[shapely.Geometry] = strips[shapely.area(strips) > _HOLLOW**2].tolist()
    return kept


def _summed(points: Points, shape: Points) -> shapely.Geometry:
    """Return the hull of all sums of corners."""
    sums = (points[:, None] + shape[None]).reshape(-1, 2)
    # A line through the points has the same hull, and is made in a tenth of the time.
    return shapely.convex_hull(shapely.linestrings(sums))
