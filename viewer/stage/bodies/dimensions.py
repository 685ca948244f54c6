"""Dimension lines: a size that is required, and how much of it is there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from model3d.judging.results import ClearBox
from viewer.stage.bodies.ways import across
from viewer.stage.drawn import Dimension
from viewer.wording.shortfall import OUT, REACH, RIGHT, UP, axis_of, told_shortfall
from viewer.wording.sizes import (
    LEVEL,
    NOTHING,
    briefs,
    provided_words,
    required,
    required_words,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Intrusion, Judgement, SizeLine, Way
    from viewer.stage.bodies.surfaces import UprightFrame
    from viewer.stage.drawn import Point, Points

_FLOOR: Final = 0.01
"""Metres above the space's bottom of a line along it."""
_ASIDE: Final[Point] = (1.0, 0.0, 0.0)


class _Drawn(NamedTuple):
    """Where a size is drawn in a space's frame.

    Attributes:
        start, end: Its ends.
        reached: The ends of what is there.
        aside: Which way it is moved off.
    """

    start: Point
    end: Point
    reached: tuple[Point, Point]
    aside: Point


def dimensions(judgement: Judgement, index: int, units: str) -> Iterator[Dimension]:
    """Yield the dimension lines of one judgement's space.

    Args:
        judgement: What was tested.
        index: Index of its row.
        units: Of the scene.
    """
    tested = _decisive(judgement) or judgement.line
    if tested is None:
        yield from _of_way(judgement, index, units)
        return
    missing = told_shortfall(judgement)
    worst = missing.size if missing else ""
    for name in judgement.required:
        short = name == worst
        if isinstance(tested, ClearBox):
            line = _line(judgement, tested, name, short=short)
        else:
            line = _bare(judgement, tested, name)
        if line is None:
            continue
        ends = tested.frame.world(np.array([line.start, line.end, *line.reached]))
        # Of any other size what is there is no news, or a mere consequence.
        brief, brief_other = (
            briefs(judgement, name, units)
            if short
            else required(judgement, name, units)
        )
        yield Dimension(
            judgement=index,
            item=judgement.subject,
            name=name,
            start=_point(ends[0]),
            end=_point(ends[1]),
            reached_start=_point(ends[2]),
            reached_end=_point(ends[3]),
            aside=_vector(tested.frame, line.aside),
            required=required_words(judgement, name, units),
            provided=provided_words(judgement, name, units)
            or (NOTHING if short else ""),
            brief=brief,
            brief_other=brief_other,
            short=short,
            most=name in judgement.limit,
        )


def _of_way(judgement: Judgement, index: int, units: str) -> Iterator[Dimension]:
    """Yield the width of a way out where it is narrowest, its height where lowest."""
    way = judgement.way
    if way is None or judgement.verdict == "met":
        return
    found = {"width": _narrowest(way, judgement), "height": _lowest(way, judgement)}
    for name, line in found.items():
        if line is None:
            continue
        brief, brief_other = briefs(judgement, name, units)
        yield Dimension(
            judgement=index,
            item=judgement.subject,
            name=name,
            start=line.start,
            end=line.end,
            reached_start=line.reached[0],
            reached_end=line.reached[1],
            aside=line.aside,
            required=required_words(judgement, name, units),
            provided=provided_words(judgement, name, units) or NOTHING,
            brief=brief,
            brief_other=brief_other,
            short=True,
            most=False,
        )


def _narrowest(way: Way, judgement: Judgement) -> _Drawn | None:
    """Return where the width of a way is drawn; None where it is wide enough."""
    asked = judgement.required.get("width")
    if asked is None or not way.narrowest < asked:
        return None
    start, end, onwards = across(way, way.at, asked)
    reached_start, reached_end, _ = across(way, way.at, way.narrowest)
    return _Drawn(start, end, (reached_start, reached_end), onwards)


def _lowest(way: Way, judgement: Judgement) -> _Drawn | None:
    """Return where the height of a way is drawn; None where it is high enough."""
    asked, there = (
        sizes.get("height") for sizes in (judgement.required, judgement.provided)
    )
    if way.lowest_at is None or asked is None or there is None:
        return None
    if there >= asked - LEVEL:
        return None
    x, y, floor = way.lowest_at
    start, top = (x, y, floor), (x, y, floor + there)
    one, other, _ = across(way, (x, y), 1.0)
    aside = _point(np.subtract(other, one))
    return _Drawn(start, (x, y, floor + asked), (start, top), aside)


def _decisive(judgement: Judgement) -> ClearBox | None:
    """Return the box something stands in, else the first."""
    boxes = [shape for shape in judgement.shapes if isinstance(shape, ClearBox)]
    for box in boxes:
        for hit in judgement.intrusions:
            middle = np.add(hit.low, hit.high) / 2
            here = box.frame.local(middle[None, :])[0]
            if (here >= np.array(box.low)).all() and (here <= box.high).all():
                return box
    return boxes[0] if boxes else None


def _line(
    judgement: Judgement, box: ClearBox, name: str, *, short: bool
) -> _Drawn | None:
    """Return where a size is drawn; None where it has no place in the space."""
    if name == REACH:
        return _reach(judgement, box)
    axis = axis_of(judgement, name)
    if axis is None:
        return None
    needed = judgement.required[name]
    start, end, aside = _along(box, axis)
    if axis == OUT and needed > end[axis] - start[axis]:
        # The depth is counted from live parts behind the front.
        start = start[0], end[axis] - needed, start[2]
    reached = (start, end)
    there = judgement.provided.get(name, 0.0)
    if name in judgement.limit:
        end = _from(start, axis, needed)
        reached = start, _from(start, axis, there)
    elif short:
        reached = _reached(judgement, box, axis, (start, end), there)
    return _Drawn(start, end, reached, aside)


def _bare(judgement: Judgement, line: SizeLine, name: str) -> _Drawn | None:
    """Return where a size is drawn that belongs to no space."""
    if name != judgement.short:
        return None
    needed = judgement.required[name]
    end = _from(line.start, line.axis, needed)
    there = _from(line.start, line.axis, judgement.provided.get(name, needed))
    return _Drawn(line.start, end, (line.start, there), _ASIDE)


def _along(box: ClearBox, axis: int) -> tuple[Point, Point, Point]:
    """Return the ends of a box along an axis, and which way the line is moved off."""
    (left, back, bottom), (right, front, top) = box.low, box.high
    level = bottom + _FLOOR
    if axis == OUT:
        return (right, back, level), (right, front, level), _ASIDE
    if axis == RIGHT:
        return (left, front, level), (right, front, level), (0.0, 1.0, 0.0)
    return (left, front, bottom), (left, front, top), (-1.0, 0.0, 0.0)


def _reach(judgement: Judgement, box: ClearBox) -> _Drawn | None:
    """Return the line of a reach: from the front, beside what reaches too far."""
    hits = [hit for hit in judgement.intrusions if hit.reach is not None]
    if not hits:
        return None
    points = box.frame.local(_corners(max(hits, key=lambda hit: hit.reach or 0.0)))
    start = float(points[:, RIGHT].max()), 0.0, float(points[:, UP].mean())
    end = _from(start, OUT, judgement.required[REACH])
    reached = _from(start, OUT, judgement.provided.get(REACH, 0.0))
    return _Drawn(start, end, (start, reached), _ASIDE)


def _from(start: Point, axis: int, length: float) -> Point:
    """Return the point that lies some way along an axis."""
    return _point(np.array(start) + length * np.eye(len(start))[axis])


def _corners(hit: Intrusion) -> Points:
    if hit.body is not None and len(hit.body.vertices):
        return hit.body.vertices
    return np.array([hit.low, hit.high])


def _reached(
    judgement: Judgement,
    box: ClearBox,
    axis: int,
    ends: tuple[Point, Point],
    there: float,
) -> tuple[Point, Point]:
    """Return the ends of what is there: from the start, or from the other side.

    Across, the clear run is on the side where nothing stands.
    """
    start, end = ends
    from_end = False
    if axis == RIGHT and judgement.intrusions:
        middles = [np.add(hit.low, hit.high) / 2 for hit in judgement.intrusions]
        places = box.frame.local(np.array(middles))[:, 0]
        from_end = float(places.mean()) < (start[0] + end[0]) / 2
    length = end[axis] - start[axis]
    share = min(max(there / length, 0.0), 1.0) if length else 0.0
    one, other = np.array(start), np.array(end)
    if from_end:
        return _point(other + (one - other) * share), end
    return start, _point(one + (other - one) * share)


def _vector(frame: UprightFrame, local: Point) -> Point:
    origin, tip = frame.world(np.array([(0.0, 0.0, 0.0), local]))
    return _point(tip - origin)


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
