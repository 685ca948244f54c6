"""The parts of a map by what becomes of the ways out there, found by halving it."""

from __future__ import annotations

import heapq
import itertools
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat
from model3d.mending.map.leaving.told import Told

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner, Frame
    from model3d.geometry.intervals import Interval
    from model3d.mending.map.leaving.ways_asked import WaysAsked

    Points = NDArray[np.float64]

_SAME_ALL_OVER: Final = 0.25
"""Metres. Where a part that is no longer is told alike at its corners and its middle,
it is taken to be so all over: but never to be met."""
_OWN: Final = 0.5
"""Metres. As long at most is a part in whose middle its own ways out are asked."""
_SURE: Final = 0.01
"""Metres. What is no longer is met where it is so at both ends and in the middle."""
_SLOT: Final = 1e-6
"""Metres. What is no longer is a single place."""
_LINE: Final = 2e-4
"""Metres. A stretch that is no longer is not looked at any further."""
_STEP: Final = 0.05
"""Metres. The same on the floor."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a map where ways out are not met for certain.

    Attributes:
        plan: The displacements.
        told: What is told of it; None where it was not asked.
    """

    plan: flat.Geometry
    told: Told | None


def on_line(
    stretches: Sequence[Interval], start: Corner, along: Corner, asked: WaysAsked
) -> Iterator[Part]:
    """Yield the parts of a line where ways out are not met for certain.

    Args:
        stretches: What is free of the line but for the ways out.
        start: Where the line starts, a displacement.
        along: Unit vector along it.
        asked: The rules.
    """

    def at(away: float) -> Corner:
        return start[0] + away * along[0], start[1] + away * along[1]

    heap = [(low - high, low, high) for low, high in stretches]
    heapq.heapify(heap)
    while heap:
        wide, low, high = heapq.heappop(heap)
        found = [*_of_stretch(-wide, low, high, at, asked)]
        for a, b, told in found:
            if told is _HALVED:
                heapq.heappush(heap, (a - b, a, b))
            else:
                # A slot of the item's own size has no length.
                more = _SLOT if b - a <= _SLOT else 0.0
                line = flat.LineString([at(a - more), at(b + more)])
                # Of a wall aslant its parts lie beside its own line by rounding.
                yield Part(line.buffer(_SLOT, cap_style="flat"), told)


_HALVED: Final = Told()
"""What stands for: look at both halves."""


def _of_stretch(
    wide: float,
    low: float,
    high: float,
    at: Callable[[float], Corner],
    asked: WaysAsked,
) -> Iterator[tuple[float, float, Told | None]]:
    """Yield what is not met of a stretch, or what is to be looked at of it."""
    if asked.purse.empty:
        yield low, high, None
        return
    near = wide <= _OWN or not asked.is_asked_by_places
    if near and asked.keeps(np.array([at(low), at(high)])):
        return
    middle = (low + high) / 2
    if wide <= _LINE:
        if not (here := asked.told(at(middle))).met:
            yield low, high, here
        return
    if wide <= _SURE:
        yield from _parted([low, middle, high], at, asked)
        return
    if wide <= _SAME_ALL_OVER and not (here := asked.told(at(middle))).met:
        ends = [asked.told(at(low)), asked.told(at(high))]
        if all(one.badness == here.badness for one in ends):
            yield low, high, here
            return
    yield low, middle, _HALVED
    yield middle, high, _HALVED


def _parted(
    cuts: list[float], at: Callable[[float], Corner], asked: WaysAsked
) -> Iterator[tuple[float, float, Told]]:
    """Yield what is not met of a short stretch, to where that begins."""
    for low, high in pairwise(cuts):
        ends = {low: asked.told(at(low)), high: asked.told(at(high))}
        better, worse = sorted(ends, key=lambda end: ends[end].badness)
        if ends[better].badness == ends[worse].badness:
            if not ends[better].met:
                yield low, high, ends[better]
            continue
        start, told, near = better, ends[worse], ends[better]
        while abs(worse - better) > _LINE:
            middle = (better + worse) / 2
            here = asked.told(at(middle))
            if here.badness == told.badness:
                worse = middle
            else:
                better, near = middle, max(near, here, key=_badness)
        end = low + high - start
        yield min(better, end), max(better, end), told
        if not near.met:
            yield min(start, better), max(start, better), near


def _badness(told: Told) -> int:
    return told.badness


def on_floor(area: flat.Geometry, frame: Frame, asked: WaysAsked) -> Iterator[Part]:
    """Yield the parts of an area where ways out are not met for certain.

    Args:
        area: What is free but for the ways out, displacements.
        frame: Along whose axes it is parted.
        asked: The rules.
    """
    heap: list[_Waiting] = []
    count = itertools.count()
    for part in flat.get_parts(area):
        if part.area > 0:
            _push(heap, count, part, frame)
    while heap:
        _, _, part, (low, high) = heapq.heappop(heap)
        told = _of_part(part, _corners(frame, low, high), asked)
        if told is _HALVED:
            for half in _halves(part, frame, low, high):
                _push(heap, count, half, frame)
        elif told is None or not told.met:
            yield Part(part, told)


def _of_part(
    part: flat.Polygon, corners: list[Corner], asked: WaysAsked
) -> Told | None:
    """Return what is told of a part of the floor; None where it is not asked."""
    if asked.purse.empty:
        return None
    moves = np.array(corners)
    wide = float(np.hypot(*(moves[1:] - moves[:-1]).T).max())
    near = wide <= _OWN or not asked.is_asked_by_places
    if near and asked.keeps(moves):
        return Told()
    if wide > _SAME_ALL_OVER:
        return _HALVED
    middle = part.representative_point()
    here = asked.told((float(middle.x), float(middle.y)))
    if here.met and wide > _STEP:
        return _HALVED
    if wide <= _STEP:
        # What is not met in the middle, or at any corner, is told of all of it.
        found = (asked.told(one) for one in corners) if here.met else ()
        return next((one for one in found if not one.met), here)
    alike = all(asked.told(one).badness == here.badness for one in corners)
    return here if alike else _HALVED


_Waiting = tuple[float, int, flat.Polygon, tuple["Points", "Points"]]


def _push(
    heap: list[_Waiting], count: Iterator[int], part: flat.Polygon, frame: Frame
) -> None:
    seen = np.array([frame.to_frame(x, y) for x, y in flat.get_coordinates(part)])
    low, high = seen.min(axis=0), seen.max(axis=0)
    wide = float((high - low).max())
    heapq.heappush(heap, (-wide, next(count), part, (low, high)))


def _corners(frame: Frame, low: Points, high: Points) -> list[Corner]:
    (a, b), (c, d) = low.tolist(), high.tolist()
    return [frame.to_plan(u, v) for u, v in ((a, b), (c, b), (c, d), (a, d))]


def _halves(
    part: flat.Polygon, frame: Frame, low: Points, high: Points
) -> Iterator[flat.Polygon]:
    axis = int((high - low).argmax())
    middle = (low[axis] + high[axis]) / 2
    for side in (0, 1):
        ends = [low.copy(), high.copy()]
        ends[1 - side][axis] = middle
        half = flat.Polygon(_corners(frame, *ends))
        for one in flat.get_parts(flat.intersection(part, half)):
            if one.area > 0:
                yield one
