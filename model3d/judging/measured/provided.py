"""What the room gives of each size that a space asks for, measured."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.geometry.intervals import clear_run, widest_gap
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import reaching_in, shadows_of
from model3d.judging.space import Stretch

if TYPE_CHECKING:
    from model3d.geometry.bodies.extents import Extents
    from model3d.judging.measured.fit import Fit, Hit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Along, Limit, Space
    from model3d.standing.placed import Placed

_FEW: Final = 2000
"""With no more items than this, all are looked through at once."""
_FIRST_LOOK: Final = 2.0
"""Metres. How far to look at first among many items; then four times as far."""
_ENDLESS: Final = float("inf")


def provided(space: Space, situation: Situation, found: Fit) -> dict[str, float]:
    """Measure what the room gives instead of the required sizes, metres.

    Each size is measured with the others at full: how far until the first intrusion.
    A size that nothing ends is left out. So is one of which nothing is clear where
    several are measured: it only says that something stands before the others.
    """
    # What may stand beyond the depth that is required takes nothing of the other sizes.
    nearer, within = found, space
    if found.all and "depth" in space.required:
        deep = space.required["depth"] - space.behind
        nearer = replace(
            found,
            hits=tuple(_nearer(hit, max(hit.stretch.end, deep)) for hit in found.hits),
            doubts=tuple(
                _nearer(hit, deep) for hit in found.doubts if hit.extents[0][1] < deep
            ),
        )
        if found.doubts:
            within = replace(space, limit=_no_further(space.limit, deep))
    sizes = {
        name: _MEASURES[way](space, situation, found)
        if way == "out"
        else _MEASURES[way](within, situation, nearer)
        for name, way in space.measures.items()
    }
    least = TOUCH if len(sizes) > 1 else -_ENDLESS
    return {name: size for name, size in sizes.items() if least < size < _ENDLESS}


def _clear_depth(space: Space, situation: Situation, found: Fit) -> float:
    if found.all:
        return min(hit.extents[0][1] for hit in found.all) + space.behind
    # A sheet that stands just where the depth ends has no thickness beyond it.
    start = max(space.depth - 2 * TOUCH, 0.0)
    low = (found.place, start, space.bottom)
    high = (found.place + space.width, start, space.top)
    # Nearer than the required depth nothing counts, or it would be an intrusion.
    return max(nearest(space, situation, (low, high), "out", +1), space.depth) + (
        space.behind
    )


def _clear_height(space: Space, situation: Situation, found: Fit) -> float:
    if found.all:
        return min(hit.extents[0][2] for hit in found.all) - space.bottom
    if any(hit.placed.kind.structure for hit in found.excused):
        # How low the ceiling is, an exception lets be.
        return _ENDLESS
    start = max(space.top - 2 * TOUCH, space.bottom)
    low = (found.place, 0.0, start)
    high = (found.place + space.width, space.depth, start)
    above = max(nearest(space, situation, (low, high), "up", +1), space.top)
    return above - space.bottom


def _clear_width(space: Space, situation: Situation, found: Fit) -> float:
    """Return the widest run that is clear at full depth and height.

    The one that covers the item; where none does, the widest before its front.
    """
    # The narrowest that must be covered: where all places of the space overlap.
    left, right = space.last, space.first + space.width
    blocked = [pair for hit in found.all for pair in shadows_of(hit, space, "possible")]
    if clear_run(blocked, left, right) is None:
        front = (
            (left, right) if left < right else (space.first, space.last + space.width)
        )
        start, end = widest_gap(blocked, *front)
        return end - start
    low = (left, 0.0, space.bottom)
    high = (right, space.depth, space.top)
    ends = (
        nearest(space, situation, (low, high), "across", -1),
        nearest(space, situation, (low, high), "across", +1),
    )
    return ends[1] - ends[0]


_AXIS: Final[dict[Along, int]] = {"across": 0, "out": 1, "up": 2}
_MEASURES: Final = {"out": _clear_depth, "across": _clear_width, "up": _clear_height}


def nearest(
    space: Space, situation: Situation, box: Extents, way: Along, sign: int
) -> float:
    """Return where the first solid comes in a box that grows one way; or infinity.

    Growing to four times as far each time finds the nearest among many items without
    looking through all of them.
    """
    low, high = box
    axis = _AXIS[way]
    start = high[axis] if sign > 0 else low[axis]
    limit = _LIMITS[way](space)
    end = situation.size
    reach = end if len(situation.items) <= _FEW else min(_FIRST_LOOK, end)
    while True:
        lows, highs = list(low), list(high)
        if sign > 0:
            highs[axis] = start + reach
        else:
            lows[axis] = start - reach
        near = [
            hit.extents[0][axis] if sign > 0 else hit.extents[1][axis]
            for hit in reaching_in(
                space,
                situation,
                (lows[0], lows[1], lows[2]),
                (highs[0], highs[1], highs[2]),
                limit,
            )
        ]
        if near:
            return min(near) if sign > 0 else max(near)
        if reach >= end:
            return sign * _ENDLESS
        reach = min(4 * reach, end)


def _no_further(limit: Limit, deep: float) -> Limit:
    """Return a limit that asks nothing of what stands beyond a depth."""

    def nearer(placed: Placed) -> Stretch | None:
        stretch = limit(placed)
        return None if stretch is None else _ending(stretch, deep)

    return nearer


def _nearer(hit: Hit, deep: float) -> Hit:
    """Return a hit of which nothing is asked beyond a depth."""
    return replace(hit, stretch=_ending(hit.stretch, deep))


def _ending(stretch: Stretch, deep: float) -> Stretch:
    """Return a stretch that ends at a depth at the latest."""
    return replace(
        stretch,
        end=min(stretch.end, deep),
        possible=min(stretch.possible, deep),
        excused=min(stretch.excused, deep),
    )


def _unexcused(space: Space) -> Limit:
    """Return the space's limit without what an exception lets stand."""

    def limit(placed: Placed) -> Stretch | None:
        stretch = space.limit(placed)
        if stretch is None or not stretch.excused:
            return stretch
        return replace(stretch, excused=0.0, excuse=None)

    return limit


def _overhead(space: Space) -> Limit:
    """Return the space's limit without exceptions; a ceiling above it ends it too."""
    unexcused = _unexcused(space)

    def limit(placed: Placed) -> Stretch | None:
        stretch = space.limit(placed)
        if stretch is None or not (stretch.excused and placed.kind.structure):
            return unexcused(placed)
        return replace(stretch, end=stretch.excused, excused=0.0, excuse=None)

    return limit


def _anywhere(space: Space) -> Limit:
    """Return the space's limit without an end: for looking ahead of the space."""

    def limit(placed: Placed) -> Stretch | None:
        stretch = space.limit(placed)
        if stretch is None or stretch.part("possible")[1] <= stretch.start:
            return None
        return Stretch(stretch.start, _ENDLESS)

    return limit


_LIMITS: Final = {"out": _anywhere, "across": _unexcused, "up": _overhead}
"""What ends a size that is measured some way."""
