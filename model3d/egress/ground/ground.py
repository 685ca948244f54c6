"""The ground of one room: what is underfoot, what stands on it and what is above."""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING

from model3d.egress.doors.exits import BODY, exits
from model3d.egress.ground.floor import CONTACT, Floor
from model3d.egress.ground.levels import CLIMB, Level, edges, is_run, levels
from model3d.geometry.plan import flat
from model3d.geometry.plan.cover.chinks import without_chinks
from model3d.geometry.plan.cover.stacked import beside, each_once
from model3d.geometry.plan.flat import substring
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import joined, less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.egress.doors.exits import Exit, Plan
    from model3d.egress.ground.levels import Gait
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


def ground_of(situation: Situation) -> Ground:
    """Return the ground of a room."""
    return situation.remembered(Ground)


class Ground:
    """Answers for one room what people of any height walk on, and among what.

    What may be asked of it is worked out once: ask ``ground_of`` for it.
    """

    def __init__(self, situation: Situation) -> None:
        """Remember the room; nothing is worked out before it is asked for."""
        self._situation = situation
        self._levels: dict[tuple[float, Gait], tuple[Level, ...]] = {}
        self._heights: dict[tuple[float, float, Gait], list[float]] = {}
        self._shadows: dict[tuple[str, float, float], flat.Geometry] = {}
        self._besides: dict[tuple[str, float, Gait], flat.Geometry] = {}
        self._alike: dict[tuple[float, Gait], bool] = {}
        self._bounded: dict[
            tuple[Exit, ...], tuple[flat.Geometry, tuple[Plan, ...]]
        ] = {}
        self._overhead: dict[
            tuple[float, float], tuple[list[float], list[flat.Geometry], flat.STRtree]
        ] = {}

    @cached_property
    def _before(self) -> Ground | None:
        """The ground before something was moved; None where that is not known."""
        earlier = self._situation.earlier
        return None if earlier is None else ground_of(earlier.situation)

    @cached_property
    def exits(self) -> tuple[Exit, ...]:
        """Every way out of the room, high enough or not."""
        return exits(self._situation)

    @cached_property
    def step(self) -> float:
        """What a person steps over or onto, metres."""
        entry = self._situation.book.entry("entrance")
        return self._situation.most(entry.figure("step"))

    @cached_property
    def outside(self) -> tuple[Level, ...]:
        """What the exits lead to: as high as their thresholds."""
        return tuple(
            Level(one.id, one.sill, one.passage)
            for one in self.exits
            if one.opening is not None
        )

    def walked(self, height: float, gait: Gait) -> tuple[Level, ...]:
        """Return what a person of a height walks on besides the floor itself."""
        key = (height, gait)
        if key not in self._levels:
            items = self._situation.items
            self._levels[key] = levels(items, self.outside, self.step, gait, height)
        return self._levels[key]

    @cached_property
    def pits(self) -> frozenset[str]:
        """Holes that nobody steps into or walks across."""
        return frozenset(
            placed.id
            for placed in self._situation.items
            if placed.kind.hole and placed.top - placed.bottom > self.step + TOUCH
        )

    def climbable(self, height: float) -> bool:
        """Tell whether there is more floor for somebody who climbs."""
        if self.pits or self._used(height, "step") != self._used(height, "climb"):
            return True
        walked = self.walked(height, "climb")
        return any(one.top > self.step + TOUCH for one in walked)

    def _used(self, height: float, gait: Gait) -> tuple[Exit, ...]:
        """Return the exits that a person of a height gets through."""
        limit = {"step": self.step, "climb": CLIMB}.get(gait, float("inf"))
        walked = self.walked(height, gait)

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

    def floor(self, height: float, gait: Gait) -> Floor:
        """Return the free floor with all equipment doors shut, made anew."""
        used = self._used(height, gait)
        region, walls = self._bounds(used)
        standing = each_once(self._standing(height, gait, walls))
        return Floor(region, used, walls, standing)

    def _bounds(self, used: tuple[Exit, ...]) -> tuple[flat.Geometry, tuple[Plan, ...]]:
        """Return the room with what is beyond its exits, and its walls.

        They are worked out once for all rooms of which the exits are the very same.
        """
        before, shell = self._before, self._situation.arrangement.shell
        if (
            before is not None
            and before._situation.arrangement.shell is shell  # noqa: SLF001 - of its own kind
            and set(used) <= {*before.exits}
        ):
            return before._bounds(used)  # noqa: SLF001
        if used not in self._bounded:
            outline = shell.outline
            room = [flat.Polygon(outline)] if outline else []
            region = joined([*room, *(one.passage for one in used)])
            self._bounded[used] = region, self._walls(used)
        return self._bounded[used]

    def heights(self, height: float, least: float, gait: Gait = "step") -> list[float]:
        """Return the heights below one at which something ends, the lowest first.

        Between two of them the floor is the same.
        """
        key = (height, least, gait)
        if key not in self._heights:
            items = self._situation.items
            tops = {0.0, *(one.top for one in self.walked(height, gait))}
            found = {placed.bottom - top for placed in items for top in tops}
            found |= {one.height for one in self.exits}
            lowest = max(least, self.step)
            self._heights[key] = sorted(
                one for one in found if lowest <= one < height - TOUCH
            )
        return self._heights[key]

    def above(
        self, height: float, limit: float
    ) -> tuple[list[float], list[flat.Geometry], flat.STRtree]:
        """Return what is above a height: undersides, shapes in plan and their tree.

        Args:
            height: Metres.
            limit: What hangs as high, or higher, is left out, metres.
        """
        key = height, limit
        if key not in self._overhead:
            far = float("inf")
            found = [
                (one.bottom, self._shadow(one, height, far))
                for one in self._solids()
                if one.bottom < limit
            ]
            found = [(bottom, plan) for bottom, plan in found if not plan.is_empty]
            plans = [plan for _, plan in found]
            bottoms = [bottom for bottom, _ in found]
            self._overhead[key] = (bottoms, plans, flat.STRtree(plans))
        return self._overhead[key]

    def _standing(
        self, height: float, gait: Gait, walls: Iterable[Plan]
    ) -> Iterator[Plan]:
        """Yield what stands on the floor, and on what else is walked on.

        Somebody who stands on a platform has what is above it nearer to the head, and
        is above what is lower.
        """
        walked = self.walked(height, gait)
        names = {one.id for one in walked}
        others = [one for one in self._solids() if one.id not in names]
        carried = [one.plan for one in walked]
        for placed in others:
            if gait == "step" and placed.id in self.pits:
                hole = footprint(placed.solid, placed.bottom, placed.top)
                yield placed.id, less(hole, carried)
            yield placed.id, self._beside(placed, height, gait)
        for level in walked:
            west, south, east, north = level.plan.bounds
            for placed in others:
                (left, back, _), (right, front, _) = placed.solid.bounds
                if left < east and right > west and back < north and front > south:
                    plan = self._plan(placed, level.top, height)
                    yield placed.id, plan.intersection(level.plan)
        if gait != "anyhow":
            limit = self.step if gait == "step" else CLIMB
            beyond = {one.id for one in self.outside}
            lines = [line for _, line in walls]
            for name, edge in edges(walked, self.outside, limit, lines):
                # Who is on a threshold is outside: what lies beyond bars nobody.
                if name not in beyond or self._is_in_room(edge):
                    yield name, edge

    def _beside(self, placed: Placed, height: float, gait: Gait) -> flat.Geometry:
        """Return what a thing takes of the floor itself, beside what is walked on.

        It is worked out once for all rooms in which that stands where it stood before.
        """
        before = self._before
        if (
            before is not None
            and before._situation.has(placed)  # noqa: SLF001 - of its own kind
            and self._are_walked_as_before(height, gait)
        ):
            return before._beside(placed, height, gait)  # noqa: SLF001
        key = placed.id, height, gait
        if key not in self._besides:
            carried = [one.plan for one in self.walked(height, gait)]
            self._besides[key] = beside(self._plan(placed, 0.0, height), carried)
        return self._besides[key]

    def _are_walked_as_before(self, height: float, gait: Gait) -> bool:
        key = height, gait
        if key not in self._alike:
            before = self._before.walked(height, gait) if self._before else ()
            both = self.walked(height, gait), before
            now, then = ([(one.id, one.plan) for one in some] for some in both)
            self._alike[key] = now == then
        return self._alike[key]

    def _is_in_room(self, edge: flat.Geometry) -> bool:
        outline = self._situation.arrangement.shell.outline
        return bool(flat.Polygon(outline).dwithin(edge.centroid, TOUCH))

    def _plan(self, placed: Placed, level: float, height: float) -> flat.Geometry:
        return self._shadow(placed, level + self.step, level + height)

    def _shadow(self, placed: Placed, low: float, high: float) -> flat.Geometry:
        """Return the footprint of what stands between two heights.

        It is worked out once for all that are well below it, or well above, and once
        for all rooms in which the same thing stands where it stood before.
        """
        if self._before is not None and self._before._situation.has(placed):  # noqa: SLF001 - of its own kind
            return self._before._shadow(placed, low, high)  # noqa: SLF001
        lowest = low if low > placed.bottom - TOUCH else -math.inf
        highest = high if high < placed.top + TOUCH else math.inf
        key = (placed.id, lowest, highest)
        if key not in self._shadows:
            plan = footprint(placed.solid, low, high, convex=is_run(placed))
            self._shadows[key] = without_chinks(plan, BODY - 10 * CONTACT)
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
