"""Items outside the room: beyond its walls, above its ceiling, below its floor."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.solid import Box
from model3d.geometry.plan import flat
from model3d.geometry.plan.outline import hull_of, is_convex
from model3d.wording.said import Named, say
from model3d.working.drawn.bounds import odd_room_sizes
from model3d.working.drawn.contradiction import Contradiction, slack
from model3d.working.drawn.runs import is_run

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

    Points = NDArray[np.float64]

_BURIED: Final = 3.0
"""Metres. So far beyond a wall or ceiling, or below the floor, runs are drawn on."""
_FANS: Final = 0.3
"""Metres. So far a machine is let into a wall: a fan, a louvre."""
_STEPS: Final = 200
"""Parts of a footprint's edge that are asked how far outside they are."""


def outside(item: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield how far an item is outside the room, beyond what its kind may be."""
    shell = situation.arrangement.shell
    tolerance = slack(situation)
    (x, y, low), (far_x, far_y, high) = item.solid.bounds
    height = float("inf") if shell.height is None else shell.height
    level = low >= -tolerance and high <= height + tolerance
    plan = (x + tolerance, y + tolerance, far_x - tolerance, far_y - tolerance)
    within = not shell.outline or _floor(shell.outline).holds(*plan)
    if (level and within) or any(odd_room_sizes(situation)):
        return
    if not within:
        yield from situation.remembered(_beyond_walls, item)
    if high > height + tolerance and not _may_rise(item, low - height, tolerance):
        yield _told(high - height, "above the ceiling", situation)
    if low < -tolerance and not _may_sink(item, situation):
        yield _told(-low, "below the floor", situation)


def stands_outside(item: Placed, situation: Situation) -> bool:
    """Tell whether nothing of an item is in the room, and it may not be elsewhere."""
    return situation.remembered(_stands_outside, item)


def _stands_outside(item: Placed, situation: Situation) -> bool:
    if item.of_room or not any(outside(item, situation)):
        return False
    shell = situation.arrangement.shell
    if item.top <= 0.0 or (shell.height is not None and item.bottom >= shell.height):
        return True
    return (
        bool(shell.outline)
        and not situation.remembered(_hull, item)
        .intersection(_floor(shell.outline).plan)
        .area
        > slack(situation) ** 2
    )


@dataclass(frozen=True)
class _RoomFloor:
    """The floor of a room in plan."""

    plan: flat.Polygon

    @cached_property
    def convex(self) -> bool:
        """Whether no corner points inwards."""
        return is_convex(flat.get_coordinates(self.plan)[:-1].tolist())

    @cached_property
    def _square(self) -> tuple[float, float, float, float] | None:
        """Its bounds, where it is a rectangle along the axes."""
        bounds = self.plan.bounds
        return bounds if self.plan.equals(flat.box(*bounds)) else None

    def holds(self, x: float, y: float, far_x: float, far_y: float) -> bool:
        """Tell whether bounds, which may be turned over, lie within it."""
        square = self._square
        if square is None:
            return bool(self.plan.covers(flat.box(x, y, far_x, far_y)))
        a, b, c, d = square
        return a <= x and b <= y and far_x <= c and far_y <= d


@lru_cache(maxsize=8)
def _floor(outline: tuple[Corner, ...]) -> _RoomFloor:
    plan = flat.Polygon(outline)
    flat.prepare(plan)
    return _RoomFloor(plan)


def _told(metres: float, where: str, situation: Situation) -> Contradiction:
    words = say("reaches {} {}", situation.length(metres), where)
    return Contradiction(words, "outside", metres)


def _beyond_walls(item: Placed, situation: Situation) -> tuple[Contradiction, ...]:
    shell, tolerance = situation.arrangement.shell, slack(situation)
    points = _points_outside(item, _floor(shell.outline))
    if not len(points):
        return ()
    apart = np.array([_apart(points, line.start, line.end) for line in shell.lines])
    nearest, far = apart.argmin(axis=0), apart.min(axis=0)
    most = float(far.max())
    if most <= tolerance or _may_be_let_in(item, situation, most, tolerance):
        return ()
    told = []
    for number, line in enumerate(shell.lines):
        most = float(far[nearest == number].max(initial=0.0))
        if most > tolerance and line.name not in shell.open_sides:
            told.append(_told(most, say("beyond {}", Named(line.id)), situation))
    return tuple(told)


def _apart(points: Points, start: Corner, end: Corner) -> Points:
    """Return how far points are from a line in plan, shape (n,), metres."""
    x, y = points.T
    (a, b), (c, d) = start, end
    along = (x - a) * (c - a) + (y - b) * (d - b)
    share = np.clip(along / ((c - a) ** 2 + (d - b) ** 2), 0.0, 1.0)
    return np.asarray(np.hypot(x - a - share * (c - a), y - b - share * (d - b)))


def _points_outside(item: Placed, floor: _RoomFloor) -> Points:
    """Return the corners in plan of what of an item lies outside, shape (n, 2)."""
    corners = item.solid.mesh[0][:, :2]
    if not isinstance(item.solid, Box):
        beyond: Points = corners[~flat.intersects_xy(floor.plan, corners)]
        return beyond
    plan = hull_of(corners)
    part = plan.difference(floor.plan)
    if not floor.convex:
        # Where a corner of the room points into an item, no corner of the item need
        # lie outside.
        part = flat.segmentize(part, plan.length / _STEPS)
    points: Points = flat.get_coordinates(part)
    return points


def _may_be_let_in(
    item: Placed, situation: Situation, far: float, tolerance: float
) -> bool:
    """Tell whether an item may stand in a wall, or beyond it, as it does."""
    floor = _floor(situation.arrangement.shell.outline).plan
    apart = float(flat.distance(floor, situation.remembered(_hull, item)))
    if is_run(item):
        return apart <= _BURIED
    kind = item.kind
    if kind.structure or kind.hole or kind.built_in or kind.boxed:
        return apart <= tolerance
    if kind.machine:
        return apart <= tolerance and far <= _FANS
    front = item.front
    if not kind.flush or front is None:
        return False
    ends: Sequence[Corner] = [front.frame.to_plan(u, 0.0) for u in (0.0, front.width)]
    return bool(floor.buffer(tolerance).covers(flat.LineString(ends)))


def _may_rise(item: Placed, apart: float, tolerance: float) -> bool:
    """Tell whether an item may reach into the ceiling; it begins ``apart`` above it."""
    kind = item.kind
    if is_run(item):
        return apart <= _BURIED
    may = kind.structure or kind.built_in or kind.boxed or kind.in_ceiling
    return may and apart <= tolerance


def _may_sink(item: Placed, situation: Situation) -> bool:
    """Tell whether an item may reach below the floor."""
    kind, tolerance = item.kind, slack(situation)
    if kind.hole:
        return True
    if is_run(item):
        return item.top >= -_BURIED
    if kind.structure or kind.built_in or kind.boxed:
        return item.top >= -tolerance
    return _stands_in_pit(item, situation, tolerance)


def _stands_in_pit(item: Placed, situation: Situation, tolerance: float) -> bool:
    """Tell whether pits reach as far down as an item does, and as far around it."""
    plans = [
        situation.remembered(_hull, other)
        for other in situation.beside(item)
        if other.kind.hole and other.bottom <= item.bottom + tolerance
    ]
    pits = flat.union_all(plans).buffer(tolerance)
    return bool(pits.covers(situation.remembered(_hull, item)))


def _hull(item: Placed, _: Situation) -> flat.Geometry:
    return hull_of(item.solid.mesh[0][:, :2])
