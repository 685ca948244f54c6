"""Polygons grown by a distance, exactly: also where they have shallow hollows.

A buffer of the polygon as a whole, of GEOS 3.14 too, leaves out hollows that are
shallower than a hundredth of the distance, which is more than the tolerance of contact.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_SAGITTA: Final = 2e-5
"""Metres. How far the sides of a many-sided round stay inside it."""

_HOLLOW: Final = 1e-6
"""Square metres. A plan that lacks less of its hull has no hollow that matters: one as
long as 1 m is as deep as a micron."""


def grown(plans: Sequence[shapely.Geometry], distance: float) -> list[shapely.Geometry]:
    """Return pieces that together are some polygons grown by a distance."""
    parts = shapely.get_parts(np.array(plans, dtype=object))
    hollow = _are_hollow(parts)
    pieces: list[shapely.Geometry] = shapely.buffer(
        parts[~hollow], distance, quad_segs=_quarter(distance)
    ).tolist()
    for one in parts[hollow]:
        pieces.append(one)
        pieces += _along(one, distance, outwards=True)
    return pieces


def grown_each(
    plans: NDArray[np.object_], distances: Points
) -> list[list[shapely.Geometry]]:
    """Return for each of some polygons the pieces of it grown by its own distance.

    >>> [[len(piece.exterior.coords) for piece in one]
    ...  for one in grown_each(np.array([shapely.box(0, 0, 1, 1)]), np.array([1e-6]))]
    [[9]]
    """
    hollow = _are_hollow(plans)
    quarters = np.array([_quarter(one) for one in distances.tolist()])
    round_ones = np.empty(len(plans), dtype=object)
    for quarter in np.unique(quarters[~hollow]).tolist():
        some = ~hollow & (quarters == quarter)
        round_ones[some] = shapely.buffer(
            plans[some], distances[some], quad_segs=quarter
        )
    return [
        [*_grown_hollow(one.wkb, distance)] if is_hollow else [ready]
        for one, ready, is_hollow, distance in zip(
            plans, round_ones, hollow.tolist(), distances.tolist(), strict=True
        )
    ]


@lru_cache(maxsize=64)
def _grown_hollow(plan: bytes, distance: float) -> tuple[shapely.Geometry, ...]:
    """Return the pieces of one polygon grown by a distance.

    To go round a scanned outline is dear, and a room in which one thing is moved about
    asks most of its outlines the same: so it is remembered by its corners.
    """
    return tuple(grown([shapely.from_wkb(plan)], distance))


def rim(plan: shapely.Geometry, distance: float) -> list[shapely.Geometry]:
    """Return pieces that together are all of a plan that is near its edge."""
    return [*_rim(plan.wkb, distance)]


@lru_cache(maxsize=64)
def _rim(plan: bytes, distance: float) -> tuple[shapely.Geometry, ...]:
    return tuple(
        piece
        for one in shapely.get_parts(shapely.from_wkb(plan))
        for piece in _along(one, distance, outwards=False)
    )


def convex_parts(plan: shapely.Polygon) -> list[shapely.Geometry]:
    """Return a polygon itself, or its sides where it has hollows."""
    return convex_parts_each([plan])[0]


def convex_parts_each(
    plans: Sequence[shapely.Polygon],
) -> list[list[shapely.Geometry]]:
    """Return the same of each of some polygons."""
    hollow = _are_hollow(np.array([*plans], dtype=object)).tolist()
    return [
        sides(plan) if is_hollow else [plan]
        for plan, is_hollow in zip(plans, hollow, strict=True)
    ]


def sides(plan: shapely.Geometry) -> list[shapely.Geometry]:
    """Return the sides of polygons as lines."""
    found: list[shapely.Geometry] = []
    for ring in shapely.get_parts(plan.boundary):
        points = shapely.get_coordinates(ring)
        found += [shapely.LineString(points[n : n + 2]) for n in range(len(points) - 1)]
    return found


def _are_hollow(plans: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which polygons have a hollow that matters."""
    lacking = shapely.area(shapely.convex_hull(plans)) - shapely.area(plans)
    return np.asarray(lacking > _HOLLOW)


def _along(
    plan: shapely.Polygon, distance: float, *, outwards: bool
) -> list[shapely.Geometry]:
    """Return a strip beside every side and a sector at every corner that juts out."""
    pieces: list[shapely.Geometry] = []
    turned = shapely.orient_polygons(plan, exterior_cw=outwards)
    for ring in (turned.exterior, *turned.interiors):
        # The way round has what is to be grown over on its left.
        points = shapely.get_coordinates(ring)
        step = np.diff(points, axis=0)
        length = np.hypot(step[:, 0], step[:, 1])
        start, end = points[:-1][length > 0], points[1:][length > 0]
        along = step[length > 0] / length[length > 0, None]
        left = np.column_stack([-along[:, 1], along[:, 0]]) * distance
        strips = np.stack([start, end, end + left, start + left], axis=1)
        pieces += shapely.polygons(strips).tolist()
        # Rounding must not part a sector from the strips beside it.
        edges = np.stack([np.roll(strips[:, 2], 1, axis=0), strips[:, 3]], axis=1)
        pieces += _sectors(start, along, edges, distance)
    return pieces


def _sectors(
    corners: Points, along: Points, edges: Points, distance: float
) -> Iterator[shapely.Polygon]:
    """Yield the sector left of every corner where the way round turns right.

    Args:
        corners: Shape (n, 2).
        along: The way on from each corner, unit vectors, shape (n, 2).
        edges: Where each sector's round begins and ends, shape (n, 2, 2).
        distance: Metres.
    """
    before = np.roll(along, 1, axis=0)
    cross = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0]
    dot = (before * along).sum(axis=1)
    turns = np.arctan2(cross, dot)
    step = math.pi / 2 / _quarter(distance)
    # A corner of a many-sided round needs no arc of its own.
    slight = (turns < 0) & (-turns <= step)
    fans = np.concatenate([corners[slight, None], edges[slight]], axis=1)
    yield from shapely.polygons(fans)
    for n in np.flatnonzero(-turns > step).tolist():
        first = math.atan2(before[n, 0], -before[n, 1])
        count = max(2, math.ceil(-turns[n] / step) + 1)
        angles = first + np.linspace(0.0, turns[n], count)
        arc = corners[n] + distance * np.column_stack([np.cos(angles), np.sin(angles)])
        arc[0], arc[-1] = edges[n]
        yield shapely.Polygon(np.vstack([corners[n], arc]))


def _quarter(radius: float) -> int:
    """Return how many sides a quarter of a round needs, to be round enough."""
    if radius <= _SAGITTA:
        return 1
    return math.ceil(math.pi / 4 / math.acos(1 - _SAGITTA / radius))
