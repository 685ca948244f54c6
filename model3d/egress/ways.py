"""The ways of one room: floors, leaves and stands, each worked out once."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import shapely
from shapely.ops import substring

from model3d.egress.exits import exits
from model3d.egress.floor import CONTACT, Floor
from model3d.egress.footprint import footprint
from model3d.egress.leaves import open_leaves
from model3d.egress.overlay import joined, less
from model3d.egress.stand import stand_at
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Plan
    from model3d.egress.leaves import OpenLeaf
    from model3d.egress.second_way import Answer
    from model3d.egress.stand import Stand
    from model3d.results import Way
    from model3d.scene.placed import Front, Placed
    from model3d.situation import Situation

Doors: TypeAlias = Literal["shut", "stated", "all"]
"""Equipment doors: all shut; open those of which something is said; open every one."""

_FLOORS: Final = ("platform", "pad")


class Ways:
    """Answers for one room what rules ask about its ways in and out.

    Attributes:
        second: Answers on second ways out, by what was asked: sections share them.
    """

    def __init__(self, situation: Situation) -> None:
        """Remember the room; nothing is worked out before it is asked for."""
        self._situation = situation
        self._floors: dict[tuple[float, Doors, bool], Floor] = {}
        self._stands: dict[tuple[str, Front | None], Stand] = {}
        self.second: dict[tuple[object, ...], Answer] = {}
        self._overhead: dict[
            float, tuple[list[float], list[shapely.Geometry], shapely.STRtree]
        ] = {}

    @cached_property
    def exits(self) -> tuple[Exit, ...]:
        """Every way out of the room, high enough or not."""
        return exits(self._situation)

    @cached_property
    def leaves(self) -> tuple[OpenLeaf, ...]:
        """The leaves of all equipment, where they stand open."""
        return open_leaves(self._situation)

    @cached_property
    def step(self) -> float:
        """What a person steps over or onto, metres."""
        entry = self._situation.book.entry("entrance")
        return self._situation.most(entry.figure("step"))

    def stand(self, item: Placed) -> Stand:
        """Return where a person stands who works at an item, or at a side of it."""
        where = item.id, item.front
        if where not in self._stands:
            self._stands[where] = stand_at(item, self._situation)
        return self._stands[where]

    @cached_property
    def _raised(self) -> frozenset[str]:
        """Platforms and pads that are more than a step high, and holes as deep."""
        return frozenset(
            placed.id
            for placed in self._situation.items
            if (placed.kind.name in _FLOORS and placed.top > self.step + TOUCH)
            or self._is_pit(placed)
        )

    def _is_pit(self, placed: Placed) -> bool:
        """Tell whether it is a hole that nobody steps into or walks across."""
        return placed.kind.hole and placed.top - placed.bottom > self.step + TOUCH

    @cached_property
    def climbable(self) -> bool:
        """Whether a platform, a threshold or a hole is more than a step."""
        sills = (one.sill for one in self.exits)
        return bool(self._raised) or any(sill > self.step + TOUCH for sill in sills)

    def floor(
        self, height: float, doors: Doors = "shut", *, climbing: bool = False
    ) -> Floor:
        """Return the free floor for a person of a height.

        Args:
            height: Metres.
            doors: Which equipment doors stand open.
            climbing: Take what is more than a step high for floor too, and a pit as if
                it were covered, and go through doors with a threshold as high.
        """
        key = (height, doors, climbing)
        if key not in self._floors:
            if doors == "shut":
                found = self._floor(height, climbing=climbing)
            else:
                plans = self._leaves(height, assumed=doors == "all")
                below: Doors = "shut" if doors == "stated" else "stated"
                found = self.floor(height, below, climbing=climbing)
                found = found.with_obstacles(plans)
            self._floors[key] = found
        return self._floors[key]

    def _leaves(self, height: float, *, assumed: bool) -> list[Plan]:
        """Return the open leaves that a person of a height meets."""
        return [
            (f"the door of {leaf.item}", leaf.plan)
            for leaf in self.leaves
            if leaf.assumed == assumed
            and min(leaf.top, height) - max(leaf.bottom, self.step) > TOUCH
        ]

    def heights(self, height: float, least: float) -> list[float]:
        """Return the heights below one at which something ends, the lowest first.

        Between two of them the floor is the same.
        """
        items = self._situation.items
        carried = [0.0, *(p.top for p in items if p.kind.name in _FLOORS)]
        found = {placed.bottom - top for placed in items for top in carried}
        found |= {one.height for one in self.exits}
        return sorted(
            one for one in found if max(least, self.step) <= one < height - TOUCH
        )

    def clear_height(
        self, way: Way, width: float, height: float, *, climbing: bool = False
    ) -> float:
        """Return how high a way is clear where a person of a width goes, metres.

        Args:
            way: A way that was found.
            width: Metres.
            height: That is clear for certain, metres.
            climbing: Whether it may go over platforms more than a step high.
        """
        if not way.points:
            return height
        radius = min(width, way.narrowest) / 2 - CONTACT
        strip = shapely.LineString([*way.points, way.points[-1]]).buffer(radius)
        (exit_,) = (one for one in self.exits if one.id == way.door)
        bottoms, plans, tree = self._above(height)
        _, levels = self._carriers(height, climbing=climbing)
        found = [exit_.height]
        for number in tree.query(strip, predicate="intersects").tolist():
            below = plans[number].intersection(strip)
            if below.area > TOUCH**2:
                tops = [
                    top
                    for top, carriers in levels.items()
                    if any(one.intersection(below).area > TOUCH**2 for one in carriers)
                ]
                found.append(max(bottoms[number] - max(tops, default=0.0), height))
        return float(min(found))

    def _above(
        self, height: float
    ) -> tuple[list[float], list[shapely.Geometry], shapely.STRtree]:
        """Return what is above a height: undersides, shapes in plan and their tree."""
        if height not in self._overhead:
            far = float("inf")
            found = [
                (one.bottom, footprint(one.solid, height, far, convex=_is_run(one)))
                for one in self._solids()
            ]
            found = [(bottom, plan) for bottom, plan in found if not plan.is_empty]
            plans = [plan for _, plan in found]
            bottoms = [bottom for bottom, _ in found]
            self._overhead[height] = (bottoms, plans, shapely.STRtree(plans))
        return self._overhead[height]

    def _floor(self, height: float, *, climbing: bool) -> Floor:
        used = tuple(
            one
            for one in self.exits
            if one.height >= height - TOUCH
            and (climbing or one.sill <= self.step + TOUCH)
        )
        outline = self._situation.arrangement.shell.outline
        room = [shapely.Polygon(outline)] if outline else []
        region = joined([*room, *(one.passage for one in used)])
        plans = self._standing(height, climbing=climbing)
        return Floor(region, used, self._walls(used), tuple(plans))

    def _standing(self, height: float, *, climbing: bool) -> Iterator[Plan]:
        """Yield what stands on the floor, on low platforms too.

        Somebody who stands on a platform has what is above it nearer to the head, and
        is above what is lower.
        """
        floors, levels = self._carriers(height, climbing=climbing)
        others = [one for one in self._solids() if one.id not in floors]
        carried = [one for plans in levels.values() for one in plans]
        for placed in others:
            if self._is_pit(placed):
                hole = footprint(placed.solid, placed.bottom, placed.top)
                yield placed.id, less(hole, carried)
            yield placed.id, less(self._plan(placed, 0.0, height), carried)
        above: list[shapely.Geometry] = []
        for top in sorted(levels, reverse=True):
            here = less(joined(levels[top]), above)
            for placed in others:
                yield placed.id, self._plan(placed, top, height).intersection(here)
            above += levels[top]

    def _carriers(
        self, height: float, *, climbing: bool
    ) -> tuple[set[str], dict[float, list[shapely.Geometry]]]:
        """Return the platforms and pads that are floor: their ids, and plans by top.

        So is a pit that somebody gets across.
        """
        raised = self._raised if climbing else frozenset[str]()
        levels: dict[float, list[shapely.Geometry]] = {}
        floors = set()
        for placed in self._solids():
            flat = placed.kind.name in _FLOORS and placed.top > TOUCH
            low = flat and placed.top <= self.step + TOUCH
            if low or (placed.id in raised and placed.bottom < height - TOUCH):
                plan = footprint(placed.solid, placed.bottom, placed.top)
                levels.setdefault(round(placed.top, 6), []).append(plan)
                floors.add(placed.id)
        return floors, levels

    def _plan(self, placed: Placed, level: float, height: float) -> shapely.Geometry:
        low, high = level + self.step, level + height
        return footprint(placed.solid, low, high, convex=_is_run(placed))

    def _solids(self) -> Iterator[Placed]:
        """Yield what may be in the way: not the floor, nor the walls of the room."""
        for placed in self._situation.items:
            if not placed.of_room or placed.kind.name == "ceiling":
                yield placed

    def _walls(self, used: tuple[Exit, ...]) -> tuple[Plan, ...]:
        """Return walls as lines without openings, and the sides of what is beyond."""
        openings = [one.opening for one in used if one.opening is not None]
        found: list[Plan] = []
        for line in self._situation.arrangement.shell.lines:
            whole = shapely.LineString([line.start, line.end])
            holes = sorted(
                sorted(whole.project(shapely.Point(end)) for end in opening.coords)
                for opening in openings
                if whole.distance(opening.interpolate(0.5, normalized=True)) <= TOUCH
            )
            here = 0.0
            for low, high in [*holes, [whole.length, whole.length]]:
                if low - here > TOUCH:
                    found.append((line.id, substring(whole, here, low)))
                here = max(here, high)
        return (*found, *((one.id, side) for one in used for side in one.sides))


def _is_run(placed: Placed) -> bool:
    """Tell whether a body is a run from one point to another: those are convex."""
    return placed.item is not None and placed.item.from_ is not None
