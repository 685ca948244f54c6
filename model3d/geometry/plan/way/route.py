"""The shortest way through a polygon: across its triangles, then pulled tight."""

from __future__ import annotations

import heapq
import math
from array import array
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import shapely

from model3d.geometry.plan.way.string import tight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner


@dataclass(frozen=True, slots=True)
class _Sides:
    """The sides that triangles have in common, those of a triangle one after another.

    Attributes:
        first: By triangle, which of the sides is its first; at the end how many.
        beyond: Of each side the triangle beyond it.
        own: Of each side the triangle that it is one of.
        middles: Its middle, metres, shape (n, 2).
        ends: Its ends, the left one of who goes beyond first, metres, shape (n, 2, 2).
    """

    first: array[int]
    beyond: array[int]
    own: NDArray[np.int64]
    middles: NDArray[np.float64]
    ends: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Ahead:
    """The ways to one goal.

    Attributes:
        far: By triangle how far it is, metres; infinite where no way leads there.
        gate: The side by which the way goes on; -1 at the goal.
    """

    far: array[float]
    gate: array[int]


@dataclass(frozen=True, eq=False)
class Net:
    """A polygon cut into triangles, with the way from each of them to the goals.

    Attributes:
        plan: The polygon.
        goals: Where ways end; within the polygon.
    """

    plan: shapely.Polygon
    goals: tuple[shapely.Geometry, ...]

    def routes(self, start: Corner) -> Iterator[tuple[Corner, ...]]:
        """Yield the points of a short way from a point of the polygon to each goal.

        None where the point is not in the polygon, or no goal is reached.
        """
        holding = self._holding(start)
        for goal, ahead in zip(self.goals, self._ahead, strict=True):
            first = [one for one in holding if ahead.far[one] < math.inf]
            if first:
                yield self._route(start, goal, ahead, first)

    def _route(
        self, start: Corner, goal: shapely.Geometry, ahead: _Ahead, first: list[int]
    ) -> tuple[Corner, ...]:
        here = min(first, key=ahead.far.__getitem__)
        gates, beyond = [], self._sides.beyond
        while (gate := ahead.gate[here]) >= 0:
            gates.append(gate)
            here = beyond[gate]
        inside = self._triangles[here].intersection(goal)
        line = shapely.shortest_line(inside, shapely.Point(start))
        x, y = line.coords[0]
        passed = self._sides.ends[gates].reshape(-1, 4).tolist()
        ends = [((a, b), (c, d)) for a, b, c, d in passed]
        return tight(start, (float(x), float(y)), ends)

    def nearest(self, area: shapely.Geometry, place: Corner) -> Corner | None:
        """Return the point of an area, within the polygon, that is nearest to a place.

        None where they have none in common.
        """
        near = self._triangles[self._tree.query(area, predicate="intersects")]
        if not len(near):
            return None
        spot = shapely.Point(place)
        # No part of a triangle is nearer than all of it is.
        away = shapely.distance(near, spot)
        first = near[int(away.argmin())]
        far = shapely.distance(shapely.intersection(first, area), spot) + _ROUNDING
        near = near[~(away > far)]
        lines = shapely.shortest_line(shapely.intersection(near, area), spot)
        x, y = lines[int(shapely.length(lines).argmin())].coords[0]
        return float(x), float(y)

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
    def _rings(self) -> NDArray[np.float64]:
        """Corners of the triangles, shape (n, 3, 2)."""
        points = shapely.get_coordinates(self._triangles)
        rings: NDArray[np.float64] = points.reshape(-1, 4, 2)[:, :3]
        return rings

    @cached_property
    def _sides(self) -> _Sides:
        """The sides that triangles have in common with others."""
        points = np.round(self._rings.reshape(-1, 2), 9)
        _, names = np.unique(points, axis=0, return_inverse=True)
        ends = np.sort(names.reshape(-1, 3)[:, _OPPOSITE].reshape(-1, 2), axis=1)
        order = np.lexsort(ends.T)
        pairs = [np.zeros((2, 0), dtype=np.int64)]
        # Rounding may put more than two sides on each other.
        for after in range(1, len(order)):
            alike = (ends[order[after:]] == ends[order[:-after]]).all(axis=1)
            if not alike.any():
                break
            one, other = order[:-after][alike], order[after:][alike]
            pairs += [np.stack([one, other]), np.stack([other, one])]
        side, other = np.concatenate(pairs, axis=1)
        here, off = np.divmod(side, 3)
        beyond = other // 3
        kept = np.flatnonzero(beyond != here)
        kept = kept[np.argsort(here[kept], kind="stable")]
        here, off = here[kept], off[kept]
        corners = self._rings[here[:, None], _OPPOSITE[off]]
        first = np.searchsorted(here, np.arange(len(self._rings) + 1))
        # The side from the corner behind it, with its left end first.
        behind = self._rings[here, off]
        ends = self._rings[here[:, None], (off[:, None] - _BEFORE) % 3]
        (ux, uy), (vx, vy) = (ends - behind[:, None]).transpose(1, 2, 0)
        ends[ux * vy - uy * vx > 0] = ends[ux * vy - uy * vx > 0, ::-1]
        return _Sides(
            array("q", first.tolist()),
            array("q", beyond[kept].tolist()),
            here,
            corners.sum(axis=1) / 2,
            ends,
        )

    @cached_property
    def _ahead(self) -> tuple[_Ahead, ...]:
        """By goal: how far it is to it, and the next triangle on the way.

        Measured over the middles of the sides, from the goal outwards.
        """
        # Each by itself: pairs of numbers take four times the memory.
        x, y = (array("d", one.tobytes()) for one in self._sides.middles.T)
        return tuple(self._ahead_of(goal, x, y) for goal in self.goals)

    def _ahead_of(
        self, goal: shapely.Geometry, x: array[float], y: array[float]
    ) -> _Ahead:
        first, beyond = self._sides.first, self._sides.beyond
        far = array("d", [math.inf]) * len(self._rings)
        next_one = array("q", [-1]) * len(self._rings)
        begin = self._tree.query(goal, predicate="intersects").tolist()
        # How far, the triangle, the next one, and the side that is come through.
        waiting = [(0.0, number, -1, -1) for number in sorted(begin)]
        while waiting:
            away, here, after, at = heapq.heappop(waiting)
            if far[here] < math.inf:
                continue
            far[here], next_one[here] = away, after
            for side in range(first[here], first[here + 1]):
                other = beyond[side]
                if far[other] == math.inf:
                    step = math.hypot(x[at] - x[side], y[at] - y[side])
                    on = away + (step if at >= 0 else 0.0)
                    heapq.heappush(waiting, (on, other, here, side))
        return _Ahead(far, self._gates(next_one))

    def _gates(self, after: array[int]) -> array[int]:
        """Return by triangle the side to the next one; -1 where there is none."""
        sides, to = self._sides, np.array(after, dtype=np.int64)
        leads = (np.array(sides.beyond, dtype=np.int64) == to[sides.own]).nonzero()[0]
        # Rounding may give two triangles more than one side in common.
        here, which = np.unique(sides.own[leads], return_index=True)
        found = np.full(len(to), -1)
        found[here] = leads[which]
        return array("q", found.tolist())

    def _holding(self, place: Corner) -> list[int]:
        point = shapely.Point(place)
        found: list[int] = self._tree.query(point, predicate="intersects").tolist()
        if not found:
            # A point on the edge may be outside by a last digit.
            found = self._tree.query_nearest(point, max_distance=_ROUNDING).tolist()
        return sorted(found)


_OPPOSITE = np.array([(1, 2), (2, 0), (0, 1)])
"""By corner of a triangle: the two others, which are the ends of the side off it."""

_BEFORE = np.array([2, 1])
"""How many corners before a corner of a triangle the ends of the side off it are."""

_ROUNDING = 1e-7
"""Metres. How far a computed point may be off the line it was computed on."""
