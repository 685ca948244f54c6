"""Items outside the room: beyond its walls, above its ceiling, below its floor."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.drawn.contradiction import Contradiction, slack
from model3d.drawn.passing import BOXES, FLUSH, IN_CEILING
from model3d.drawn.runs import is_run
from model3d.drawn.sizes import odd_room_sizes
from model3d.geometry.solid import Box

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.scene.placed import Placed
    from model3d.scene.shell import Corner
    from model3d.situation import Situation

_BUILT: Final = {"support", "pad"}
"""What is let into walls, floor and ceiling as the building's own parts are."""
_BURIED: Final = 3.0
"""Metres. So far beyond a wall or ceiling, or below the floor, runs are drawn on."""
_FANS: Final = 0.3
"""Metres. So far a machine is let into a wall: a fan, a louvre."""
_STEPS: Final = 64
"""Parts into which a side is cut where a corner of the room may lie behind it."""


def outside(item: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield how far an item is outside the room, beyond what its kind may be."""
    shell = situation.arrangement.shell
    tolerance = slack(situation)
    (x, y, low), (far_x, far_y, high) = item.solid.bounds
    height = float("inf") if shell.height is None else shell.height
    level = low >= -tolerance and high <= height + tolerance
    floor = _floor(shell.outline) if shell.outline else None
    if floor is None or floor.covers(shapely.box(x, y, far_x, far_y)):
        if level:
            return
        floor = None
    if any(odd_room_sizes(situation)):
        return
    if floor is not None:
        yield from _beyond_walls(item, floor, situation)
    if high > height + tolerance and not _may_rise(item, low - height, tolerance):
        yield _told(item, high - height, "above the ceiling", situation)
    if low < -tolerance and not _may_sink(item, situation):
        yield _told(item, -low, "below the floor", situation)


@lru_cache(maxsize=8)
def _floor(outline: tuple[Corner, ...]) -> shapely.Polygon:
    floor = shapely.Polygon(outline)
    shapely.prepare(floor)
    return floor


def _told(
    _item: Placed, metres: float, where: str, situation: Situation
) -> Contradiction:
    words = f"reaches {situation.length(metres)} {where}"
    return Contradiction(words, "outside", metres)


def _beyond_walls(
    item: Placed, floor: shapely.Polygon, situation: Situation
) -> Iterator[Contradiction]:
    tolerance = slack(situation)
    points = _points_outside(item, floor)
    if not len(points):
        return
    far = shapely.distance(shapely.points(points), floor)
    if far.max() <= tolerance or _may_be_let_in(item, floor, far.max(), tolerance):
        return
    shell = situation.arrangement.shell
    lines = [shapely.LineString([line.start, line.end]) for line in shell.lines]
    near = np.array([shapely.distance(line, shapely.points(points)) for line in lines])
    nearest = near.argmin(axis=0)
    for number, line in enumerate(shell.lines):
        most = float(far[nearest == number].max(initial=0.0))
        if most > tolerance and line.name not in shell.open_sides:
            yield _told(item, most, f"beyond {line.id}", situation)


def _points_outside(item: Placed, floor: shapely.Polygon) -> np.ndarray:
    """Return the corners in plan of what of an item lies outside, shape (n, 2)."""
    corners = np.unique(item.solid.mesh[0][:, :2], axis=0)
    if not isinstance(item.solid, Box):
        return corners
    plan = shapely.convex_hull(shapely.multipoints(corners))
    part = plan.difference(floor)
    if part.is_empty:
        return np.empty((0, 2))
    if len(floor.exterior.coords) > _STEPS or not _is_convex(floor):
        part = shapely.segmentize(part, max(plan.length / _STEPS, 1e-3))
    return shapely.get_coordinates(part)


def _is_convex(floor: shapely.Polygon) -> bool:
    return bool(floor.convex_hull.area - floor.area < 1e-9)


def _may_be_let_in(
    item: Placed, floor: shapely.Polygon, far: float, tolerance: float
) -> bool:
    """Tell whether an item may stand in a wall, or beyond it, as it does."""
    corners = item.solid.mesh[0][:, :2]
    apart = floor.distance(shapely.convex_hull(shapely.multipoints(corners)))
    if is_run(item):
        return apart <= _BURIED
    name = item.kind.name
    if item.kind.structure or item.kind.hole or name in _BUILT or name in BOXES:
        return apart <= tolerance
    if name == "machine":
        return apart <= tolerance and far <= _FANS
    front = item.front
    if name not in FLUSH or front is None:
        return False
    ends: Sequence[Corner] = [front.frame.to_plan(u, 0.0) for u in (0.0, front.width)]
    return bool(floor.buffer(tolerance).covers(shapely.LineString(ends)))


def _may_rise(item: Placed, apart: float, tolerance: float) -> bool:
    """Tell whether an item may reach into the ceiling; it begins ``apart`` above it."""
    name = item.kind.name
    if is_run(item):
        return apart <= _BURIED
    may = item.kind.structure or name in _BUILT or name in BOXES or name in IN_CEILING
    return may and apart <= tolerance


def _may_sink(item: Placed, situation: Situation) -> bool:
    """Tell whether an item may reach below the floor."""
    name, tolerance = item.kind.name, slack(situation)
    if item.kind.hole:
        return True
    if is_run(item):
        return item.top >= -_BURIED
    if item.kind.structure or name in _BUILT or name in BOXES:
        return item.top >= -tolerance
    return _stands_in_pit(item, situation, tolerance)


def _stands_in_pit(item: Placed, situation: Situation, tolerance: float) -> bool:
    """Tell whether pits reach as far down as an item does, and as far around it."""
    plans = [
        shapely.convex_hull(shapely.multipoints(other.solid.mesh[0][:, :2]))
        for other in _near(item, situation)
        if other.kind.hole and other.bottom <= item.bottom + tolerance
    ]
    corners = shapely.multipoints(item.solid.mesh[0][:, :2])
    pits = shapely.union_all(plans).buffer(tolerance)
    return bool(pits.covers(shapely.convex_hull(corners)))


def _near(item: Placed, situation: Situation) -> Iterator[Placed]:
    for place in situation.index.touching(*item.solid.bounds):
        yield situation.items[place]
