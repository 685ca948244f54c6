"""What closed lines of a plan enclose: areas, the boxes around them, their bodies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d.geometry.frame import Corner

    Bounds = tuple[float, float, float, float]


_LEAST: Final = 1e-6
"""Square metres that count as an area."""
_SAME: Final = 1e-3
"""Metres by which two rings may differ and be one that is drawn twice."""
_BOX: Final = 5e-4
"""Metres by which a corner may stand in its box and be the box's corner."""
_STRAIGHT: Final = TOUCH / 2


@dataclass(frozen=True, slots=True)
class Area:
    """An area of a plan.

    Attributes:
        outer: Its corners, counter-clockwise, metres.
        holes: Corners of each hole, clockwise.
    """

    outer: tuple[Corner, ...]
    holes: tuple[tuple[Corner, ...], ...] = ()

    def polygon(self) -> shapely.Geometry:
        """Return it as a polygon, or as several where it crosses itself."""
        polygon = shapely.Polygon(self.outer, self.holes)
        return polygon if polygon.is_valid else shapely.make_valid(polygon)

    @property
    def bounds(self) -> Bounds:
        """The least x and y, the greatest x and y."""
        xs, ys = zip(*self.outer, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def size(self) -> float:
        """Square metres."""
        return float(self.polygon().area)

    def has(self, point: Corner) -> bool:
        """Tell whether a point lies in it."""
        return bool(self.polygon().contains(shapely.Point(point)))

    def is_near(self, bounds: Bounds, reach: float) -> bool:
        """Tell whether its bounds come as near as that to others, metres."""
        x0, y0, x1, y1 = self.bounds
        return (
            x0 <= bounds[2] + reach
            and x1 >= bounds[0] - reach
            and y0 <= bounds[3] + reach
            and y1 >= bounds[1] - reach
        )


@dataclass(frozen=True, slots=True)
class Turned:
    """The least box around an area in plan.

    Attributes:
        middle: Of the box.
        sides: Its lengths; the first runs along the bearing.
        bearing: Degrees clockwise from north, from 0 to 90.
        exact: The area is the box.
    """

    middle: Corner
    sides: tuple[float, float]
    bearing: float
    exact: bool


def areas_of(ring: Sequence[Corner]) -> list[Area]:
    """Return what a ring encloses: several areas where it crosses itself.

    Corners that stand out of a line by less than half the tolerance of contact, as
    where lines are drawn in pieces, are none.
    """
    if len(ring) < 3:  # noqa: PLR2004 - corners of the least ring
        return []
    polygon = shapely.Polygon(ring)
    if not polygon.is_valid:
        polygon = shapely.make_valid(polygon)
    return areas_in(polygon.simplify(_STRAIGHT))


def crosses_itself(ring: Sequence[Corner]) -> bool:
    """Tell whether a ring crosses or touches itself."""
    return not shapely.Polygon(ring).is_valid


def longer(
    points: Sequence[Corner],
    by: float,
    start: bool,  # noqa: FBT001 - one of two ends
    end: bool,  # noqa: FBT001 - the other
) -> list[Corner]:
    """Return a line that goes further at its start, its end, or both, metres.

    >>> longer([(0.0, 0.0), (2.0, 0.0)], 0.5, True, False)
    [(-0.5, 0.0), (2.0, 0.0)]
    """
    found = [*points]
    for wanted, last, before in ((start, 0, 1), (end, -1, -2)):
        away = np.subtract(points[last], points[before])
        length = float(np.hypot(*away))
        if wanted and length > 0.0:
            x, y = np.add(points[last], away * (by / length)).tolist()
            found[last] = (x, y)
    return found


def bands(
    points: Sequence[Corner], thickness: float, *, closed: bool, spare: float = 0.0
) -> list[Area]:
    """Return what a line of a thickness covers, to both sides of it and mitred.

    Args:
        points: Its corners.
        thickness: Metres.
        closed: It goes back to its first corner.
        spare: Metres that are added at both sides.
    """
    line = shapely.LinearRing(points) if closed else shapely.LineString(points)
    wide = line.buffer(thickness / 2 + spare, cap_style="flat", join_style="mitre")
    return areas_in(wide)


def areas_in(shape: shapely.Geometry) -> list[Area]:
    """Return the areas that a shape is made of."""
    return [*_parts(shape)]


def _parts(shape: shapely.Geometry) -> Iterator[Area]:
    for part in shapely.get_parts(shape):
        if part.geom_type == "MultiPolygon":
            yield from _parts(part)
        elif part.geom_type == "Polygon" and part.area > _LEAST:
            turned = shapely.orient_polygons(part)
            holes = tuple(_corners(one) for one in turned.interiors)
            yield Area(_corners(turned.exterior), holes)


def _corners(ring: shapely.LinearRing) -> tuple[Corner, ...]:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


def least_holding(areas: Sequence[Area], points: Sequence[Corner]) -> list[int | None]:
    """Return for each point the number of the least area that it lies in, if any."""
    sizes = [one.size for one in areas]
    tree = shapely.STRtree([one.polygon() for one in areas])
    found: list[int | None] = [None] * len(points)
    if not points or not areas:
        return found
    pairs = tree.query(shapely.points(np.array(points)), predicate="within")
    for point, number in pairs.T.tolist():
        last = found[point]
        if last is None or (sizes[number], number) < (sizes[last], last):
            found[point] = number
    return found


def nested(areas: Sequence[Area]) -> tuple[dict[int, int], dict[int, int]]:
    """Return which areas repeat earlier ones, and which lie within which.

    Args:
        areas: Without holes.

    Returns:
        For each that is drawn again the number of the first; and for each other that
        lies in another, up to contact, the number of the smallest that it lies in.
    """
    polygons = [one.polygon() for one in areas]
    tree = shapely.STRtree(polygons)
    again: dict[int, int] = {}
    around: dict[int, list[int]] = {}
    wider = [one.buffer(TOUCH) for one in polygons]
    for number, polygon in enumerate(polygons):
        if number in again:
            continue
        for other in sorted(map(int, tree.query(wider[number]))):
            if other == number or other in again:
                continue
            if other > number and polygon.hausdorff_distance(polygons[other]) < _SAME:
                again[other] = number
            elif wider[number].covers(polygons[other]):
                around.setdefault(other, []).append(number)
    within = {}
    for inner, holders in around.items():
        larger = [
            one
            for one in holders
            if one not in again and polygons[one].area > polygons[inner].area
        ]
        if inner not in again and larger:
            within[inner] = min(larger, key=lambda one: float(polygons[one].area))
    return again, within


def box_around(area: Area, bearing: float | None = None) -> Turned:
    """Return the least box around an area, or the least that lies at a bearing.

    Args:
        area: Its holes do not count.
        bearing: Of one of its sides, degrees clockwise from north; None for any.
    """
    points = np.array(area.outer)
    if bearing is None:
        bearing = min(_bearings(area), key=lambda one: (_extent(points, one), one))
    (u0, v0), (u1, v1) = _span(points, bearing)
    along, across = _axes(bearing)
    middle = (u0 + u1) / 2 * along + (v0 + v1) / 2 * across
    corners = [u * along + v * across for u in (u0, u1) for v in (v0, v1)]
    box = shapely.Polygon([corners[n] for n in (0, 1, 3, 2)])
    exact = not area.holes and box.hausdorff_distance(area.polygon()) <= _BOX
    sides = float(u1 - u0), float(v1 - v0)
    return Turned((float(middle[0]), float(middle[1])), sides, bearing, exact)


def _bearings(area: Area) -> list[float]:
    """Return the bearings of the sides of the area's hull, and 0 as the first."""
    hull = area.polygon().convex_hull.exterior.coords
    found = [0.0]
    for (x0, y0), (x1, y1) in pairwise(hull):
        # Rounded: what is square to the plan is so to the last digit.
        found.append(round(math.degrees(math.atan2(x1 - x0, y1 - y0)), 6) % 90)
    return sorted({*found})


def _extent(points: np.ndarray, bearing: float) -> float:
    low, high = _span(points, bearing)
    # Rounded: of boxes that are alike the one that is square to the plan counts.
    return round(float((high[0] - low[0]) * (high[1] - low[1])), 9)


def _span(points: np.ndarray, bearing: float) -> tuple[np.ndarray, np.ndarray]:
    local = points @ np.array(_axes(bearing)).T
    return local.min(axis=0), local.max(axis=0)


def _axes(bearing: float) -> tuple[np.ndarray, np.ndarray]:
    angle = math.radians(bearing)
    along = np.array([math.sin(angle), math.cos(angle)])
    return along, np.array([along[1], -along[0]])


def stands_in(outline: Sequence[Corner], area: Area) -> bool:
    """Tell whether an area reaches into an outline by more than two millimetres."""
    inside = shapely.Polygon(outline).buffer(-20 * TOUCH)
    return bool(inside.intersection(area.polygon()).area > _LEAST)


def upright(area: Area, bottom: float, top: float) -> Mesh:
    """Stand an area up as a closed body.

    Args:
        area: With its holes.
        bottom: World height of the underside.
        top: World height of the top.
    """
    polygon = area.polygon()
    rings = [area.outer, *area.holes]
    points = np.array([corner for ring in rings for corner in ring])
    count = len(points)
    number = {(float(x), float(y)): n for n, (x, y) in enumerate(points)}
    cover = np.array(
        [
            [number[x, y] for x, y in shapely.get_coordinates(one)[:3].tolist()]
            for one in shapely.get_parts(
                shapely.constrained_delaunay_triangles(polygon)
            )
        ]
    )
    a, b, c = points[cover].transpose(1, 0, 2)
    turn = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    cover = np.where(turn[:, None] < 0, cover[:, ::-1], cover)
    vertices = np.concatenate(
        [np.column_stack([points, np.full(count, height)]) for height in (bottom, top)]
    )
    faces = [cover[:, ::-1], cover + count, *_sides(rings, count)]
    return Mesh(vertices, np.concatenate(faces).astype(np.int64), sound=True)


def _sides(rings: Iterable[Sequence[Corner]], count: int) -> Iterator[np.ndarray]:
    first = 0
    for ring in rings:
        here = np.arange(first, first + len(ring))
        after = np.roll(here, -1)
        yield np.column_stack([here, after, after + count])
        yield np.column_stack([here, after + count, here + count])
        first += len(ring)
