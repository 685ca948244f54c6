"""How far things are apart in a room: chains along its walls, and across its aisles."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.wording import length
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import DimensionLine
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.labels.spots import extent
from viewer.figure.lettering.amount import two_lines
from viewer.figure.lettering.chains import Chain, own_size
from viewer.figure.things.subject import arrangement_of
from viewer.wording.words import units_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.shell import WallLine
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.lettering.chains import Side

_AT_THE_WALL: Final = 0.35
"""Metres. What stands nearer with its back belongs to a wall."""
_LEAST: Final = 0.005
"""Metres; what is nearer touches."""
_LOW: Final = 2.0
"""Metres. What hangs higher does not stand along a wall."""
_LONGEST: Final = 30.0
"""Metres. A way across that is longer says nothing."""


def wall_chains(arrangement: Arrangement, units: str) -> Iterator[Chain]:
    """Yield the chains beside a room: along each straight wall, and its own size."""
    for line in arrangement.shell.lines:
        side = _side(line)
        if side is None:
            continue
        stops = [*_stops(line, arrangement)]
        if stops:
            yield _chain(line, side, stops, units)
    outline = arrangement.shell.outline
    if outline:
        (west, south), (east, north) = (
            tuple(map(min, zip(*outline, strict=True))),
            tuple(map(max, zip(*outline, strict=True))),
        )
        across = own_size((west, south), (east, south), units)
        yield Chain("room width", "bottom", (across,))
        yield Chain(
            "room depth", "left", (own_size((west, south), (west, north), units),)
        )


def _side(line: WallLine) -> Side | None:
    x, y = line.frame.out
    if abs(x) > _LEAST and abs(y) > _LEAST:
        return None
    if abs(x) > abs(y):
        return "left" if x > 0 else "right"
    return "bottom" if y > 0 else "top"


def _stops(line: WallLine, arrangement: Arrangement) -> Iterator[tuple[float, float]]:
    """Yield from where to where things stand along a wall, merged where they touch."""
    found = []
    for placed in arrangement.items.values():
        front = placed.front
        if placed.of_room or front is None or not placed.associated:
            continue
        right, out = line.frame.to_frame(front.frame.x, front.frame.y)
        same = math.hypot(
            front.frame.out[0] - line.frame.out[0],
            front.frame.out[1] - line.frame.out[1],
        )
        behind = out - front.depth
        if same < _LEAST and -_LEAST <= behind <= _AT_THE_WALL and front.bottom < _LOW:
            found.append((right, right + front.width))
    merged: list[tuple[float, float]] = []
    for low, high in sorted(found):
        if merged and low <= merged[-1][1] + _LEAST:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    yield from merged


def _chain(
    line: WallLine, side: Side, stops: list[tuple[float, float]], units: str
) -> Chain:
    ends = [0.0, *(end for stop in stops for end in stop), line.length]
    spots: list[Spot] = [line.frame.to_plan(end, 0.0) for end in ends]
    links = [
        own_size(one, after, units)
        for one, after in pairwise(spots)
        if math.dist(one, after) > _LEAST
    ]
    return Chain(f"along {line.id}", side, tuple(links))


def aisles(paper: Paper, pane: Pane, report: Report) -> None:
    """Draw how far it is from each front to what is first ahead of it."""
    arrangement, units = arrangement_of(report), units_of(report)
    drawn: set[tuple[float, ...]] = set()
    for one in report.judgements:
        depth = one.provided.get("depth")
        placed = arrangement.items.get(one.subject)
        if one.requirement != "working-space" or depth is None or placed is None:
            continue
        front = placed.front
        if front is None or not _LEAST < depth < _LONGEST:
            continue
        # A little beside the middle, where leaves and names leave room.
        at = front.width * 0.62
        start, end = (front.frame.to_plan(at, out) for out in (0.0, depth))
        a, b = (pane.axes.spot((x, y, 0.0))[:2] for x, y in (start, end))
        key = (
            tuple(sorted((round(a[0], 2), round(b[0], 2)))),
            tuple(sorted((round(a[1], 2), round(b[1], 2)))),
        )
        flat = (*key[0], *key[1])
        if flat in drawn or not (pane.holds(a) and pane.holds(b)):
            continue
        drawn.add(flat)
        one_end, other_end = pane.at(*a), pane.at(*b)
        mark = DimensionLine(
            pens.SIZE, one_end, other_end, (one_end, other_end), depth, pane.scale
        )
        paper.dimension(mark, _words(pane, one_end, other_end, depth, units))


def _words(
    pane: Pane, one: Spot, other_end: Spot, metres: float, units: str
) -> FigureLabel:
    """Return the words of a way across, close beside its line or not at all."""
    upright = abs(one[0] - other_end[0]) < abs(one[1] - other_end[1])
    lines: tuple[str, ...] = two_lines(metres, units)
    if not upright:
        lines = (length(metres, units),)
    middle = ((one[0] + other_end[0]) / 2, (one[1] + other_end[1]) / 2)
    label = FigureLabel(lines, at_point(middle), pane.room, needed=False, far=4.0)
    wide, high = extent(label)
    tried = []
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        x = one[0] + share * (other_end[0] - one[0])
        y = one[1] + share * (other_end[1] - one[1])
        off = (wide / 2 + _OFF, 0.0) if upright else (0.0, high / 2 + _OFF)
        tried += [(x + off[0], y - off[1]), (x - off[0], y + off[1])]
    return replace(label, inside=tuple(tried))


_OFF: Final = 0.7
"""Millimetres between a line and its words."""
