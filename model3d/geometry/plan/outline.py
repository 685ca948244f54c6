"""Polygons of the floor plan."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

from model3d.geometry.bodies.shapes import prism
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner, Frame


def wall_body(
    outline: Sequence[Corner], side: int, thickness: float, bottom: float, top: float
) -> Mesh:
    """Stand a wall up outside one side of an outline, mitred at its corners.

    Nothing of it stands inside the outline, even where the room turns around it.

    Args:
        outline: Corners, counter-clockwise, metres.
        side: Which side; side 0 runs from corner 0 to corner 1.
        thickness: Metres.
        bottom: World height of the underside.
        top: World height of the top.
    """
    count = len(outline)
    a, b = outline[side], outline[(side + 1) % count]
    outward = _outward(a, b)
    one = _outer(a, _outward(outline[side - 1], a), outward, thickness)
    other = _outer(b, _outward(b, outline[(side + 2) % count]), outward, thickness)
    body = _strip(a, one, other, b).difference(shapely.Polygon(outline))
    # Beyond a room that turns back on itself the strip comes out again: the part at
    # the wall's own face is the wall.
    face = shapely.LineString([a, b])
    parts = [part for part in shapely.get_parts(body) if part.distance(face) < _NEAR]
    return _standing(parts, bottom, top)


def reach_inside(
    outline: Sequence[Corner], frame: Frame, left: float, right: float
) -> float:
    """Return how far a band ahead of a front stays inside an outline, metres.

    The band runs from ``left`` to ``right`` of the frame, outwards from its origin;
    what is cut off from the front by a corner of the room is another place. 0 where
    the front itself is outside.
    """
    room = shapely.Polygon(outline)
    far = 2 * math.dist(room.bounds[:2], room.bounds[2:]) + 1
    band = shapely.Polygon(
        [
            frame.to_plan(u, v)
            for u, v in ((left, 0.0), (right, 0.0), (right, far), (left, far))
        ]
    )
    front = shapely.LineString([frame.to_plan(left, 0.0), frame.to_plan(right, 0.0)])
    parts = [
        part
        for part in shapely.get_parts(room.intersection(band))
        if part.distance(front) < _NEAR
    ]
    ends = [
        frame.to_frame(x, y)[1]
        for part in parts
        for x, y in shapely.get_coordinates(part)
    ]
    return max(ends, default=0.0)


def is_convex(outline: Sequence[Corner]) -> bool:
    """Tell whether no corner of a counter-clockwise outline points inwards."""
    corners = [*outline, *outline[:2]]
    return all(
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -_NEAR
        for a, b, c in zip(corners, corners[1:], corners[2:], strict=False)
    )


def hull_of(points: NDArray[np.float64]) -> shapely.Geometry:
    """Return the convex hull of places in plan, shape (n, 2).

    Of many those that lie within the hull of eight of them are not even looked at.
    """
    if len(points) > _MANY:
        ends = points[(points @ _WAYS).argmax(axis=0)]
        inner = shapely.convex_hull(shapely.multipoints(ends))
        shapely.prepare(inner)
        points = np.concatenate([ends, points[~shapely.contains_xy(inner, points)]])
    return shapely.convex_hull(shapely.multipoints(points))


def ring_around(points: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return the corners of the least convex ring around places; none of a line.

    >>> ring_around([(0.0, 0.0), (2.0, 2.0), (1.0, 1.0)])
    ()
    >>> len(ring_around([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.5)]))
    3
    """
    hull = hull_of(np.array(points, dtype=np.float64))
    if not isinstance(hull, shapely.Polygon):
        return ()
    return tuple((float(x), float(y)) for x, y in hull.exterior.coords[:-1])


def covers(polygons: Iterable[Sequence[Corner]], area: Sequence[Corner]) -> bool:
    """Tell whether polygons together cover an area, up to the tolerance of contact."""
    union = shapely.union_all([shapely.Polygon(p).buffer(TOUCH) for p in polygons])
    return bool(union.covers(shapely.Polygon(area)))


def nearest_uncovered(
    polygons: Iterable[Sequence[Corner]], area: Sequence[Corner], frame: Frame
) -> float | None:
    """Return how far out of a frame the nearest open part of an area begins, metres.

    Strips no wider than contact count as covered; None where all of it is.
    """
    pieces = [shapely.Polygon(one).buffer(TOUCH) for one in polygons]
    left = shapely.Polygon(area).difference(shapely.union_all(pieces))
    open_parts = left.buffer(-TOUCH / 2)
    if open_parts.is_empty:
        return None
    corners = shapely.get_coordinates(open_parts).tolist()
    return min(frame.to_frame(x, y)[1] for x, y in corners) - 1.5 * TOUCH


_MANY = 1000
"""Places that are looked at one by one."""

_WAYS = np.array([(1, 1, 0, -1, -1, -1, 0, 1), (0, 1, 1, 1, 0, -1, -1, -1)], float)
"""Eight ways on the plan, each a column."""

_NEAR = 1e-9
"""Metres (square metres for a turn): rounding of a corner's coordinates."""


def _strip(a: Corner, one: Corner, other: Corner, b: Corner) -> shapely.Polygon:
    """Return the plan of a wall; a triangle where its mitred ends meet."""
    meeting = shapely.LineString([a, one]).intersection(shapely.LineString([b, other]))
    if meeting.is_empty:
        return shapely.Polygon([a, one, other, b])
    return shapely.Polygon([a, (meeting.x, meeting.y), b])


def _outer(at: Corner, one: Corner, other: Corner, thickness: float) -> Corner:
    """Return the outer corner of a wall that looks to ``other``, mitred."""
    turn = abs(one[0] * other[1] - one[1] * other[0])
    cosine = one[0] * other[0] + one[1] * other[1]
    sharpest = 0.1
    if turn <= _NEAR:
        return at[0] + other[0] * thickness, at[1] + other[1] * thickness
    scale = thickness / max(1 + cosine, sharpest)
    return at[0] + (one[0] + other[0]) * scale, at[1] + (one[1] + other[1]) * scale


def _outward(start: Corner, end: Corner) -> Corner:
    length = math.dist(start, end)
    return (end[1] - start[1]) / length, (start[0] - end[0]) / length


def _standing(parts: Sequence[shapely.Polygon], bottom: float, top: float) -> Mesh:
    vertices, faces, count = [], [], 0
    for part in parts:
        ring = shapely.get_coordinates(shapely.orient_polygons(part).exterior)[:-1]
        corner = {(float(x), float(y)): n for n, (x, y) in enumerate(ring)}
        cover = [
            [corner[x, y] for x, y in shapely.get_coordinates(piece)[:3].tolist()]
            for piece in shapely.get_parts(shapely.constrained_delaunay_triangles(part))
        ]
        solid = prism(ring, bottom, top, _counter_clockwise(ring, np.array(cover)))
        vertices.append(solid.vertices)
        faces.append(solid.faces + count)
        count += len(solid.vertices)
    return Mesh(np.concatenate(vertices), np.concatenate(faces), sound=True)


def _counter_clockwise(
    ring: NDArray[np.float64], triangles: NDArray[np.int64]
) -> NDArray[np.int64]:
    a, b, c = ring[triangles].transpose(1, 0, 2)
    turn = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    return np.where(turn[:, None] < 0, triangles[:, ::-1], triangles)
