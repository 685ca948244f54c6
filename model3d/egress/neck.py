"""Where a way is narrowest, how wide it is there, and between what."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Final

import shapely

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Floor
    from model3d.egress.route import Corner
    from model3d.egress.widest import Width

_AWAY: Final = 0.02
"""Metres. How far a way may be off the middle of its narrowest place."""

_SAME: Final = 3e-4
"""Metres. A searched width and the distance of two bodies that differ by less are one:
then the distance is the width."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest place of a way.

    Attributes:
        width: Metres; infinite where nothing is near.
        at: Where, in plan.
        between: What it is between: two names, or one; the exit alone at its opening.
    """

    width: float
    at: Corner
    between: tuple[str, ...]


def neck_of(
    floor: Floor, points: Sequence[Corner], width: Width, way_out: Exit
) -> Neck:
    """Return the narrowest place of the widest way along some points."""
    if width.passes >= way_out.width and way_out.opening is not None:
        middle = way_out.opening.interpolate(0.5, normalized=True)
        return Neck(width.passes, (middle.x, middle.y), (way_out.id,))
    if width.fails == float("inf"):
        return Neck(width.passes, points[-1], ())
    line = shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])
    here = _middle(floor, line, width.fails)
    return _between(floor, here, width.passes)


def _middle(floor: Floor, line: shapely.Geometry, fails: float) -> Corner:
    """Return the middle of the stretch of a way that is too narrow for more.

    Where there is room for more, the way runs through a place of those who are wider:
    the stretch is between two of these places.
    """
    runs = sorted(
        (start, end, number, bool(part.exits))
        for number, part in enumerate(floor.parts(fails))
        for start, end in _runs(line, part.place)
    )
    length = line.length
    low, high = 0.0, length
    if runs:
        first = runs[0]
        low, high = first[1], length
        if first[3]:
            low, high = 0.0, first[0]
        for start, end, number, _ in runs:
            if number != first[2]:
                high = start
                break
            if not first[3]:
                low = end
    point = line.interpolate((low + high) / 2) if length else line
    return float(point.x), float(point.y)


def _runs(line: shapely.Geometry, place: shapely.Polygon) -> Iterator[tuple[float, float]]:
    for piece in shapely.get_parts(line.intersection(place)):
        ends = [line.project(shapely.Point(end)) for end in piece.coords]
        yield min(ends), max(ends)


def _between(floor: Floor, here: Corner, width: float) -> Neck:
    spot = shapely.Point(here)
    names = (*floor.obstacles, *floor.walls)
    away = shapely.distance([plan for _, plan in names], spot)
    near = [
        (away, name, plan)
        for away, (name, plan) in zip(away.tolist(), names, strict=True)
        if away <= width / 2 + _AWAY
    ]
    pairs = [
        (abs(one.distance(other) - width), one.distance(other), sorted({a, b}))
        for (_, a, one), (_, b, other) in combinations(near, 2)
    ]
    miss, apart, between = min(pairs, default=(float("inf"), 0.0, []))
    if miss <= _SAME:
        return Neck(apart, here, tuple(between))
    nearest = sorted(name for _, name, _ in sorted(near, key=lambda one: one[:2])[:2])
    return Neck(width, here, tuple(dict.fromkeys(nearest)))
