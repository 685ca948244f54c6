"""Fit a required space into the room: written once, for every rule.

The index finds what may touch the space; what really reaches in is found exactly, and
so is the best place for a space that may slide sideways.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import chain
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.extents import (
    BoxView,
    comes_from,
    past_contact,
    reaching,
)
from model3d.geometry.intervals import free_window
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.bodies.extents import Extents, Seen
    from model3d.geometry.frame import Triple
    from model3d.judging.situation import Situation
    from model3d.judging.space import Limit, Space, Stretch, Sureness
    from model3d.standing.placed import Placed

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
        part: From where to where that part was looked at when this was found.
        view: The solid in the space's frame.
    """

    placed: Placed
    extents: Extents
    stretch: Stretch
    part: tuple[float, float]
    view: Seen

    @property
    def stands_out(self) -> bool:
        """Whether it comes from the face itself and reaches further than it may.

        Something above or below the item that begins further out is in front of it.
        What is in doubt only because it stands out at all ends before it may not.
        """
        start, (low, high) = self.stretch.start, self.extents
        if start > 0 and high[1] <= start + TOUCH:
            return True
        return (
            start > 0
            and low[1] <= start + TOUCH
            and comes_from(self.view, start, low, high)
        )


@dataclass(frozen=True, slots=True)
class Fit:
    """How a space fits.

    Attributes:
        place: Where its left side is best, metres in its frame.
        hits: What certainly reaches in there.
        doubts: What reaches in if what is not known is the worse.
        excused: What reaches in, and may by an exception.
    """

    place: float
    hits: tuple[Hit, ...]
    doubts: tuple[Hit, ...]
    excused: tuple[Hit, ...] = ()

    @property
    def all(self) -> tuple[Hit, ...]:
        """Everything that reaches in, certainly or possibly."""
        return self.hits + self.doubts


def fit(space: Space, situation: Situation) -> Fit:
    """Find the best place for a space, and what is in its way there."""
    found = _found(space, situation)
    return _fit_at(_best_place(space, found), space, found)


def fit_at(place: float, space: Space, situation: Situation) -> Fit:
    """Tell what is in the way of a space whose left side is at a place."""
    return _fit_at(place, space, _found(space, situation))


def _found(space: Space, situation: Situation) -> list[Hit]:
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    return list(reaching_in(space, situation, low, high, space.limit))


def _fit_at(place: float, space: Space, found: list[Hit]) -> Fit:
    left, right = place, place + space.width
    hits = _inside(found, space, left, right, "certain")
    known = {hit.placed.id for hit in hits}
    doubts = [
        hit
        for hit in _inside(found, space, left, right, "possible")
        if hit.placed.id not in known
    ]
    known |= {hit.placed.id for hit in doubts}
    excused = [
        hit
        for hit in found
        if hit.stretch.excuse is not None and hit.placed.id not in known
    ]
    if excused:
        excused = _inside(excused, space, left, right, "excused")
    return Fit(place, tuple(hits), tuple(doubts), tuple(excused))


def reaching_in(
    space: Space, situation: Situation, low: Triple, high: Triple, limit: Limit
) -> Iterator[Hit]:
    """Yield what reaches into a box of a space's frame, each in its own stretch."""
    frame = space.frame
    near = situation.near(frame, *past_contact(low, high))
    for placed in chain(near, space.extra):
        stretch = limit(placed)
        if stretch is None:
            continue
        stretch = stretch.grown(space.grown)
        start = max(low[1], stretch.first)
        end = min(high[1], stretch.furthest)
        if end <= start:
            continue
        view = placed.solid.seen_from(frame)
        extents = reaching(view, (low[0], start, low[2]), (high[0], end, high[2]))
        if extents is not None:
            yield Hit(placed, extents, stretch, (start, end), view)


def _best_place(space: Space, found: list[Hit]) -> float:
    """Return where the space is clear, or else where least is missing."""
    first, last = space.first, space.last
    wanted = min(max(space.wanted, first), last)
    if not found or first == last:
        return wanted
    left, right = first, last + space.width
    shadows: list[tuple[float, float, Hit]] = []
    # Where it may stand clear of what an exception lets be, it rests on none.
    levels: tuple[Sureness, ...] = ("excused", "possible", "certain")
    for sure in levels:
        hits = _inside(found, space, left, right, sure)
        shadows = [(a, b, hit) for hit in hits for a, b in shadows_of(hit, space, sure)]
        for contact in _CONTACTS:
            blocked = [(low + contact, high - contact) for low, high, _ in shadows]
            window = free_window(blocked, space.width, first, last, wanted)
            if window is not None:
                return window
    return _least_missing(shadows, space, wanted)


def _least_missing(
    shadows: list[tuple[float, float, Hit]], space: Space, wanted: float
) -> float:
    """Return the place where the least gain of one size puts a space right.

    What is in the way changes only where a side of the space passes an end of it. Of
    equal places the one that covers least is best, then the one nearest to ``wanted``.
    """
    first, last, width = space.first, space.last, space.width
    ends = [end for low, high, _ in shadows for end in (low, high)]
    places = [wanted, first, last, *ends, *(end - width for end in ends)]
    allowed = {min(max(p, first), last) for p in places if first <= p <= last}

    def order(place: float) -> tuple[float, float, float, float]:
        gains, covered = [0.0] * 3, 0.0
        for low, high, hit in shadows:
            across = min(high, place + width) - max(low, place)
            if across <= TOUCH:
                continue
            (_, v0, z0), (_, v1, z1) = _extents_at(hit, space, place)
            covered += across * (v1 - v0) * (z1 - z0)
            gains[0] = max(gains[0], hit.part[1] - v0)
            gains[1] = max(gains[1], space.top - z0)
        least = min(gains[axis] for axis in _axes(space))
        return round(least, 9), round(covered, 12), abs(place - wanted), place

    return min(allowed, key=order)


def places_of_change(space: Space, situation: Situation) -> list[float]:
    """Return the places where what is in the way of a sliding space may change."""
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    found = reaching_in(space, situation, low, high, space.limit)
    ends = [end for hit in found for end in (hit.extents[0][0], hit.extents[1][0])]
    middle = min(max(space.wanted, space.first), space.last)
    places = {middle, space.first, space.last, *ends}
    places |= {end - space.width for end in ends}
    return sorted(place for place in places if space.first <= place <= space.last)


def order_of_place(found: Fit, space: Space) -> tuple[float, ...]:
    """Order places: a clear one first, then the one where least is missing.

    Of equal ones the place nearest to the one wanted.
    """
    gains = [0.0, 0.0]
    # What is in doubt matters only where nothing is in the way for certain.
    for hit in found.hits or found.doubts:
        (_, v0, z0), _ = hit.extents
        gains[0] = max(gains[0], hit.part[1] - v0)
        gains[1] = max(gains[1], space.top - z0)
    least = min(gains[axis] for axis in _axes(space))
    worst = 2 if found.hits else 1 if found.doubts else 0
    return worst, round(least, 9), abs(found.place - space.wanted), found.place


def _extents_at(hit: Hit, space: Space, place: float) -> Extents:
    """Return what of a hit is inside a space at a place; of a box always the same."""
    if isinstance(hit.view, BoxView):
        return hit.extents
    low = (place, hit.part[0], space.bottom)
    high = (place + space.width, hit.part[1], space.top)
    return reaching(hit.view, low, high) or hit.extents


def _axes(space: Space) -> tuple[int, ...]:
    """Return in which of depth, 0, and height, 1, a space is measured; or the depth."""
    ways = set(space.measures.values())
    return tuple(n for n, way in enumerate(("out", "up")) if way in ways) or (0,)


def _inside(
    found: list[Hit], space: Space, left: float, right: float, sure: Sureness
) -> list[Hit]:
    """Return the hits that reach in between two sides."""
    result = []
    for hit in found:
        start, end = hit.stretch.part(sure)
        if end <= start:
            continue
        low = (left, start, space.bottom)
        extents = reaching(hit.view, low, (right, end, space.top))
        if extents is not None:
            result.append(replace(hit, extents=extents, part=(start, end)))
    return result


def shadows_of(hit: Hit, space: Space, sure: Sureness) -> list[tuple[float, float]]:
    """Return what a hit blocks sideways, wherever the space may slide."""
    start, end = hit.stretch.part(sure)
    low = (space.first, start, space.bottom)
    return hit.view.shadow(low, (space.last + space.width, end, space.top))
