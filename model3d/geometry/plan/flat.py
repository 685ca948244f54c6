"""Flat shapes and what is done with them: the one door to shapely.

Whoever draws or measures in plan asks here, by the names of the OGC simple features.
Shapes do not change; lengths are metres, areas square metres.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from shapely import (
    Geometry,
    GeometryCollection,
    LinearRing,
    LineString,
    MultiLineString,
    MultiPoint,
    MultiPolygon,
    Point,
    Polygon,
    STRtree,
    area,
    bounds,
    box,
    buffer,
    centroid,
    constrained_delaunay_triangles,
    convex_hull,
    covers,
    destroy_prepared,
    difference,
    distance,
    dwithin,
    geometrycollections,
    get_coordinates,
    get_parts,
    intersection,
    intersects,
    intersects_xy,
    is_empty,
    is_valid_reason,
    length,
    line_locate_point,
    linestrings,
    multipoints,
    multipolygons,
    point_on_surface,
    points,
    prepare,
    segmentize,
    shortest_line,
    to_wkb,
    total_bounds,
    transform,
    union_all,
)
from shapely.affinity import scale, translate
from shapely.ops import substring

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = [
    "Geometry",
    "GeometryCollection",
    "LineString",
    "LinearRing",
    "MultiLineString",
    "MultiPoint",
    "MultiPolygon",
    "Point",
    "Polygon",
    "STRtree",
    "area",
    "bounds",
    "box",
    "buffer",
    "centroid",
    "constrained_delaunay_triangles",
    "convex_hull",
    "covers",
    "destroy_prepared",
    "difference",
    "distance",
    "dwithin",
    "geometrycollections",
    "get_coordinates",
    "get_parts",
    "intersection",
    "intersects",
    "intersects_xy",
    "is_empty",
    "is_valid_reason",
    "legs",
    "length",
    "line_locate_point",
    "linestrings",
    "multipoints",
    "multipolygons",
    "point_on_surface",
    "points",
    "prepare",
    "scale",
    "segmentize",
    "shortest_line",
    "substring",
    "to_wkb",
    "total_bounds",
    "transform",
    "translate",
    "union_all",
]


def legs(line: LineString) -> NDArray[np.object_]:
    """Return the straight pieces of a line, those left out that have no length.

    A line of no length at all is itself its only piece.

    >>> len(legs(LineString([(0, 0), (1, 0), (1, 2), (1, 2)])))
    2
    """
    points = get_coordinates(line)
    moves = (points[1:] != points[:-1]).any(axis=1)
    if not moves.any():
        return np.array([line], dtype=object)
    found: NDArray[np.object_] = linestrings(
        np.stack([points[:-1][moves], points[1:][moves]], axis=1)
    )
    return found
