"""Walls that are drawn by their two faces, as open lines side by side.

Common practice of plans: the faces of a wall are two lines, which end where it meets
another wall, at its corners and at its doors. The nearest lines belong together first;
what none belongs to is a wall of which nobody says how thick it is.
"""

from __future__ import annotations

import math
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.file.curve import TOLERANCE
from model3d.geometry.plan.lines.enclosed import Area, bands, stands_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.dxf.drawn_plan import OpenLine
    from model3d.geometry.frame import Corner

    Line = tuple[Corner, ...]
    Span = tuple[float, float]

THINNEST: Final = 0.04
THICKEST: Final = 0.6
"""Metres between the faces of a wall."""
THICKEST_SINGLE: Final = 0.25
"""Metres on either side of a line to which its wall may reach: a brick and plaster."""
_UNSAID: Final = 0.002
"""Metres of a wall that is drawn as one line, till somebody says how thick it is."""
_PARALLEL: Final = 0.005
_LEAST: Final = 0.05
"""Metres that faces must run side by side."""
MOST: Final = 1500
"""Pieces of lines of one layer that are tried against one another."""


class _Face:
    """A straight piece of a line, and how much of it is a face already."""

    def __init__(self, line: int, start: Corner, end: Corner) -> None:
        self.line, self.start, self.end = line, start, end
        self.length = math.dist(start, end)
        self.x = (end[0] - start[0]) / self.length
        self.y = (end[1] - start[1]) / self.length
        self.used: list[Span] = []

    def seen(self, point: Corner) -> Corner:
        """Return how far along it and to its left a point lies."""
        x, y = point[0] - self.start[0], point[1] - self.start[1]
        return x * self.x + y * self.y, y * self.x - x * self.y

    def at(self, along: float, left: float) -> Corner:
        x, y = self.start
        return x + along * self.x - left * self.y, y + along * self.y + left * self.x

    def span(self, one: Corner, other: Corner) -> Span:
        a, b = sorted((self.seen(one)[0], self.seen(other)[0]))
        return a, b

    def is_free(self, span: Span) -> bool:
        return all(_shared(span, one) < _LEAST for one in self.used)


def _shared(one: Span, other: Span) -> float:
    return min(one[1], other[1]) - max(one[0], other[0])


def walls_of_faces(lines: Sequence[Line]) -> tuple[list[Area], set[int]]:
    """Return the walls between lines, and the numbers of the lines that are of one.

    Args:
        lines: Open lines of one layer, metres.
    """
    faces = [
        _Face(number, start, end)
        for number, line in enumerate(lines)
        for start, end in pairwise(line)
        if start != end
    ]
    if len(faces) > MOST:
        return [], set()
    apart = sorted(
        (found, i, j)
        for (i, one), (j, other) in combinations(enumerate(faces), 2)
        if (found := _apart(one, other)) is not None
    )
    walls: list[Area] = []
    taken: set[int] = set()
    for _, i, j in apart:
        if (wall := _between(faces[i], faces[j])) is not None:
            walls.append(wall)
            taken |= {faces[i].line, faces[j].line}
    taken |= {
        number
        for number, line in enumerate(lines)
        if number not in taken and walls and _closes(line, walls)
    }
    return walls, taken


def _apart(one: _Face, other: _Face) -> float | None:
    """Return how far two pieces are apart, where they may be faces of one wall."""
    if abs(one.x * other.y - one.y * other.x) > _PARALLEL:
        return None
    middle = (
        (other.start[0] + other.end[0]) / 2,
        (other.start[1] + other.end[1]) / 2,
    )
    apart = abs(one.seen(middle)[1])
    beside = _shared(one.span(other.start, other.end), (0.0, one.length))
    if THINNEST <= apart <= THICKEST and beside >= _LEAST:
        return round(apart, 6)
    return None


def _between(one: _Face, other: _Face) -> Area | None:
    """Return the wall between two faces, if neither is one of a nearer pair there.

    Where one goes on a little it does so around a corner, and so does the wall.
    """
    along, own = one.span(other.start, other.end), (0.0, one.length)
    side = max(along[0], own[0]), min(along[1], own[1])
    ends = [one.at(u, 0.0) for u in side]
    beyond = other.span(*ends)
    if not (one.is_free(side) and other.is_free(beyond)):
        return None
    one.used.append(side)
    other.used.append(beyond)
    far = [one.seen(point)[1] for point in (other.start, other.end)]
    left = max(far, key=abs)
    most = 2 * abs(left)
    low, high = min(along[0], own[0]), max(along[1], own[1])
    start = low if side[0] - low <= most else side[0]
    end = high if high - side[1] <= most else side[1]
    corners = [
        one.at(u, v) for u, v in ((start, 0), (end, 0), (end, left), (start, left))
    ]
    return Area(tuple(corners if left > 0 else corners[::-1]))


def _closes(line: Line, walls: Sequence[Area]) -> bool:
    """Tell whether a line is but the end of a wall, such as at a door."""
    return any(all(_touches(wall, point) for point in line) for wall in walls)


def _touches(wall: Area, point: Corner) -> bool:
    return all(side >= -_LEAST / 10 for side in _inside(wall, point))


def _inside(wall: Area, point: Corner) -> Iterator[float]:
    """Yield how far within each side of a wall a point lies."""
    for (ax, ay), (bx, by) in pairwise((*wall.outer, wall.outer[0])):
        length = math.dist((ax, ay), (bx, by))
        yield ((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / length


def single_lines(
    lines: Sequence[OpenLine],
    outline: Sequence[Corner],
    layer: str,
    told: list[str],
) -> tuple[list[OpenLine], list[Area]]:
    """Return the lines that stand in no room, and walls as thin as lines of the others.

    A wall stands there, however thick: left out it would be in nobody's way.

    Args:
        lines: Of a layer that becomes walls, each alone.
        outline: Of the room.
        layer: Their layer.
        told: Is told what is taken for a wall.
    """
    rest: list[OpenLine] = []
    walls: list[Area] = []
    for line in lines:
        spare = TOLERANCE if line.curved else 0.0
        thin = bands(line.points, _UNSAID, closed=False, spare=spare)
        if any(stands_in(outline, one) for one in thin):
            walls += thin
        else:
            rest.append(line)
    if count := len(lines) - len(rest):
        many = "single lines are walls" if count > 1 else "single line is a wall"
        told.append(
            f"layer {layer}: {count} {many} of which nobody says how thick: "
            f"say Thickness; till then nothing that comes nearer than "
            f"{THICKEST_SINGLE * 1000:g} mm to a limit is met"
        )
    return rest, walls
