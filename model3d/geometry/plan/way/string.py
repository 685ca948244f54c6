"""A string pulled tight through gates."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Corner

_MOST = 64
"""Points of a round corner that are looked at together: more than a quarter has."""

_ROUNDING = 1e-7
"""Metres. Points nearer than this are one."""

_CLEARLY = 1e-6
"""Metres. What is so far off a polygon is so by no rounding."""

_SHARES = np.arange(1, 8) / 8
"""Where on each leg of a way it is looked whether it leaves the polygon."""


def tight(
    start: Corner, end: Corner, gates: Sequence[tuple[Corner, Corner]]
) -> tuple[Corner, ...]:
    """Pull a string tight through gates: the funnel of Lee and Preparata (1984).

    Args:
        start: Where it begins.
        end: Where it ends.
        gates: Each with its left end first, in the order in which they are passed.

    >>> tight((0, 0), (4, 0), [((1, 3), (1, 1)), ((3, 3), (3, 1))])
    ((0, 0), (1, 1), (3, 1), (4, 0))
    """
    # Twice the area of a triangle stands here four times, not called: gates are many.
    all_gates = [*gates, (end, end)]
    way = [start]
    apex = left = right = start
    x, y = start
    to_left = to_right = (0.0, 0.0)  # from the apex
    left_at = right_at = here = 0
    while here < len(all_gates):
        new_left, new_right = all_gates[here]
        ux, uy = new_right[0] - x, new_right[1] - y
        if to_right[0] * uy - to_right[1] * ux >= 0:
            if apex == right or to_left[0] * uy - to_left[1] * ux < 0:
                right, right_at, to_right = new_right, here, (ux, uy)
            else:
                way.append(left)
                apex = right = left
                (x, y), to_left, to_right = apex, (0.0, 0.0), (0.0, 0.0)
                here = right_at = left_at = left_at + 1
                continue
        ux, uy = new_left[0] - x, new_left[1] - y
        if to_left[0] * uy - to_left[1] * ux <= 0:
            if apex == left or to_right[0] * uy - to_right[1] * ux > 0:
                left, left_at, to_left = new_left, here, (ux, uy)
            else:
                way.append(right)
                apex = left = right
                (x, y), to_left, to_right = apex, (0.0, 0.0), (0.0, 0.0)
                here = left_at = right_at = right_at + 1
                continue
        here += 1
    return _once([*way, end])


def fewer(way: tuple[Corner, ...], plan: shapely.Polygon) -> tuple[Corner, ...]:
    """Go round a round corner by a few points just off it instead of along it.

    Args:
        way: Points within the polygon.
        plan: The polygon, which the answer does not leave either.
    """
    shapely.prepare(plan)
    kept = [way[0]]
    here = 0
    while here < len(way) - 1:
        after, between = here + 1, None
        for far in range(min(here + _MOST, len(way) - 1), here + 2, -1):
            corner = _meeting(way[here], way[here + 1], way[far - 1], way[far])
            if (
                corner is not None
                # What leaves the polygon mostly does so with its corner: that is quick.
                and shapely.intersects_xy(plan, *corner)
                and not _is_off(plan, way[here], corner, way[far])
                and plan.covers(shapely.LineString([way[here], corner, way[far]]))
            ):
                after, between = far, corner
                break
        kept += [way[after]] if between is None else [between, way[after]]
        here = after
    return tuple(kept)


def _is_off(plan: shapely.Polygon, *corners: Corner) -> bool:
    """Tell whether a way leaves a polygon for certain, by a few points of it.

    Of a polygon with holes shapely cuts up all of it for each way that leaves it, and
    of those that are tried nearly all do.
    """
    ends = np.array(corners)
    spots = ends[:-1, None] + _SHARES[:, None] * np.diff(ends, axis=0)[:, None]
    spots = spots.reshape(-1, 2)
    spots = spots[~shapely.intersects_xy(plan, spots)]
    if not len(spots):
        return False
    return not shapely.dwithin(plan, shapely.points(spots), _CLEARLY).all()


def _meeting(a: Corner, b: Corner, c: Corner, d: Corner) -> Corner | None:
    """Return where the ways onwards from a to b and back from d to c meet, if ahead."""
    (ux, uy), (vx, vy) = (b[0] - a[0], b[1] - a[1]), (c[0] - d[0], c[1] - d[1])
    across = ux * vy - uy * vx
    if abs(across) <= _ROUNDING**2:
        return None
    wx, wy = d[0] - a[0], d[1] - a[1]
    along, back = (wx * vy - wy * vx) / across, (wx * uy - wy * ux) / across
    if along < 1 or back < 1:
        return None
    return a[0] + along * ux, a[1] + along * uy


def _once(points: list[Corner]) -> tuple[Corner, ...]:
    """Leave out repeated points."""
    kept = points[:1]
    for point in points[1:]:
        if math.dist(point, kept[-1]) > _ROUNDING:
            kept.append(point)
    return tuple(kept)
