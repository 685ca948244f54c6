"""A way out as it is told and drawn: its points, and where it is narrowest."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.floor import CONTACT
from model3d.geometry.plan import flat
from model3d.geometry.plan.way.string import fewer
from model3d.judging.results import Way

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.middles import Corners, Lines
    from model3d.egress.ground.necks.necks import Necks
    from model3d.geometry.frame import Corner
    from model3d.judging.results import OpenDoor

CLOSE: Final = 1e-6
"""Metres. Widths and places that differ by less are one."""

_ALIKE: Final = 4
"""Digits of metres to which two ways are equally wide: nothing is measured finer."""

_EVEN: Final = 6
"""Digits of metres to which two ways are equally long."""

_NARROW: Final = (0.45, 0.3, 0.2, 0.1, 0.05, 0.02, 0.009)
"""Metres. Ways that are too narrow for the person asked about are drawn as somebody
goes who is as wide as one of these: to shrink the floor for every width takes long."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest place of a way.

    Attributes:
        width: Metres; no more than WIDEST is looked into.
        at: Where, in plan.
        between: What it is between: two names, or the exit alone at its opening;
            nothing where it is where the person stands at first.
    """

    width: float
    at: Corner
    between: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Path:
    """A way out that is known to be there, with what is narrowest on it.

    How wide it is is known; its points are worked out once they are asked for, which
    takes longer than to find it, and of most ways that are looked at nobody asks.

    Attributes:
        trip: What it is drawn from.
        room_to_stand: It is narrowest where the person stands.
        leaves: The equipment doors that are open then, to be drawn.
    """

    trip: Trip
    room_to_stand: bool = False
    leaves: tuple[OpenDoor, ...] = ()

    @property
    def width(self) -> float:
        """How wide it is, metres."""
        return self.trip.width

    @property
    def way(self) -> Way:
        """Its points, where it leads and how wide it is."""
        return self._drawn[0]

    @property
    def neck(self) -> Neck:
        """Where it is narrowest, and beside what."""
        return self._drawn[1]

    @property
    def height(self) -> float:
        """Of the exit, metres."""
        return self._drawn[2]

    @cached_property
    def _drawn(self) -> tuple[Way, Neck, float]:
        way, neck, height = self.trip.drawn(room_to_stand=self.room_to_stand)
        return replace(way, leaves=self.leaves), neck, height

    @property
    def about(self) -> float:
        """Return how wide it is to what is measured, metres."""
        return round(self.width, _ALIKE)

    @property
    def rank(self) -> tuple[float, ...]:
        """How good it is: wide, of equal ones to a high exit, of equal ones short."""
        return self.about, self.height, -length_of(self.way.points)

    @property
    def drawn(self) -> Way | None:
        """The way, if its points are known."""
        return self.way if self.way.points else None


def widest(found: Iterable[Path | None]) -> Path | None:
    """Return the best of some ways, the first of equally good ones; None if none."""
    kept = [path for path in found if path is not None]
    most = max((path.about for path in kept), default=0.0)
    return _first([path for path in kept if path.about == most], max)


def narrowest(found: Iterable[Path]) -> Path | None:
    """Return the worst of some ways, the first of equally bad ones; None if none."""
    kept = list(found)
    least = min((path.about for path in kept), default=0.0)
    return _first([path for path in kept if path.about == least], min)


def _first(alike: Sequence[Path], choose: Callable[..., Path]) -> Path | None:
    """Choose by rank among equally wide ways; a single one need not be drawn for it."""
    if len(alike) > 1:
        return choose(alike, key=lambda path: path.rank)
    return alike[0] if alike else None


@dataclass(frozen=True, slots=True)
class Trip:
    """A way that is known to be there and how it is to be drawn.

    Attributes:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        width: How wide it is, metres.
        asked: How wide the person is who is asked about, metres.
        necks: The narrow places that count.
    """

    floor: Floor
    area: flat.Geometry
    hint: Corner
    width: float
    asked: float
    necks: Necks

    def drawn(self, *, room_to_stand: bool) -> tuple[Way, Neck, float]:
        """Return the way with its points, its narrowest place and its exit's height.

        Args:
            room_to_stand: It is narrowest where the person stands.
        """
        points = self._points()
        start, end = (points[0], points[-1]) if points else (self.hint, self.hint)
        neck = None if room_to_stand else self._neck(points or (self.hint,))
        neck = neck or Neck(self.width, start, ())
        way_out = self._exit_at(end)
        way = Way(way_out.id, points, self.width, neck.at, between=neck.between)
        return way, neck, way_out.height

    def _points(self) -> tuple[Corner, ...]:
        """Return the points of the way; empty where rounding bars even that.

        The person asked about takes a way that may be narrower somewhere; where it is,
        what is narrower is barred.
        """
        wide = min(self.width, self.asked) - CONTACT
        if self.width < self.asked - CONTACT:
            # Of a chink no wider than contact no points are told.
            narrower = (one for one in _NARROW if one < self.width - CONTACT)
            wide = max(narrower, default=0.0)
        if wide <= 0:
            return ()
        points = self._route(wide)
        first, last = np.searchsorted(self.necks.widths, (wide, self.width - CLOSE))
        if not points or first >= last:
            return points
        if len(self.necks.met(flat.linestrings(np.array(points)), first, last)):
            narrower = flat.linestrings(self.necks.lines[first:last, 1:3])
            return self._route(wide, narrower) or points
        return points

    def _route(self, wide: float, barred: Lines | None = None) -> tuple[Corner, ...]:
        """Return the points of a way that a person of a width can go.

        Of several exits the highest, of equally high ones the one that is nearest by
        its way: whichever way the room is turned. Corners are gone round with a little
        more room than needed, so that there are few points; as near as can be where
        that leaves no way.
        """
        styles: tuple[Corners, ...] = ("pointed", "cut", "round")
        for corners in styles:
            nets = self.floor.middles.nets(wide, corners)
            if barred is not None:
                nets = self.floor.middles.barred_nets(wide, corners, self.width, barred)
            found = [
                (points, net.plan)
                for net in nets
                if (start := net.nearest(self.area, self.hint)) is not None
                for points in net.routes(start)
            ]
            if found:
                points, plan = min(found, key=lambda one: self._order(one[0]))
                return points if corners == "pointed" else fewer(points, plan)
        return ()

    def _order(self, points: tuple[Corner, ...]) -> tuple[float, float]:
        return -self._exit_at(points[-1]).height, length_of(points)

    def _exit_at(self, end: Corner) -> Exit:
        """Return the exit where the way ends."""
        spot, exits = flat.Point(end), self.floor.exits
        wide = [one for one in exits if one.width >= self.width - CONTACT]
        return min(wide or exits, key=lambda one: one.goal.distance(spot))

    def _neck(self, points: tuple[Corner, ...]) -> Neck | None:
        """Return the neck that the way comes through; at a door, that it is the door.

        None where none is as narrow.
        """
        widths, width = self.necks.widths, self.width
        first, last = np.searchsorted(widths, (width - CLOSE, width + CLOSE))
        if first == last:
            return None
        way = flat.linestrings(np.array([*points, points[-1]]))
        crossed = self.necks.met(way, first, last)
        if len(crossed):
            number = int(crossed[0])
        else:
            number = self.necks.nearest(way, first, last)
        names, _, _ = self.floor.features
        between = sorted(names[body] for body in self.necks.pairs[number].tolist())
        at = self.necks.middle(number)
        for one in self.floor.exits:
            if one.opening is None or abs(one.width - width) > CLOSE:
                continue
            if one.passage.distance(flat.Point(at)) <= CLOSE:
                middle = one.opening.interpolate(0.5, normalized=True)
                return Neck(width, (float(middle.x), float(middle.y)), (one.id,))
        return Neck(width, at, tuple(dict.fromkeys(between)))


def length_of(points: tuple[Corner, ...]) -> float:
    """Return how long a way is, metres; rounded, so that equal ways are equally long.

    >>> length_of(((0.0, 0.0), (3.0, 4.0), (3.0, 5.0)))
    6.0
    """
    steps = (math.dist(one, other) for one, other in pairwise(points))
    return round(sum(steps), _EVEN)
