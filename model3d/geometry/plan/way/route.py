"""The shortest way through a polygon: across its triangles, then pulled tight."""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import shapely

from model3d.geometry.plan.way.string import tight, turn

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner

    _Side: TypeAlias = tuple[int, int, Corner]
    """The triangle beyond, the own corner that is off the side, the side's middle."""
    _Ahead: TypeAlias = dict[int, tuple[float, int | None]]


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
            first = [one for one in holding if one in ahead]
            if first:
                yield self._route(start, goal, ahead, first)

    def _route(
        self, start: Corner, goal: shapely.Geometry, ahead: _Ahead, first: list[int]
    ) -> tuple[Corner, ...]:
        channel = [min(first, key=lambda one: ahead[one][0])]
        while (after := ahead[channel[-1]][1]) is not None:
            channel.append(after)
        inside = self._triangles[channel[-1]].intersection(goal)
        line = shapely.shortest_line(inside, shapely.Point(start))
        x, y = line.coords[0]
        return tight(start, (float(x), float(y)), self._gates(channel))

    def nearest(self, area: shapely.Geometry, place: Corner) -> Corner | None:
        """Return the point of an area, within the polygon, that is nearest to a place.

        None where they have none in common.
        """
        near = self._triangles[self._tree.query(area, predicate="intersects")]
        if not len(near):
            return None
        pieces = shapely.intersection(near, area)
        lines = shapely.shortest_line(pieces, shapely.Point(place))
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
    def _corners(self) -> list[list[Corner]]:
        return [[(x, y) for x, y in ring] for ring in self._rings.tolist()]

    @cached_property
    def _names(self) -> NDArray[np.int64]:
        """Corners of the triangles as numbers of points, shape (n, 3)."""
        points = np.round(self._rings.reshape(-1, 2), 9)
        _, names = np.unique(points, axis=0, return_inverse=True)
        return np.asarray(names, dtype=np.int64).reshape(-1, 3)

    @cached_property
    def _neighbours(self) -> list[list[_Side]]:
        """By triangle: the sides that it has in common with others."""
        ends = np.sort(self._names[:, _OPPOSITE].reshape(-1, 2), axis=1)
        order = np.lexsort(ends.T)
        pairs = []
        # Rounding may put more than two sides on each other.
        for after in range(1, len(order)):
            alike = (ends[order[after:]] == ends[order[:-after]]).all(axis=1)
            if not alike.any():
                break
            pairs += [order[:-after][alike], order[after:][alike]]
        found: list[list[_Side]] = [[] for _ in self._names]
        if not pairs:
            return found
        side = np.concatenate(pairs)
        other = np.concatenate([pairs[n ^ 1] for n in range(len(pairs))])
        here, third = np.divmod(side, 3)
        corners = self._rings[here[:, None], _OPPOSITE[third]]
        rows = zip(
            here.tolist(),
            (other // 3).tolist(),
            third.tolist(),
            *(corners.sum(axis=1) / 2).T.tolist(),
            strict=True,
        )
        for number, beyond, corner, x, y in rows:
            if beyond != number:
                found[number].append((beyond, corner, (x, y)))
        return found

    @cached_property
    def _ahead(self) -> tuple[_Ahead, ...]:
        """By goal and triangle: how far it is to it, and the next triangle on the way.

        Measured over the middles of the sides, from the goal outwards.
        """
        return tuple(map(self._ahead_of, self.goals))

    def _ahead_of(self, goal: shapely.Geometry) -> _Ahead:
        found: _Ahead = {}
        first = self._tree.query(goal, predicate="intersects").tolist()
        waiting: list[tuple[float, int, int, Corner | None]] = [
            (0.0, number, -1, None) for number in sorted(first)
        ]
        while waiting:
            far, here, after, at = heapq.heappop(waiting)
            if here in found:
                continue
            found[here] = (far, None if after < 0 else after)
            for other, _, gate in self._neighbours[here]:
                if other not in found:
                    step = 0.0 if at is None else math.dist(at, gate)
                    heapq.heappush(waiting, (far + step, other, here, gate))
        return found

    def _holding(self, place: Corner) -> list[int]:
        point = shapely.Point(place)
        found: list[int] = self._tree.query(point, predicate="intersects").tolist()
        if not found:
            # A point on the edge may be outside by a last digit.
            found = self._tree.query_nearest(point, max_distance=_ROUNDING).tolist()
        return sorted(found)

    def _gates(self, channel: list[int]) -> list[tuple[Corner, Corner]]:
        """Return the sides that are crossed, each with its left end first."""
        known = self._known_gates
        sides = [*pairwise(channel)]
        for here, after in sides:
            # Many ways come through the same side of a triangle.
            if (here, after) not in known:
                known[here, after] = self._gate(here, after)
        return [known[side] for side in sides]

    def _gate(self, here: int, after: int) -> tuple[Corner, Corner]:
        third = next(side[1] for side in self._neighbours[here] if side[0] == after)
        one, other, behind = (self._corners[here][third - n] for n in (2, 1, 0))
        is_left = turn(behind, one, other) > 0
        return (other, one) if is_left else (one, other)

    @cached_property
    def _known_gates(self) -> dict[tuple[int, int], tuple[Corner, Corner]]:
        return {}


_OPPOSITE = np.array([(1, 2), (2, 0), (0, 1)])
"""By corner of a triangle: the two others, which are the ends of the side off it."""

_ROUNDING = 1e-7
"""Metres. How far a computed point may be off the line it was computed on."""
