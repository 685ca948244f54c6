"""Areas cut up by the edges of others, and their roomiest point."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from model3d.geometry.plan.mitred import mitred

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.geometry.frame import Corner

_LEAST = 1e-9
"""Square metres. A face that is smaller is a slip of rounding."""
_FINE = 1e-4
"""Metres to which the roomiest point is found."""


def faces(
    area: shapely.Geometry, others: Iterable[shapely.Geometry]
) -> list[shapely.Polygon]:
    """Cut an area along the edges of others: within a face none of them begins or ends.

    The largest first; in an order that is always the same.

    >>> pieces = faces(shapely.box(0, 0, 2, 1), [shapely.box(1, 0, 3, 1)])
    >>> [piece.area for piece in pieces]
    [1.0, 1.0]
    """
    parts = [p for one in (area, *others) for p in shapely.get_parts(one)]
    edges = [shapely.boundary(p) for p in parts if p.area > 0]
    lines = shapely.union_all(edges)
    cells = shapely.get_parts(shapely.polygonize([lines]))
    if not len(cells):
        return []
    inner = shapely.point_on_surface(cells)
    shapely.prepare(area)
    kept = cells[shapely.contains(area, inner) & (shapely.area(cells) > _LEAST)]
    order = np.lexsort([*shapely.bounds(kept).T[::-1], -shapely.area(kept).round(9)])
    found: list[shapely.Polygon] = kept[order].tolist()
    return found


def inner_points(area: shapely.Polygon, most: int) -> list[Corner]:
    """Return points spread over an area: its roomiest one, and some towards its ends.

    A slip of rounding that hangs on an area is no part of it that is asked about.

    >>> len(inner_points(shapely.box(0, 0, 4, 2), 5))
    5
    """
    middle, margin = roomiest(area)
    if margin <= _FINE:
        return [middle]
    inner = shapely.get_parts(mitred(area, -margin / 2))
    around = [at for part in inner for at in part.exterior.coords[:-1]]
    spread = max(1, -(-len(around) // (most - 1)))
    return [middle, *((float(x), float(y)) for x, y in around[::spread])]


def roomiest(area: shapely.Polygon) -> tuple[Corner, float]:
    """Return the point of an area that is furthest from its edge, and how far.

    >>> (x, y), margin = roomiest(shapely.box(0, 0, 4, 2))
    >>> round(y, 3), round(margin, 3)
    (1.0, 1.0)
    """
    line = shapely.maximum_inscribed_circle(area, tolerance=_FINE)
    (x, y), *_ = line.coords
    return (float(x), float(y)), float(line.length)
