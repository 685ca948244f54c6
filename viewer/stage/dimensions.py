"""Dimension lines: a size that is required, and how much of it is there."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.results import ClearBox
from viewer.lengths import other, own
from viewer.shortfall import shortfall
from viewer.stage.parts import Dimension
from viewer.words import amount

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from model3d.results import Judgement
    from viewer.stage.parts import Point, Points

_RIGHT, _OUT, _UP = 0, 1, 2
AXES: Final = {
    "depth": _OUT,
    "gap": _OUT,
    "width": _RIGHT,
    "height": _UP,
    "clearance": _UP,
}
"""Which way of a space's frame a size is measured."""
_FLOOR: Final = 0.01
"""Metres above the space's bottom of a line along it."""


def dimensions(judgement: Judgement, finding: int, units: str) -> Iterator[Dimension]:
    """Yield the dimension lines of one judgement's space.

    Args:
        judgement: What was tested.
        finding: Index of its row.
        units: Of the scene.
    """
    tested = _decisive(judgement)
    if tested is None:
        return
    missing = None if judgement.verdict == "met" else shortfall(judgement)
    worst = missing.size if missing else ""
    for name, needed in judgement.required.items():
        if name not in AXES:
            continue
        axis = AXES[name]
        start, end, aside = _line(tested, axis)
        if axis == _OUT and needed > end[axis] - start[axis]:
            # The depth is counted from live parts behind the front.
            start = start[0], end[axis] - needed, start[2]
        there = judgement.provided.get(name)
        short = name == worst
        # Of any other size what is there is no news, or a mere consequence.
        left = there if short else None
        reached = (start, end)
        if short and there is not None:
            reached = _reached(judgement, tested, axis, start, end, there)
        ends = tested.frame.world(np.array([start, end, *reached]))
        yield Dimension(
            finding=finding,
            item=judgement.subject,
            name=name,
            start=_point(ends[0]),
            end=_point(ends[1]),
            reached_start=_point(ends[2]),
            reached_end=_point(ends[3]),
            aside=_vector(tested, aside),
            required=amount(name, needed, units),
            provided=amount(name, there, units),
            brief=_brief(needed, left, partial(own, units=units)),
            brief_other=_brief(needed, left, partial(other, units=units)),
            short=short,
        )


def _brief(needed: float, left: float | None, written: Callable[[float], str]) -> str:
    return written(needed) if left is None else f"{written(left)} of {written(needed)}"


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


def _line(box: ClearBox, axis: int) -> tuple[Point, Point, Point]:
    """Return where the size is drawn in the frame, and which way it is moved off."""
    (left, back, bottom), (right, front, top) = box.low, box.high
    level = bottom + _FLOOR
    if axis == _OUT:
        return (right, back, level), (right, front, level), (1.0, 0.0, 0.0)
    if axis == _RIGHT:
        return (left, front, level), (right, front, level), (0.0, 1.0, 0.0)
    return (left, front, bottom), (left, front, top), (-1.0, 0.0, 0.0)


def _reached(
    judgement: Judgement,
    box: ClearBox,
    axis: int,
    start: Point,
    end: Point,
    there: float,
) -> tuple[Point, Point]:
    """Return the ends of what is there: from the start, or from the other side.

    Across, the clear run is on the side where nothing stands.
    """
    from_end = False
    if axis == _RIGHT and judgement.intrusions:
        middles = [np.add(hit.low, hit.high) / 2 for hit in judgement.intrusions]
        places = box.frame.local(np.array(middles))[:, 0]
        from_end = float(places.mean()) < (start[0] + end[0]) / 2
    length = end[axis] - start[axis]
    share = min(max(there / length, 0.0), 1.0) if length else 0.0
    one, other = np.array(start), np.array(end)
    if from_end:
        return _point(other + (one - other) * share), end
    return start, _point(one + (other - one) * share)


def _vector(box: ClearBox, local: Point) -> Point:
    origin, tip = box.frame.world(np.array([(0.0, 0.0, 0.0), local]))
    return _point(tip - origin)


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
