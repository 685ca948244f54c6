"""What stands in for an item at all places of a part of its map at once.

Whoever comes past all that an item takes at any of some places comes past it at each of
them: a thing in the way never makes a way wider.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.open_leaves import leaf_name
from model3d.geometry.bodies.shapes import prism
from model3d.geometry.bodies.solid import Box
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.outline import hull_of
from model3d.rules import entrance
from model3d.scene.kinds import KINDS
from model3d.standing.leaves import taken_leaves
from model3d.standing.placed import Placed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.frame import Frame
    from model3d.mending.map.posed import Posed

    Points = NDArray[np.float64]

_TINY: Final = 1e-4
"""Metres. As large as what stands in for something that is nowhere."""
_SAME: Final = 1e-9
"""Metres, and cosine of a right angle: rounding."""


@dataclass(frozen=True)
class StandIn:
    """One body of what moves: a thing, or a leaf of it that stands open.

    Attributes:
        placed: What stands in, with no front: nobody works at it.
        hull: Its convex plan where nothing is displaced, shape (n, 2).
        bottom, top: World heights, metres.
        is_leaf: It is a leaf.
    """

    placed: Placed
    hull: Points
    bottom: float
    top: float
    is_leaf: bool = False

    def over(self, frame: Frame, moves: Points) -> Placed:
        """Return all that it takes at any of some displacements.

        Args:
            frame: In whose axes a box is drawn as a box.
            moves: The displacements, of which it takes all between too, shape (n, 2).
        """
        points = (self.hull[:, None] + moves[None]).reshape(-1, 2)
        return replace(self.placed, solid=_upright(points, frame, self))

    def nowhere(self, frame: Frame, corner: tuple[float, float, float]) -> Placed:
        """Return it as if it were nowhere: too small to be in anybody's way."""
        x, y, z = corner
        at = replace(frame, x=x, y=y, right=(1.0, 0.0), out=(0.0, 1.0))
        return replace(self.placed, solid=Box(at, _TINY, _TINY, z, z + _TINY))


def _upright(points: Points, frame: Frame, one: StandIn) -> Solid:
    hull = hull_of(points)
    ring = flat.get_coordinates(hull.exterior)[:-1]
    seen = np.array([frame.to_frame(x, y) for x, y in ring.tolist()])
    low, high = seen.min(axis=0), seen.max(axis=0)
    if abs(hull.area - float((high - low).prod())) <= _SAME:
        wide, deep = (high - low).tolist()
        corner = frame.moved(*low.tolist())
        return Box(corner, wide, deep, one.bottom, one.top)
    ring = ring if hull.exterior.is_ccw else ring[::-1]
    count = len(ring)
    fan = np.array([(0, n, n + 1) for n in range(1, count - 1)])
    return prism(ring, one.bottom, one.top, fan)


@dataclass(frozen=True)
class StandIns:
    """All bodies that stand in for an item and what it carries.

    Attributes:
        posed: The item.
        doors: Whether its leaves count, which stand open.
    """

    posed: Posed
    doors: bool

    @property
    def frame(self) -> Frame:
        """The axes of the item."""
        return self.posed.front.frame

    @cached_property
    def bodies(self) -> tuple[StandIn, ...]:
        """The things and their open leaves."""
        return tuple(self._bodies())

    def _bodies(self) -> Iterator[StandIn]:
        for mover in self.posed.movers:
            (_, _, low), (_, _, high) = mover.solid.bounds
            plan = footprint(mover.solid, low, high)
            blind = replace(mover, front=None, live=False)
            yield StandIn(blind, flat.get_coordinates(plan.convex_hull), low, high)
            if self.doors:
                yield from self._leaves(mover)

    def _leaves(self, mover: Placed) -> Iterator[StandIn]:
        """Yield the leaves of a thing, open at a right angle."""
        leaves, _ = taken_leaves(mover, self.posed.situation.scene)
        for number, leaf in enumerate(leaves):
            ends = [leaf.frame.to_plan(0.0, v) for v in (0.0, leaf.radius)]
            plate = flat.LineString(ends).buffer(_TINY / 2, cap_style="flat")
            name = f"{leaf_name(mover.id)} {number}"
            solid = Box(leaf.frame, _TINY, _TINY, leaf.bottom, leaf.top)
            placed = Placed(name, KINDS["obstacle"], None, solid)
            yield StandIn(
                placed, flat.get_coordinates(plate), leaf.bottom, leaf.top, is_leaf=True
            )

    def over(self, moves: Points) -> dict[str, Placed]:
        """Return all that is taken at any of some displacements, by id."""
        return {one.placed.id: one.over(self.frame, moves) for one in self.bodies}

    def nowhere(self, corner: tuple[float, float, float]) -> dict[str, Placed]:
        """Return the same as if it were nowhere."""
        return {one.placed.id: one.nowhere(self.frame, corner) for one in self.bodies}

    def plans(self, moves: Points) -> list[tuple[StandIn, flat.Geometry]]:
        """Return each body with the plan of all that it takes."""
        return [
            (one, hull_of((one.hull[:, None] + moves[None]).reshape(-1, 2)))
            for one in self.bodies
        ]


def stand_ins_of(posed: Posed) -> StandIns:
    """Return what stands in for an item, and for its leaves where a book asks so."""
    entry = posed.situation.book.entry(entrance.TABLES[1])
    return StandIns(posed, entry.given and "none" not in entry.words("applies"))
