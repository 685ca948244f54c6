"""The shortest way through a polygon: across its triangles, then pulled tight."""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray

Corner = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Net:
    """A polygon cut into triangles that know their neighbours.

    Attributes:
        plan: The polygon.
    """

    plan: shapely.Polygon

    def route(self, start: Corner, goals: shapely.Geometry) -> tuple[Corner, ...]:
        """Return the points of a short way from a point to the nearest of some goals.

        Both must lie in the polygon; empty where they do not.
        """
        first = self._holding(shapely.Point(start))
        last = set(self._holding(goals))
        if not first or not last:
            return ()
        channel = self._channel(start, first, last, goals)
        if not channel:
            return ()
        end = _nearest(self._triangles[channel[-1]], goals, start)
        return self._with_fewer_points(_tight(start, end, self._gates(channel)))

    def _with_fewer_points(self, way: tuple[Corner, ...]) -> tuple[Corner, ...]:
        """Go round a round corner by a few points just off it instead of along it."""
        shapely.prepare(self.plan)
        kept = [way[0]]
        here = 0
        while here < len(way) - 1:
            after, between = here + 1, None
            for far in range(min(here + _MOST, len(way) - 1), here + 2, -1):
                corner = _meeting(way[here], way[here + 1], way[far - 1], way[far])
                if corner is None:
                    continue
                if self.plan.covers(shapely.LineString([way[here], corner, way[far]])):
                    after, between = far, corner
                    break
            kept += [way[after]] if between is None else [between, way[after]]
            here = after
        return tuple(kept)

    @cached_property
    def _triangles(self) -> NDArray[np.object_]:
        found: NDArray[np.object_] = shapely.get_parts(
            shapely.constrained_delaunay_triangles(self.plan)
        )
        return found

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self._triangles)

    @cached_property
    def _corners(self) -> NDArray[np.int64]:
        """Corners of the triangles as numbers of points, shape (n, 3)."""
        rings = shapely.get_coordinates(self._triangles).reshape(-1, 4, 2)[:, :3]
        _, names = np.unique(
            np.round(rings.reshape(-1, 2), 9), axis=0, return_inverse=True
        )
        return np.asarray(names, dtype=np.int64).reshape(-1, 3)

    @cached_property
    def _points(self) -> NDArray[np.float64]:
        """Plan points by their number, shape (n, 2)."""
        rings = shapely.get_coordinates(self._triangles).reshape(-1, 4, 2)[:, :3]
        points = np.empty((int(self._corners.max()) + 1, 2))
        points[self._corners.ravel()] = rings.reshape(-1, 2)
        return points

    @cached_property
    def _neighbours(self) -> list[list[tuple[int, int, int]]]:
        """By triangle: each neighbour with the two points of the side between."""
        sides: dict[tuple[int, int], list[int]] = {}
        for number, (a, b, c) in enumerate(self._corners.tolist()):
            for p, q in ((a, b), (b, c), (c, a)):
                sides.setdefault((min(p, q), max(p, q)), []).append(number)
        found: list[list[tuple[int, int, int]]] = [[] for _ in self._triangles]
        for (p, q), both in sides.items():
            for one in both:
                found[one] += [(other, p, q) for other in both if other != one]
        return found

    def _holding(self, place: shapely.Geometry) -> list[int]:
        found = self._tree.query(place, predicate="intersects").tolist()
        if not found and place.geom_type == "Point":
            # A point on the edge may be outside by a last digit.
            found = self._tree.query_nearest(place, max_distance=_ROUNDING).tolist()
        return sorted(found)

    def _channel(
        self, start: Corner, first: list[int], last: set[int], goals: shapely.Geometry
    ) -> list[int]:
        """Return the triangles of a short way, measured over the sides' middles."""
        west, south, east, north = goals.bounds

        def ahead(point: Corner) -> float:
            x, y = point
            return math.hypot(max(west - x, 0, x - east), max(south - y, 0, y - north))

        cost = dict.fromkeys(first, 0.0)
        came: dict[int, int] = {}
        at = dict.fromkeys(first, start)
        waiting = [(ahead(start), number) for number in first]
        heapq.heapify(waiting)
        done: set[int] = set()
        while waiting:
            _, here = heapq.heappop(waiting)
            if here in done:
                continue
            done.add(here)
            if here in last:
                return _back(here, came)
            for other, p, q in self._neighbours[here]:
                (ax, ay), (bx, by) = self._points[p], self._points[q]
                gate = (float(ax + bx) / 2, float(ay + by) / 2)
                total = cost[here] + math.dist(at[here], gate)
                if other not in done and total < cost.get(other, math.inf):
                    cost[other], came[other], at[other] = total, here, gate
                    heapq.heappush(waiting, (total + ahead(gate), other))
        return []

    def _gates(self, channel: list[int]) -> list[tuple[Corner, Corner]]:
        """Return the sides that are crossed, each with its left end first."""
        gates = []
        for here, after in pairwise(channel):
            _, p, q = next(one for one in self._neighbours[here] if one[0] == after)
            third = next(c for c in self._corners[here].tolist() if c not in (p, q))
            one, other, behind = (self._corner(n) for n in (p, q, third))
            # Seen from the third corner, what is left has it on its left-hand side.
            turn = _turn(behind, one, other)
            gates.append((other, one) if turn > 0 else (one, other))
        return gates

    def _corner(self, number: int) -> Corner:
        x, y = self._points[number].tolist()
        return x, y


_MOST = 64
"""Points of a round corner that are looked at together: more than a quarter has."""

_ROUNDING = 1e-7
"""Metres. How far a computed point may be off the line it was computed on."""


def _back(here: int, came: dict[int, int]) -> list[int]:
    channel = [here]
    while here in came:
        here = came[here]
        channel.append(here)
    return channel[::-1]


def _nearest(
    triangle: shapely.Polygon, goals: shapely.Geometry, start: Corner
) -> Corner:
    """Return the point of the goals in a triangle that is nearest to a point."""
    inside = goals.intersection(triangle)
    line = shapely.shortest_line(inside, shapely.Point(start))
    x, y = line.coords[0]
    return float(x), float(y)


def _turn(a: Corner, b: Corner, c: Corner) -> float:
    """Return twice the area of a triangle, above zero where it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _tight(
    start: Corner, end: Corner, gates: list[tuple[Corner, Corner]]
) -> tuple[Corner, ...]:
    """Pull a string tight through gates: the funnel of Lee and Preparata (1984)."""
    gates = [*gates, (end, end)]
    way = [start]
    apex = left = right = start
    left_at = right_at = here = 0
    while here < len(gates):
        new_left, new_right = gates[here]
        if _turn(apex, right, new_right) >= 0:
            if apex == right or _turn(apex, left, new_right) < 0:
                right, right_at = new_right, here
            else:
                way.append(left)
                apex = right = left
                here = right_at = left_at = left_at + 1
                continue
        if _turn(apex, left, new_left) <= 0:
            if apex == left or _turn(apex, right, new_left) > 0:
                left, left_at = new_left, here
            else:
                way.append(right)
                apex = left = right
                here = left_at = right_at = right_at + 1
                continue
        here += 1
    return _plain([*way, end])


def _meeting(a: Corner, b: Corner, c: Corner, d: Corner) -> Corner | None:
    """Return where the ways onwards from a to b and back from d to c meet, if ahead."""
    (ux, uy), (vx, vy) = (b[0] - a[0], b[1] - a[1]), (c[0] - d[0], c[1] - d[1])
    turn = ux * vy - uy * vx
    if abs(turn) <= _ROUNDING**2:
        return None
    wx, wy = d[0] - a[0], d[1] - a[1]
    along, back = (wx * vy - wy * vx) / turn, (wx * uy - wy * ux) / turn
    if along < 1 or back < 1:
        return None
    return a[0] + along * ux, a[1] + along * uy


def _plain(points: list[Corner]) -> tuple[Corner, ...]:
    """Leave out repeated points."""
    kept = points[:1]
    for point in points[1:]:
        if math.dist(point, kept[-1]) > _ROUNDING:
            kept.append(point)
    return tuple(kept)
