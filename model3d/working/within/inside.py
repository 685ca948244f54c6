"""What may be inside a working space, and how far."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.tolerance import TOUCH
from model3d.judging.space import Excuse, Stretch
from model3d.wording.said import Named, say
from model3d.working.footing import PASSED_UNDER
from model3d.working.front import faces, front_of, under_rack
from model3d.working.within.across import LIVE, Across, across_the_aisle
from model3d.working.within.dwelling import Headroom, headroom_of

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.judging.space import Limit
    from model3d.standing.placed import Placed
    from model3d.working.needs import Needs

GROUNDED: Final = 2
"""The condition that a grounded surface opposite makes."""


@dataclass(frozen=True)
class Allowance:
    """What one item's working space allows each other solid.

    Attributes:
        item: The item.
        situation: The room.
        depths: Of conditions 1, 2 and 3, metres.
        needs: The figures of the space.
    """

    item: Placed
    situation: Situation
    depths: tuple[float, float, float]
    needs: Needs

    def __call__(self, placed: Placed) -> Stretch | None:
        """Return what part of the space a solid must keep out of."""
        found = self.overhead_too(placed)
        # The exceptions are of the low-voltage rule alone.
        plain = self.needs.high_voltage or self._meter(placed) is not None
        if found is None or plain or placed.bottom < self.needs.floor + PASSED_UNDER:
            return found
        return self._headroom.judged(placed, found)

    def overhead_too(self, placed: Placed) -> Stretch | None:
        """Return the same as if no low headroom were excepted."""
        if placed.id in {self.item.id, "floor"} or placed.kind.hole:
            return None
        if self.needs.limited and placed.kind.spans:
            return None
        ordinary, meter = self._from_its_start(placed), self._meter(placed)
        if self.needs.high_voltage or meter is None:
            return ordinary
        return _excused(ordinary, meter)

    def _meter(self, placed: Placed) -> Excuse | None:
        return _meters(self.situation) if placed.kind.meter else None

    def condition(self, placed: Placed, distance: float) -> int:
        """Return the condition that a solid makes which stands opposite so far away.

        Gear that stands far enough for its own condition needs no exception from it.
        """
        if faces(placed, self.item):
            far = distance >= self.depths[LIVE - 1] - TOUCH
            return LIVE if far else self._across(placed).condition
        return GROUNDED if placed.grounded is not False else 1

    @cached_property
    def _headroom(self) -> Headroom:
        return headroom_of(self.item, self.situation, self.needs)

    def _from_its_start(self, placed: Placed) -> Stretch:
        start = self._start(placed)
        ordinary = self._ordinary(placed, start)
        if start and self.needs.reach_in_doubt:
            # What reaches no further than the sentence is believed to allow.
            asked = ordinary.missing or self.needs.reach_in_doubt
            return replace(ordinary, doubtful=0.0, missing=asked)
        return ordinary

    def _ordinary(self, placed: Placed, start: float) -> Stretch:
        if faces(placed, self.item):
            return self._facing(placed, start)
        one, two, _ = self.depths
        if placed.grounded is None:
            asked = _unknown_surface(placed)
            return Stretch(start, one, two, asked, unknown=("depth",))
        return Stretch(start, two if placed.grounded else one)

    def _facing(self, placed: Placed, start: float) -> Stretch:
        full = self.depths[LIVE - 1]
        found = self._across(placed)
        if found.condition == LIVE and not found.missing:
            return Stretch(start, full)
        lesser = self.depths[found.lesser - 1]
        if found.missing:
            return Stretch(start, lesser, full, found.missing)
        return Stretch(start, lesser, excused=full, excuse=found.excuse)

    def _across(self, placed: Placed) -> Across:
        # The exception is of the low-voltage rule alone.
        if self.needs.high_voltage:
            return Across(LIVE)
        return across_the_aisle(self.item, placed, self.situation)

    def _start(self, placed: Placed) -> float:
        if not placed.associated:
            return 0.0
        front = front_of(self.item)
        below = under_rack(self.item, self.situation.scene)
        apart = placed.bottom >= front.top - TOUCH or placed.top <= below + TOUCH
        return self.needs.reach if apart else 0.0


@dataclass(frozen=True, slots=True)
class Without:
    """A limit that asks nothing of some items.

    Attributes:
        limit: What it asks of all others.
        hidden: The ids of those.
    """

    limit: Limit
    hidden: frozenset[str]

    def __call__(self, placed: Placed) -> Stretch | None:
        """Return what part of the space a solid must keep out of."""
        return None if placed.id in self.hidden else self.limit(placed)


def asked_in(limit: Limit, situation: Situation) -> Limit | None:
    """Return a working space's limit as it is asked in another situation.

    None where nobody knows how.
    """
    if isinstance(limit, Allowance):
        return replace(limit, situation=situation)
    if isinstance(limit, Without):
        found = asked_in(limit.limit, situation)
        return None if found is None else Without(found, limit.hidden)
    return None


def _meters(situation: Situation) -> Excuse | None:
    entry = situation.book.entry("meters-in-sockets")
    if not entry.given or not entry.flag("permitted"):
        return None
    unread = unread_rules(entry, "permitted")
    return Excuse("meters in meter sockets", entry.citation, unread)


def _excused(ordinary: Stretch, excuse: Excuse) -> Stretch:
    """Return a stretch of which nothing is left but what an exception lifts."""
    start, end = ordinary.start, max(ordinary.end, ordinary.possible)
    return Stretch(start, start, excused=end, excuse=excuse)


def _unknown_surface(placed: Placed) -> str:
    if placed.of_room:
        return say(
            "Say what {} is made of: a grounded surface needs more depth.",
            Named(placed.id),
        )
    return say(
        "Say whether {} is grounded: a grounded surface needs more depth.",
        Named(placed.id),
    )
