"""The ways of one room: floors, leaves and stands, each worked out once."""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

from model3d.egress.bays import OpenFloor
from model3d.egress.exits import BODY, exits
from model3d.egress.floor import CONTACT, Floor
from model3d.egress.joint_front import rows
from model3d.egress.levels import CLIMB, Level, edges, is_run, levels, risers
from model3d.egress.open_leaves import named, open_leaves
from model3d.egress.stand import stand_at
from model3d.geometry.plan import flat
from model3d.geometry.plan.flat import substring
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import joined, less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.egress.exits import Exit, Plan
    from model3d.egress.joint_front import Row
    from model3d.egress.levels import Gait
    from model3d.egress.open_leaves import OpenLeaf
    from model3d.egress.stand import Stand
    from model3d.judging.results import Way
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

Doors: TypeAlias = Literal["shut", "stated", "all"]
"""Equipment doors: all shut; open those of which something is said; open every one."""


def ways_of(situation: Situation) -> Ways:
    """Return the ways in and out of a room."""
    return situation.remembered(Ways)


class Ways:
    """Answers for one room what rules ask about its ways in and out.

    What may be asked of it is worked out once: ask ``ways_of`` for it.
    """

    def __init__(self, situation: Situation) -> None:
        """Remember the room; nothing is worked out before it is asked for."""
        self._situation = situation
        self._floors: dict[tuple[float, Doors, Gait], Floor] = {}
        self._levels: dict[tuple[float, Gait], tuple[Level, ...]] = {}
        self._stands: dict[tuple[str, Front | None], Stand] = {}
        self._met: dict[tuple[float, Doors], tuple[OpenLeaf, ...]] = {}
        self._opened: dict[tuple[float, Doors], OpenFloor] = {}
        self._standing_on: dict[tuple[Stand, Floor], flat.Geometry] = {}
        self._heights: dict[tuple[float, float, Gait], list[float]] = {}
        self._shadows: dict[tuple[str, float, float], flat.Geometry] = {}
        self._overhead: dict[
            float, tuple[list[float], list[flat.Geometry], flat.STRtree]
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

    def standing(self, stand: Stand, floor: Floor) -> flat.Geometry:
        """Return the free floor in front of an item, within its working space."""
        key = (stand, floor)
        if key not in self._standing_on:
            self._standing_on[key] = stand.standing(floor)
        return self._standing_on[key]

    @cached_property
    def _outside(self) -> tuple[Level, ...]:
        """What the exits lead to: as high as their thresholds."""
        return tuple(
            Level(one.id, one.sill, one.passage)
            for one in self.exits
            if one.opening is not None
        )

    def _walked(self, height: float, gait: Gait) -> tuple[Level, ...]:
        """Return what a person of a height walks on besides the floor itself."""
        key = (height, gait)
        if key not in self._levels:
            items = self._situation.items
            self._levels[key] = levels(items, self._outside, self.step, gait, height)
        return self._levels[key]

    @cached_property
    def _pits(self) -> frozenset[str]:
        """Holes that nobody steps into or walks across."""
        return frozenset(
            placed.id
            for placed in self._situation.items
            if placed.kind.hole and placed.top - placed.bottom > self.step + TOUCH
        )

    def climbable(self, height: float) -> bool:
        """Tell whether there is more floor for somebody who climbs."""
        if self._pits or self._used(height, "step") != self._used(height, "climb"):
            return True
        walked = self._walked(height, "climb")
        return any(one.top > self.step + TOUCH for one in walked)

    def floor(
        self, height: float, doors: Doors = "shut", *, gait: Gait = "step"
    ) -> Floor:
        """Return the free floor for a person of a height.

        Args:
            height: Metres.
            doors: Which equipment doors stand open.
            gait: On steps only; or over what can be climbed too, and across pits as if
                they were covered; or anyhow, wherever platforms are.
        """
        key = (height, doors, gait)
        if key not in self._floors:
            if doors == "shut":
                found = self._floor(height, gait)
            else:
                assumed = doors == "all"
                below: Doors = "stated" if assumed else "shut"
                plans = [
                    named(leaf)
                    for leaf in self.standing_leaves(height, doors)
                    if leaf.assumed == assumed
                ]
                found = self.floor(height, below, gait=gait)
                found = found.with_obstacles(plans)
            self._floors[key] = found
        return self._floors[key]

    def standing_leaves(self, height: float, doors: Doors) -> tuple[OpenLeaf, ...]:
        """Return the open leaves that a person of a height meets."""
        key = (height, doors)
        if key not in self._met:
            self._met[key] = tuple(
                leaf
                for leaf in self.leaves
                if (doors == "all" or not leaf.assumed)
                and min(leaf.top, height) - max(leaf.bottom, self.step) > TOUCH
            )
        return self._met[key]

    def opened(self, height: float, doors: Doors) -> OpenFloor:
        """Return the floor with equipment doors open on it."""
        key = (height, doors)
        if key not in self._opened:
            leaves = self.standing_leaves(height, doors)
            self._opened[key] = OpenFloor(self.floor(height, doors), leaves)
        return self._opened[key]

    def opened_but(self, height: float, leaf: OpenLeaf) -> OpenFloor:
        """Return the floor with all equipment doors open on it but one of a guess."""
        leaves = tuple(o for o in self.standing_leaves(height, "all") if o is not leaf)
        plans = [named(one) for one in leaves if one.assumed]
        floor = self.floor(height, "stated").with_obstacles(plans)
        return OpenFloor(floor, leaves)

    @cached_property
    def rows(self) -> Mapping[str, Row]:
        """By item that is worked at or has leaves, the row that it is in."""
        hung = {leaf.item for leaf in self.leaves}
        items = [one for one in self._situation.items if one.live or one.id in hung]
        return {one.id: row for row in rows(items) for one in row.items}

    def row(self, item: Placed) -> Row:
        """Return the row of an item; of a side of it, that alone."""
        found = self.rows.get(item.id)
        if found is not None and any(one.front == item.front for one in found.items):
            return found
        (alone,) = rows([item])
        return alone

    def heights(self, height: float, least: float, gait: Gait = "step") -> list[float]:
        """Return the heights below one at which something ends, the lowest first.

        Between two of them the floor is the same.
        """
        key = (height, least, gait)
        if key not in self._heights:
            items = self._situation.items
            tops = {0.0, *(one.top for one in self._walked(height, gait))}
            found = {placed.bottom - top for placed in items for top in tops}
            found |= {one.height for one in self.exits}
            lowest = max(least, self.step)
            self._heights[key] = sorted(
                one for one in found if lowest <= one < height - TOUCH
            )
        return self._heights[key]

    def clear_height(
        self, way: Way, width: float, height: float, gait: Gait = "step"
    ) -> float:
        """Return how high a way is clear where a person of a width goes, metres.

        Args:
            way: A way that was found.
            width: Metres.
            height: That is clear for certain, metres.
            gait: How somebody goes there.
        """
        if not way.points:
            return height
        strip = _strip(way, width)
        floor = self.floor(height, gait=gait)
        (exit_,) = (one for one in self.exits if one.id == way.door)
        bottoms, plans, tree = self._above(height)
        walked = self._walked(height, gait)
        found = [exit_.height]
        highest = max((one.top for one in walked), default=0.0)
        near = tree.query(strip, predicate="intersects").tolist()
        for number in sorted(near, key=lambda one: bottoms[one]):
            if bottoms[number] - highest >= min(found):
                break
            # A way may be drawn nearer to what it passes than the person is wide.
            below = floor.free(plans[number].intersection(strip)).buffer(-TOUCH)
            if below.area > TOUCH**2:
                tops = [
                    one.top
                    for one in walked
                    if one.plan.intersection(below).area > TOUCH**2
                ]
                found.append(max(bottoms[number] - max(tops, default=0.0), height))
        return float(min(found))

    def climbed(
        self, way: Way, width: float, height: float, gait: Gait
    ) -> dict[str, float]:
        """Return what a way goes up or down by more than a step, by id.

        Each with the height of its riser, metres; a pit with its depth.
        """
        if not way.points:
            return {}
        walked = self._walked(height, gait)
        line = flat.LineString([*way.points, way.points[-1]])
        strip = _strip(way, width)
        found = {
            name: riser
            for name, riser in risers(line, walked, self._outside).items()
            if riser > self.step + TOUCH
        }
        for placed in self._situation.items:
            if placed.id in self._pits:
                hole = footprint(placed.solid, placed.bottom, placed.top)
                bare = less(hole, [one.plan for one in walked])
                if bare.intersection(strip).area > TOUCH**2:
                    found[placed.id] = placed.top - placed.bottom
        return found

    def _above(
        self, height: float
    ) -> tuple[list[float], list[flat.Geometry], flat.STRtree]:
        """Return what is above a height: undersides, shapes in plan and their tree."""
        if height not in self._overhead:
            far = float("inf")
            found = [
                (one.bottom, self._shadow(one, height, far)) for one in self._solids()
            ]
            found = [(bottom, plan) for bottom, plan in found if not plan.is_empty]
            plans = [plan for _, plan in found]
            bottoms = [bottom for bottom, _ in found]
            self._overhead[height] = (bottoms, plans, flat.STRtree(plans))
        return self._overhead[height]

    def _used(self, height: float, gait: Gait) -> tuple[Exit, ...]:
        """Return the exits that a person of a height gets through."""
        limit = {"step": self.step, "climb": CLIMB}.get(gait, float("inf"))
        walked = self._walked(height, gait)

        def is_reached(one: Exit) -> bool:
            return one.sill <= limit + TOUCH or any(
                abs(level.top - one.sill) <= limit + TOUCH
                and level.plan.distance(one.passage) <= TOUCH
                for level in walked
            )

        return tuple(
            one
            for one in self.exits
            if one.height >= height - TOUCH and one.widest >= BODY and is_reached(one)
        )

    def _floor(self, height: float, gait: Gait) -> Floor:
        used = self._used(height, gait)
        outline = self._situation.arrangement.shell.outline
        room = [flat.Polygon(outline)] if outline else []
        region = joined([*room, *(one.passage for one in used)])
        plans = self._standing(height, gait)
        return Floor(region, used, self._walls(used), tuple(plans))

    def _standing(self, height: float, gait: Gait) -> Iterator[Plan]:
        """Yield what stands on the floor, and on what else is walked on.

        Somebody who stands on a platform has what is above it nearer to the head, and
        is above what is lower.
        """
        walked = self._walked(height, gait)
        names = {one.id for one in walked}
        others = [one for one in self._solids() if one.id not in names]
        carried = [one.plan for one in walked]
        for placed in others:
            if gait == "step" and placed.id in self._pits:
                hole = footprint(placed.solid, placed.bottom, placed.top)
                yield placed.id, less(hole, carried)
            yield placed.id, less(self._plan(placed, 0.0, height), carried)
        for level in walked:
            west, south, east, north = level.plan.bounds
            for placed in others:
                (left, back, _), (right, front, _) = placed.solid.bounds
                if left < east and right > west and back < north and front > south:
                    plan = self._plan(placed, level.top, height)
                    yield placed.id, plan.intersection(level.plan)
        if gait != "anyhow":
            limit = self.step if gait == "step" else CLIMB
            beyond = {one.id for one in self._outside}
            for name, edge in edges(walked, self._outside, limit):
                # Who is on a threshold is outside: what lies beyond bars nobody.
                if name not in beyond or self._is_in_room(edge):
                    yield name, edge

    def _is_in_room(self, edge: flat.Geometry) -> bool:
        outline = self._situation.arrangement.shell.outline
        return bool(flat.Polygon(outline).dwithin(edge.centroid, TOUCH))

    def _plan(self, placed: Placed, level: float, height: float) -> flat.Geometry:
        return self._shadow(placed, level + self.step, level + height)

    def _shadow(self, placed: Placed, low: float, high: float) -> flat.Geometry:
        """Return the footprint of what stands between two heights.

        It is worked out once for all that are well below it, or well above.
        """
        lowest = low if low > placed.bottom - TOUCH else -math.inf
        highest = high if high < placed.top + TOUCH else math.inf
        key = (placed.id, lowest, highest)
        if key not in self._shadows:
            self._shadows[key] = footprint(
                placed.solid, low, high, convex=is_run(placed)
            )
        return self._shadows[key]

    def _solids(self) -> Iterator[Placed]:
        """Yield what may be in the way: not the floor, nor the walls of the room."""
        for placed in self._situation.items:
            if not placed.of_room or placed.kind.ceiling:
                yield placed

    def _walls(self, used: tuple[Exit, ...]) -> tuple[Plan, ...]:
        """Return walls as lines without openings, and the sides of what is beyond."""
        openings = [one.gap for one in used if one.gap is not None]
        found: list[Plan] = []
        for line in self._situation.arrangement.shell.lines:
            whole = flat.LineString([line.start, line.end])
            holes = sorted(
                sorted(whole.project(flat.Point(end)) for end in opening.coords)
                for opening in openings
                if whole.distance(opening.interpolate(0.5, normalized=True)) <= TOUCH
            )
            here = 0.0
            for low, high in [*holes, [whole.length, whole.length]]:
                if low - here > TOUCH:
                    found.append((line.id, substring(whole, here, low)))
                here = max(here, high)
        return (*found, *((one.id, side) for one in used for side in one.sides))


def _strip(way: Way, width: float) -> flat.Geometry:
    """Return where a person of a width goes, who takes no more room than there is."""
    radius = min(width, way.narrowest) / 2 - CONTACT
    return flat.LineString([*way.points, way.points[-1]]).buffer(radius)
