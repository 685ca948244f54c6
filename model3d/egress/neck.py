"""Where a way is narrowest, how wide it is there, and between what."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Final

import shapely
import shapely.ops

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Floor, Plan
    from model3d.egress.route import Corner
    from model3d.egress.widest import Width

_AWAY: Final = 0.05
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
        between: What it is between: two names, or one; the exit alone at its opening;
            nothing where it is where the person stands at first.
    """

    width: float
    at: Corner
    between: tuple[str, ...]


def neck_of(
    floor: Floor,
    area: shapely.Geometry,
    points: Sequence[Corner],
    width: Width,
    way_out: Exit,
) -> Neck:
    """Return the narrowest place of the widest way from an area along some points."""
    if width.passes >= way_out.width and way_out.opening is not None:
        middle = way_out.opening.interpolate(0.5, normalized=True)
        return Neck(width.passes, (middle.x, middle.y), (way_out.id,))
    if width.fails == float("inf"):
        return Neck(width.passes, points[-1], (way_out.id,))
    if not any(part.place.intersects(area) for part in floor.parts(width.fails)):
        return Neck(width.passes, points[0], ())
    stretch = _stretch(floor, points, width.fails)
    near = [
        (name, plan)
        for name, plan in (*floor.obstacles, *floor.walls)
        if plan.distance(stretch) <= width.passes / 2 + _AWAY
    ]
    return _between(near, stretch, width.passes) or _beside(near, stretch, width.passes)


def _stretch(
    floor: Floor, points: Sequence[Corner], fails: float
) -> shapely.LineString:
    """Return the stretch of a way that is too narrow for somebody a little wider.

    Where there is room for more, the way runs through a place of those who are wider:
    the stretch is between two of these places, or before the first, or after the last.
    """
    line = shapely.LineString([*points, points[-1]])
    runs = sorted(
        (start, end, number, bool(part.exits))
        for number, part in enumerate(floor.parts(fails))
        for start, end in _runs(line, part.place)
    )
    low, high = 0.0, line.length
    if runs and runs[0][3]:
        high = runs[0][0]
    elif runs:
        low = max(end for _, end, number, _ in runs if number == runs[0][2])
        high = min((run[0] for run in runs if run[0] >= low), default=high)
    return shapely.ops.substring(line, low, high)


def _runs(
    line: shapely.LineString, place: shapely.Polygon
) -> Iterator[tuple[float, float]]:
    inside = line.intersection(place)
    for piece in () if inside.is_empty else shapely.get_parts(inside):
        ends = [line.project(shapely.Point(end)) for end in piece.coords]
        yield min(ends), max(ends)


def _between(
    near: Sequence[Plan], stretch: shapely.Geometry, width: float
) -> Neck | None:
    """Return the two that are as far apart as the way is wide, with it between them."""
    for (a, one), (b, other) in combinations(near, 2):
        apart = one.distance(other)
        if abs(apart - width) <= _SAME:
            across = shapely.shortest_line(one, other)
            if across.distance(stretch) <= _AWAY:
                here = across.interpolate(0.5, normalized=True)
                names = tuple(sorted({a, b}))
                return Neck(apart, (float(here.x), float(here.y)), names)
    return None


def _beside(near: Sequence[Plan], stretch: shapely.Geometry, width: float) -> Neck:
    """Return the middle of the stretch with what is nearest to it."""
    here = stretch.interpolate(0.5, normalized=True)
    away = sorted((plan.distance(here), name) for name, plan in near)
    names = tuple(sorted({name for _, name in away[:2]}))
    return Neck(width, (float(here.x), float(here.y)), names)
