"""Walls, floor and ceiling where a drawing cuts them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting import pens
from viewer.stage.bodies.walls import openings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement
    from model3d.standing.shell import WallLine
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.stage.drawn import Point

THICK: Final = 0.15
"""Metres. A scene says nothing of how thick walls are; so thick they are drawn."""
_LEAST: Final = 1e-9


@dataclass(frozen=True, slots=True)
class CutFace:
    """A surface that is cut.

    Attributes:
        layer: Of its hatch: grounded or not.
        outline: In plan or in a view, shape (n, 2), metres.
    """

    layer: str
    outline: Points


def layer_of(line: WallLine, arrangement: Arrangement) -> str:
    """Return the layer of a wall's hatch: its surface is grounded, or not."""
    wall = arrangement.items.get(line.id)
    grounded = wall is not None and wall.grounded is True
    return pens.GROUNDED if grounded else pens.CUT


def standing(arrangement: Arrangement) -> tuple[WallLine, ...]:
    """Return the sides of a room that have a wall."""
    shell = arrangement.shell
    return tuple(line for line in shell.lines if line.name not in shell.open_sides)


def plan_cuts(arrangement: Arrangement) -> Iterator[CutFace]:
    """Yield the walls in plan, their openings left out; joints are mitred."""
    shell = arrangement.shell
    walled = {line.name for line in standing(arrangement)}
    count = len(shell.lines)
    for number, line in enumerate(shell.lines):
        if line.name not in walled:
            continue
        before, after = shell.lines[number - 1], shell.lines[(number + 1) % count]
        start = _mitre(before, line) if before.name in walled else _square(line, 0.0)
        end = (
            _mitre(line, after) if after.name in walled else _square(line, line.length)
        )
        yield from _pieces(line, start, end, arrangement)


def _pieces(
    line: WallLine, start: Points, end: Points, arrangement: Arrangement
) -> Iterator[CutFace]:
    """Yield a wall between its openings."""
    layer = layer_of(line, arrangement)
    inner, outer = np.array(line.start), start
    # An opening counts from the wall's left end, seen from inside: its end.
    doors = openings(line, arrangement.scene)
    for door in sorted(doors, key=lambda one: -one.right):
        here = line.length - door.right, line.length - door.left
        yield CutFace(
            layer, np.array([inner, outer, _square(line, here[0]), _on(line, here[0])])
        )
        inner, outer = _on(line, here[1]), _square(line, here[1])
    yield CutFace(layer, np.array([inner, outer, end, np.array(line.end)]))


def _on(line: WallLine, along: float) -> Points:
    """Return a point of a wall's face, from its start."""
    step = np.subtract(line.end, line.start) / line.length
    return np.asarray(np.array(line.start) + step * along)


def _square(line: WallLine, along: float) -> Points:
    """Return the point behind a point of a wall's face."""
    return np.asarray(_on(line, along) - THICK * np.array(line.frame.out))


def _mitre(one: WallLine, other: WallLine) -> Points:
    """Return the outer corner between a wall and the next one."""
    a, b = np.array(one.frame.out), np.array(other.frame.out)
    middle = a + b
    size = float(middle @ middle)
    if size < 0.1:  # noqa: PLR2004 - a wall that turns back on itself has no corner
        return _square(other, 0.0)
    return np.asarray(np.array(other.start) - middle * 2 * THICK / size)


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a section meets a wall.

    Attributes:
        line: The wall.
        away: Metres along the section.
        thick: How thick it is along the section, metres.
        bottom, top: Of the opening that is met; None where it is all wall.
    """

    line: WallLine
    away: float
    thick: float
    opening: tuple[float, float] | None


def crossings(
    arrangement: Arrangement, point: tuple[float, float], way: Point
) -> tuple[Crossing | None, Crossing | None]:
    """Return the walls that a section meets: against its way, and along it.

    Args:
        arrangement: The room.
        point: In plan, in the room, metres.
        way: Unit vector in plan.
    """
    found = [
        one
        for line in standing(arrangement)
        for one in _met(line, point, way, arrangement)
    ]
    behind = max((one for one in found if one.away <= 0), key=_away, default=None)
    ahead = min((one for one in found if one.away > 0), key=_away, default=None)
    return behind, ahead


def _away(one: Crossing) -> float:
    return one.away


def _met(
    line: WallLine, point: tuple[float, float], way: Point, arrangement: Arrangement
) -> Iterator[Crossing]:
    out = line.frame.out
    across = way[0] * out[0] + way[1] * out[1]
    if abs(across) < _LEAST:
        return
    (x, y), (a, b) = point, line.start
    away = ((a - x) * out[0] + (b - y) * out[1]) / across
    here = (x + away * way[0], y + away * way[1])
    if math.dist(here, line.start) + math.dist(here, line.end) > line.length + _TOUCH:
        return
    along = math.dist(here, line.end)
    met = next(
        (
            (one.bottom, one.top)
            for one in openings(line, arrangement.scene)
            if one.left < along < one.right
        ),
        None,
    )
    yield Crossing(line, away, THICK / abs(across), met)


_TOUCH: Final = 1e-6


def section_cuts(
    crossing: Crossing, arrangement: Arrangement, start: float, sign: int, top: float
) -> Iterator[CutFace]:
    """Yield a wall where a section cuts it, as upright surfaces.

    Args:
        crossing: The wall.
        arrangement: The room.
        start: Of its face in the view, metres.
        sign: 1 where it goes on to the right, -1 to the left.
        top: Where it ends, metres.
    """
    layer = layer_of(crossing.line, arrangement)
    ends = sorted((start, start + sign * crossing.thick))
    low, high = crossing.opening or (top, top)
    for bottom, upper in ((0.0, min(low, top)), (high, top)):
        if upper - bottom > _TOUCH:
            yield CutFace(
                layer,
                np.array(
                    [
                        (ends[0], bottom),
                        (ends[1], bottom),
                        (ends[1], upper),
                        (ends[0], upper),
                    ]
                ),
            )
