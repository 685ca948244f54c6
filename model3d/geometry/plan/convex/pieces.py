"""Plans in convex pieces: what can be tested against another by its sides alone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_HOLLOW: Final = 1e-10
"""Square metres. A ring that lacks less of its hull counts as convex."""


def convex_parts(plan: shapely.Geometry) -> list[Points]:
    """Return convex rings, counter-clockwise and not closed, that fill a plan.

    Neighbours among the triangles of a plan are joined as long as what comes of them
    is convex (Hertel and Mehlhorn, 1983), so that there are at most four times as many
    pieces as there must be.

    >>> [len(ring) for ring in convex_parts(shapely.box(0, 0, 2, 1))]
    [4]
    """
    found: list[Points] = []
    for part in shapely.get_parts(plan):
        if not isinstance(part, shapely.Polygon) or part.is_empty:
            continue
        hull = shapely.convex_hull(part)
        if shapely.area(hull) - shapely.area(part) <= _HOLLOW:
            found.append(_ring(hull))
        else:
            found += _joined(part)
    return found


def _ring(polygon: shapely.Geometry) -> Points:
    points: Points = shapely.get_coordinates(shapely.orient_polygons(polygon))[:-1]
    return points


def _joined(part: shapely.Polygon) -> list[Points]:
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(part))
    rings = {n: _ring(one) for n, one in enumerate(triangles)}
    sides: dict[frozenset[bytes], list[int]] = {}
    for n, ring in rings.items():
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            sides.setdefault(frozenset((a.tobytes(), b.tobytes())), []).append(n)
    now = {n: n for n in rings}

    def root(n: int) -> int:
        while now[n] != n:
            n = now[n]
        return n

    for pair in sides.values():
        if len(pair) == _SHARED:
            one, other = map(root, pair)
            both = _of_both(rings[one], rings[other]) if one != other else None
            if both is not None:
                rings[one], now[other] = both, one
                del rings[other]
    return list(rings.values())


_SHARED: Final = 2


def _of_both(one: Points, other: Points) -> Points | None:
    """Return two neighbours as one ring; None where that is not convex."""
    points = np.concatenate([one, other])
    hull = shapely.convex_hull(shapely.multipoints(points))
    both = shapely.area(shapely.polygons(one)) + shapely.area(shapely.polygons(other))
    return _ring(hull) if shapely.area(hull) - both <= _HOLLOW else None
