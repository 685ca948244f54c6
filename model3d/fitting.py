"""Fit a required space into the room: written once, for every rule.

The index finds what may touch the space; what really reaches in is found exactly, and
so is the best place for a space that may slide sideways.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import chain
from typing import TYPE_CHECKING, Final

from model3d.geometry.intervals import clear_run, free_window, least_window
from model3d.geometry.tolerance import TOUCH
from model3d.geometry.views import reaching
from model3d.spaces import Stretch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Triple
    from model3d.geometry.views import Extents, View
    from model3d.scene.placed import Placed
    from model3d.situation import Situation
    from model3d.spaces import Limit, Space, Way

_FEW: Final = 2000
"""With no more items than this, all are looked through at once."""
_FIRST_LOOK: Final = 2.0
"""Metres. How far to look at first among many items; then four times as far."""
_ENDLESS: Final = float("inf")
_CONTACTS: Final = (TOUCH * 1e-6, TOUCH * (1 - 1e-6))
"""Metres. How far a place may overlap with what is in its way: at first no more than
rounding, and where no such place is, as far as still counts as contact."""


@dataclass(frozen=True, slots=True)
class Hit:
    """A solid that reaches into a space.

    Attributes:
        placed: The item.
        extents: What of it is inside, in the space's frame.
        stretch: The part of the depth it must keep out of.
        end: Where that part ended when this was found.
        view: The solid in the space's frame.
    """

    placed: Placed
    extents: Extents
    stretch: Stretch
    end: float
    view: View


@dataclass(frozen=True, slots=True)
class Fit:
    """How a space fits.

    Attributes:
        place: Where its left side is best, metres in its frame.
        hits: What certainly reaches in there.
        doubts: What reaches in if what is not known is the worse.
    """

    place: float
    hits: tuple[Hit, ...]
    doubts: tuple[Hit, ...]

    @property
    def all(self) -> tuple[Hit, ...]:
        """Everything that reaches in, certainly or possibly."""
        return self.hits + self.doubts


def fit(space: Space, situation: Situation) -> Fit:
    """Find the best place for a space, and what is in its way there."""
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    found = list(reaching_in(space, situation, low, high, space.limit))
    place = _best_place(space, found)
    left, right = place, place + space.width
    hits = _inside(found, space, left, right, possible=False)
    certain = {hit.placed.id for hit in hits}
    doubts = [
        hit
        for hit in _inside(found, space, left, right, possible=True)
        if hit.placed.id not in certain
    ]
    return Fit(place, tuple(hits), tuple(doubts))


def provided(space: Space, situation: Situation, found: Fit) -> dict[str, float]:
    """Measure what the room gives instead of the required sizes, metres.

    Each size is measured with the others at full: how far until the first intrusion.
    A size that nothing ends is left out.
    """
    # What may stand beyond the depth that is required takes nothing of the other sizes.
    nearer, within = found, space
    if found.doubts and "depth" in space.required:
        deep = space.required["depth"] - space.behind
        nearer = replace(
            found,
            doubts=tuple(hit for hit in found.doubts if hit.extents[0][1] < deep),
        )
        within = replace(space, limit=_no_further(space.limit, deep))
    sizes = {
        name: _MEASURES[way](space, situation, found)
        if way == "out"
        else _MEASURES[way](within, situation, nearer)
        for name, way in space.measures.items()
    }
    return {name: size for name, size in sizes.items() if size < _ENDLESS}


def reaching_in(
    space: Space, situation: Situation, low: Triple, high: Triple, limit: Limit
) -> Iterator[Hit]:
    """Yield what reaches into a box of a space's frame, each in its own stretch."""
    frame = space.frame
    for placed in chain(situation.near(frame, low, high), space.extra):
        stretch = limit(placed)
        if stretch is None:
            continue
        stretch = _grown(stretch, space.grown)
        start = max(low[1], stretch.start)
        end = min(high[1], stretch.furthest)
        if end <= start:
            continue
        view = placed.solid.seen_from(frame)
        extents = reaching(view, (low[0], start, low[2]), (high[0], end, high[2]))
        if extents is not None:
            yield Hit(placed, extents, stretch, end, view)


def _best_place(space: Space, found: list[Hit]) -> float:
    """Return where the space is clear, or else where least is in its way."""
    first, last = space.first, space.last
    wanted = min(max(space.wanted, first), last)
    if not found or first == last:
        return wanted
    left, right = first, last + space.width
    shadows: list[tuple[float, float, float]] = []
    for possible in (True, False):
        shadows = [
            shadow
            for hit in _inside(found, space, left, right, possible=possible)
            for shadow in _shadows(hit, space, left, right, possible=possible)
        ]
        for contact in _CONTACTS:
            blocked = [(low + contact, high - contact) for low, high, _ in shadows]
            window = free_window(blocked, space.width, first, last, wanted)
            if window is not None:
                return window
    return least_window(shadows, space.width, first, last, wanted)


def _inside(
    found: list[Hit], space: Space, left: float, right: float, *, possible: bool
) -> list[Hit]:
    """Return the hits that reach in between two sides."""
    result = []
    for hit in found:
        end = _end(hit.stretch, possible=possible)
        if end <= hit.stretch.start:
            continue
        low = (left, hit.stretch.start, space.bottom)
        extents = reaching(hit.view, low, (right, end, space.top))
        if extents is not None:
            result.append(replace(hit, extents=extents, end=end))
    return result


def _end(stretch: Stretch, *, possible: bool) -> float:
    return stretch.furthest if possible else stretch.end


def _grown(stretch: Stretch, by: float) -> Stretch:
    """Return a stretch longer at both ends; where it is empty it stays so."""
    if not by:
        return stretch
    start = max(stretch.start - by, 0.0) if stretch.start else 0.0
    end, possible = (
        end + by if end > stretch.start else start
        for end in (stretch.end, stretch.possible)
    )
    return Stretch(start, end, possible, stretch.question)


def _shadows(
    hit: Hit, space: Space, left: float, right: float, *, possible: bool
) -> list[tuple[float, float, float]]:
    """Return what a hit blocks sideways: low, high and the area behind it."""
    (_, v0, z0), (_, v1, z1) = hit.extents
    area = (v1 - v0) * (z1 - z0)
    low = (left, hit.stretch.start, space.bottom)
    high = (right, _end(hit.stretch, possible=possible), space.top)
    return [(a, b, area) for a, b in hit.view.shadow(low, high)]


def _clear_depth(space: Space, situation: Situation, found: Fit) -> float:
    if found.all:
        return min(hit.extents[0][1] for hit in found.all) + space.behind
    # A sheet that stands just where the depth ends has no thickness beyond it.
    start = max(space.depth - 2 * TOUCH, 0.0)
    low = (found.place, start, space.bottom)
    high = (found.place + space.width, start, space.top)
    # Nearer than the required depth nothing counts, or it would be an intrusion.
    return max(_nearest(space, situation, (low, high), "out", +1), space.depth) + (
        space.behind
    )


def _clear_height(space: Space, situation: Situation, found: Fit) -> float:
    if found.all:
        return min(hit.extents[0][2] for hit in found.all) - space.bottom
    start = max(space.top - 2 * TOUCH, space.bottom)
    low = (found.place, 0.0, start)
    high = (found.place + space.width, space.depth, start)
    above = max(_nearest(space, situation, (low, high), "up", +1), space.top)
    return above - space.bottom


def _clear_width(space: Space, situation: Situation, found: Fit) -> float:
    """Return the widest run that is clear at full depth and height."""
    # The narrowest that must be covered: where all places of the space overlap.
    left, right = space.last, space.first + space.width
    blocked = (
        (a, b)
        for hit in found.all
        for a, b, _ in _shadows(
            hit, space, space.first, space.last + space.width, possible=True
        )
    )
    if clear_run(blocked, left, right) is None:
        return 0.0
    low = (left, 0.0, space.bottom)
    high = (right, space.depth, space.top)
    ends = (
        _nearest(space, situation, (low, high), "across", -1),
        _nearest(space, situation, (low, high), "across", +1),
    )
    return ends[1] - ends[0]


_AXIS: Final[dict[Way, int]] = {"across": 0, "out": 1, "up": 2}
_MEASURES: Final = {"out": _clear_depth, "across": _clear_width, "up": _clear_height}


def _nearest(
    space: Space, situation: Situation, box: Extents, way: Way, sign: int
) -> float:
    """Return where the first solid comes in a box that grows one way; or infinity.

    Growing to four times as far each time finds the nearest among many items without
    looking through all of them.
    """
    low, high = box
    axis = _AXIS[way]
    start = high[axis] if sign > 0 else low[axis]
    limit = _anywhere(space) if way == "out" else space.limit
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
        if stretch is None:
            return None
        ends = min(stretch.end, deep), min(stretch.possible, deep)
        return Stretch(stretch.start, *ends, stretch.question)

    return nearer


def _anywhere(space: Space) -> Limit:
    """Return the space's limit without an end: for looking ahead of the space."""

    def limit(placed: Placed) -> Stretch | None:
        stretch = space.limit(placed)
        return None if stretch is None else Stretch(stretch.start, _ENDLESS)

    return limit
