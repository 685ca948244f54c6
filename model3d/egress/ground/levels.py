"""What a person walks on: platforms, steps and what else is climbed over.

A riser counts from the level before it: a platform of 300 is two risers of 150 where a
step of 150 stands before it, and one of 300 where nothing does.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import numpy as np

from model3d.geometry.bodies.solid import Box
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d.standing.placed import Placed

Gait: TypeAlias = Literal["step", "climb", "anyhow"]
"""How somebody goes: up and down steps; over what can be climbed, and across pits; or
in any way at all, from where nothing leads down."""

CLIMB: Final = 0.5
"""Metres. Nobody climbs over more at once on the way out of a room (common practice);
what is higher is in the way."""

_TREAD: Final = 0.2
"""Metres. What is less deep carries no foot (common practice): no step to go up by."""

_NOTHING: Final = flat.LineString()


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """Something that is walked on.

    Attributes:
        id: Of the item, or of the exit that leads out over it.
        top: World height, metres.
        plan: In plan; where nothing higher is walked on.
        feet: The sides of a stair at which it begins; empty where it is none.
        bottom: World height of its underside, where a stair begins, metres.
        made: It is made to be walked on.
    """

    id: str
    top: float
    plan: flat.Geometry
    feet: flat.Geometry = _NOTHING
    bottom: float = 0.0
    made: bool = True

    def riser(self, other: Level) -> float:
        """Return how high somebody steps up from or down to another level, metres.

        From what carries no foot it counts from the floor.
        """
        low, high = sorted((self, other), key=lambda one: one.top)
        same = high.top - low.top <= TOUCH
        return high.top - (low.top if same or low.carries else 0.0)

    @property
    def carries(self) -> bool:
        """Whether a foot finds room on it."""
        return not self.plan.buffer(-_TREAD / 2 + TOUCH).is_empty

    def touches(self, other: Level) -> bool:
        """Tell whether a foot goes from one to the other."""
        return bool(flat.dwithin(self.plan, other.plan, TOUCH))


def is_run(placed: Placed) -> bool:
    """Tell whether a body is a run from one point to another: those are convex."""
    return placed.item is not None and placed.item.from_ is not None


def levels(
    items: Iterable[Placed],
    outside: Sequence[Level],
    step: float,
    gait: Gait,
    height: float,
) -> tuple[Level, ...]:
    """Return what is walked on besides the floor, each where nothing covers it.

    What is no higher than a step is stepped over wherever it is; it counts as a level
    only where it is made to be walked on, or leads up to something.

    Args:
        items: What stands in the room.
        outside: What the exits lead to.
        step: What is stepped over or onto, metres.
        gait: How somebody goes.
        height: Of the person, metres: what hangs higher is not walked on.
    """
    limit, items = step if gait == "step" else CLIMB, list(items)
    found = [
        Level(
            one.id,
            one.top,
            plan_of(one),
            bottom=one.bottom,
            made=one.kind.walked,
        )
        for one in _in_reach(items, outside, limit, gait, height)
    ]
    found = [*_seen(found, items)]
    stairs = {one.id for one in items if one.kind.stair}
    found = [
        _as_stair(one, [*outside, *found], limit) if one.id in stairs else one
        for one in found
    ]
    if gait != "anyhow":
        found = _reached(found, outside, limit)
    found = [one for one in found if _counts(one, found, step)]
    return tuple(_uncovered(found))


def _seen(found: Sequence[Level], items: Iterable[Placed]) -> Iterator[Level]:
    """Yield levels but those that something covers which is too high to be one.

    Nobody climbs onto a thing by halves because it is drawn as two, one on the other.
    """
    names = {one.id for one in found}
    above: dict[int, list[Placed]] = {}
    for placed in items:
        if placed.bottom > TOUCH and placed.id not in names and not placed.of_room:
            above.setdefault(round(placed.bottom / TOUCH), []).append(placed)
    for one in found:
        at = round(one.top / TOUCH)
        on_it = (other for n in (at - 1, at, at + 1) for other in above.get(n, ()))
        if one.made or not any(
            plan_of(other).buffer(TOUCH).covers(one.plan) for other in on_it
        ):
            yield one


def _in_reach(
    items: Iterable[Placed],
    outside: Sequence[Level],
    limit: float,
    gait: Gait,
    height: float,
) -> list[Placed]:
    """Return what may be walked on, by its heights alone.

    Platforms, pads and stairs of any height; of other things those that are low, and on
    steps only what is built.
    """
    items = list(items)
    floors = _floors(items, height)
    asked = [
        placed
        for placed in items
        if placed.top > TOUCH and _may_be_walked(placed, gait, floors, height)
    ]
    if gait == "anyhow":
        return asked
    reached = {0.0, *(one.top for one in outside)}
    kept: list[Placed] = []
    while True:
        more = [
            placed
            for placed in asked
            if any(
                abs(placed.top - level) <= limit + TOUCH
                or (placed.kind.stair and abs(placed.bottom - level) <= limit + TOUCH)
                for level in reached
            )
        ]
        if len(more) == len(kept):
            return kept
        kept = more
        reached |= {placed.top for placed in kept}


def _floors(items: Iterable[Placed], height: float) -> list[float]:
    """Return the heights of the room's floor and of what is made to be walked on."""
    found = [0.0]
    made = [one for one in items if one.kind.walked]
    for one in sorted(made, key=lambda placed: placed.bottom):
        if one.bottom < _below(one, found) + height - TOUCH:
            found.append(one.top)
    return found


def _below(placed: Placed, floors: Iterable[float]) -> float:
    """Return the highest floor that a thing is above."""
    return max((one for one in floors if one <= placed.bottom + TOUCH), default=0.0)


def _may_be_walked(
    placed: Placed, gait: Gait, floors: Sequence[float], height: float
) -> bool:
    """Tell whether a thing may be walked on from a floor, the room's or a raised one.

    Args:
        placed: The thing.
        gait: How somebody goes.
        floors: Their heights.
        height: Of the person, metres: what hangs higher is not walked on.
    """
    floor = _below(placed, floors)
    if placed.kind.walked:
        return placed.bottom < floor + height - TOUCH
    if placed.of_room or placed.kind.hole:
        return False
    built = placed.kind.structure or placed.kind.anything
    if gait == "step" and not (built and isinstance(placed.solid, Box)):
        return False
    return placed.top <= floor + CLIMB + TOUCH


def plan_of(placed: Placed) -> flat.Geometry:
    """Return all of a thing in plan."""
    low, high = placed.bottom, placed.top
    return footprint(placed.solid, low, high, convex=is_run(placed))


def _as_stair(one: Level, others: Sequence[Level], limit: float) -> Level:
    """Return a stair with the sides at which it begins.

    It begins opposite the sides at which something is as high as its top; where nothing
    is, it is no stair but a block.
    """
    box = flat.get_coordinates(one.plan.minimum_rotated_rectangle)
    sides = [flat.LineString(box[n : n + 2]) for n in range(4)]
    tops = [
        other.plan
        for other in others
        if other is not one and abs(other.top - one.top) <= limit + TOUCH
    ]
    heads = [
        any(side.intersection(plan.buffer(TOUCH)).length > _TREAD for plan in tops)
        for side in sides
    ]
    feet = [sides[n] for n in range(4) if heads[n - 2] and not heads[n]]
    return replace(one, feet=flat.MultiLineString(feet))


def _reached(
    found: Sequence[Level], outside: Sequence[Level], limit: float
) -> list[Level]:
    """Return what is got to from the floor or from outside, riser by riser."""
    floor = Level("", 0.0, _NOTHING)

    def leads(other: Level, one: Level) -> bool:
        foot = not one.feet.is_empty and abs(one.bottom - other.top) <= limit + TOUCH
        high = foot or one.riser(other) <= limit + TOUCH
        return high and (other is floor or one.touches(other))

    kept: list[Level] = []
    left = list(found)
    while True:
        known = [floor, *outside, *kept]
        more = [one for one in left if any(leads(other, one) for other in known)]
        if not more:
            break
        kept += more
        left = [one for one in left if one not in more]
    return kept


def _counts(one: Level, found: Sequence[Level], step: float) -> bool:
    """Tell whether a thing is more than what is stepped over in passing."""
    if one.made or one.top > step + TOUCH:
        return True
    return any(
        other.top > step + TOUCH
        and other.riser(one) <= step + TOUCH
        and other.touches(one)
        for other in found
    )


def _uncovered(found: Iterable[Level]) -> Iterator[Level]:
    """Yield levels where nothing that is walked on covers them, the highest first."""
    above: list[flat.Geometry] = []
    for one in sorted(found, key=lambda one: (-one.top, one.id)):
        plan = less(one.plan, above)
        above.append(one.plan)
        if plan.area > TOUCH**2:
            yield replace(one, plan=plan)


def edges(
    found: Sequence[Level],
    outside: Sequence[Level],
    limit: float,
    walls: Iterable[flat.Geometry],
) -> Iterator[tuple[str, flat.Geometry]]:
    """Yield the edges that are too high to step over, as thin plates, by name.

    Along a wall is none: there is the wall, and a plate would join what stands at it.
    """
    every = [*found, *outside]
    at_walls = flat.union_all([*walls]).buffer(TOUCH)
    for one in every:
        if one.top <= limit + TOUCH:
            continue
        near = [
            other.plan.buffer(other.plan.distance(one.plan) + _THIN)
            for other in every
            if other is not one
            and one.riser(other) <= limit + TOUCH
            and one.touches(other)
        ]
        near += [one.feet.buffer(_THIN), at_walls]
        rest = flat.difference(one.plan.boundary, flat.union_all(near))
        for line in flat.get_parts(flat.get_parts(rest)):
            points = flat.get_coordinates(line)
            for n in range(len(points) - 1):
                side = flat.LineString(points[n : n + 2])
                yield one.id, side.buffer(_THIN / 2, cap_style="flat")


_THIN: Final = 1e-6
"""Metres. How thick an edge is in plan, so that widths are those of what is drawn."""


def risers(
    line: flat.LineString, found: Sequence[Level], outside: Sequence[Level]
) -> dict[str, float]:
    """Return the risers along a way, by what is higher, the highest of each."""
    every = sorted([*found, *outside], key=lambda one: -one.top)
    cuts = {0.0, line.length}
    for one in every:
        crossed = flat.get_coordinates(line.intersection(one.plan.boundary))
        cuts |= set(flat.line_locate_point(line, flat.points(crossed)).tolist())
    ends = np.array(sorted(cuts))
    middles = line.interpolate((ends[1:] + ends[:-1]) / 2)
    floor = Level("", 0.0, flat.Polygon())
    passed = [
        next((one for one in every if one.plan.intersects(point)), floor)
        for point in middles[ends[1:] - ends[:-1] > TOUCH]
    ]
    highest: dict[str, float] = {}
    for one, other in pairwise(passed):
        high = max(one, other, key=lambda level: level.top)
        if high.feet.is_empty:
            riser = one.riser(other)
            highest[high.id] = max(riser, highest.get(high.id, 0.0))
    return highest
