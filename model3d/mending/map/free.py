"""The places that are left: what no bar covers, with the rules asked where in doubt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.geometry.intervals import merged
from model3d.geometry.plan import flat, swept
from model3d.geometry.plan.faces import faces, inner_points
from model3d.mending.map.bar import CONTACT, Bar, spans
from model3d.mending.map.other_spaces import other_bars
from model3d.mending.map.over_cells import over_cells
from model3d.mending.map.own_doors import asked_bars, body_bars, leaf_bars, own_breaches
from model3d.mending.map.own_spaces import own_bars
from model3d.mending.map.probe import Probe

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.geometry.frame import Corner
    from model3d.geometry.intervals import Interval
    from model3d.mending.effort import Effort
    from model3d.mending.map.posed import Posed
    from model3d.mending.map.stance import Stance
    from model3d.standing.arrangement import Arrangement

_MOST_FACES: Final = 600
"""So many doubtful parts of a map are asked about; what is beyond counts as barred."""
_POINTS: Final = 5
"""So many points of a doubtful part are asked about, and all of them must be free."""
_PARTS: Final = (0.1, 0.5, 0.9)
"""Of a doubtful part of a line: where rules are asked."""
_NEAR_END: Final = 0.001
"""As near to the ends of such a part they are asked where they answer differently."""
_THIN: Final = 1e-7
"""Metres. What is narrower is a slip of rounding and no place."""


@dataclass(frozen=True)
class Field:
    """What bars an item that is moved about in one orientation.

    Attributes:
        posed: The item there.
        wall: The wall of the room that it hangs on; None where walls bound the area.
        within: All displacements that are asked about.
        effort: How often rules may be asked; None: as often as it takes.
        now: The scene as it is, where nothing may be put into what it is not in now.
    """

    posed: Posed
    wall: str | None
    within: flat.Geometry
    effort: Effort | None = None
    now: Arrangement | None = None

    @cached_property
    def probe(self) -> Probe:
        """The rules, for what is in doubt."""
        return Probe(self.posed, self.effort)

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        """All that bars places, or may, in an order of its own."""
        if self.within.is_empty:
            return ()
        box = flat.box(*self.within.buffer(10 * CONTACT).bounds)
        found = [
            *own_bars(self.posed, box),
            *leaf_bars(self.posed, box),
            *body_bars(self.posed, box, self.wall, self.now),
            *asked_bars(self.posed, box),
            *own_breaches(self.posed, box),
            *other_bars(self.posed, box),
            *over_cells(self.posed),
        ]
        if self.posed.uncertain:
            found = [
                replace(one, sure="asked")
                if one.sure == "barred" and one.requirement != BODY
                else one
                for one in found
            ]
        kept = [one for one in found if one.plan.intersects(self.within)]
        return tuple(sorted(kept, key=lambda b: (b.requirement, b.of, b.by, b.sure)))


@dataclass(frozen=True)
class Free:
    """Where an item may stand in one orientation.

    Attributes:
        field: What bars it.
        stance: How a displacement is written as a place.
        within: The displacements that are asked about: a line, or an area.
        ignored: Requirement and subject of what bars nothing.
        way_bars: What bars places because of ways out, or leaves them open; none
            where a map tells nothing of ways out.
    """

    field: Field
    stance: Stance
    within: flat.Geometry
    ignored: frozenset[tuple[str, str]] = frozenset()
    way_bars: tuple[Bar, ...] = ()

    @property
    def posed(self) -> Posed:
        """The item."""
        return self.field.posed

    @property
    def probe(self) -> Probe:
        """The rules, for what is in doubt."""
        return self.field.probe

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        """All that bars places, or may, in an order of its own."""
        return tuple(
            one
            for one in self.field.bars
            if one.key not in self.ignored and one.plan.intersects(self.within)
        )

    def of(self, *sure: str) -> list[Bar]:
        """Return the bars that are so sure."""
        return [one for one in self.bars if one.sure in sure]

    @cached_property
    def intervals(self) -> tuple[Interval, ...]:
        """Of a line: what is free, as distances from its start, rising."""
        shut = [one for one in self.way_bars if one.sure == "barred"]
        barred = merged(self._on_line(shut))
        found: list[Interval] = []
        for low, high in self.but_ways:
            within = [
                (max(a, low) - low, min(b, high) - low)
                for a, b in barred
                if b > low and a < high
            ]
            if high - low > _THIN:
                left = _between(within, high - low)
                found += [(low + a, low + b) for a, b in left]
            elif not within:
                found.append((low, high))
        return tuple(found)

    @cached_property
    def but_ways(self) -> tuple[Interval, ...]:
        """Of a line: what is free but for the ways out."""
        barred = merged(self._on_line(self.of("barred")))
        free = _between(barred, self.within.length)
        ends = {end for pair in self._on_line(self.of("asked")) for end in pair}
        found: list[Interval] = []
        for low, high in free:
            cuts = [low, *sorted(e for e in ends if low < e < high), high]
            for a, b in pairwise(cuts):
                found += self._free_of_cell(a, b) if ends else [(a, b)]
        return tuple(_joined(found))

    def _free_of_cell(self, low: float, high: float) -> list[Interval]:
        """Return what is free between two edges of bars.

        Where a rule answers differently within it, its own edges are looked for.
        """
        wide = high - low
        free = {p: self._is_free(self.at(low + wide * p)) for p in _PARTS}
        if all(free.values()):
            return [(low, high)]
        if not any(free.values()):
            return []
        for near in (_NEAR_END, 1 - _NEAR_END):
            free[near] = self._is_free(self.at(low + wide * near))
        free |= {0.0: free[_NEAR_END], 1.0: free[1 - _NEAR_END]}
        found: list[Interval] = []
        for one, other in pairwise(sorted(free)):
            here, there = low + wide * one, low + wide * other
            if free[one] and free[other]:
                found.append((here, there))
            elif free[one] != free[other]:
                inside = (here, there) if free[one] else (there, here)
                edge = self._edge(*inside)
                found.append((min(edge, inside[0]), max(edge, inside[0])))
        return found

    def _edge(self, inside: float, outside: float) -> float:
        """Return how far it is free from one place towards one that is not."""
        while abs(outside - inside) > CONTACT:
            middle = (inside + outside) / 2
            if self._is_free(self.at(middle)):
                inside = middle
            else:
                outside = middle
        return inside

    def _on_line(self, bars: Iterable[Bar]) -> list[Interval]:
        plans = (one.plan for one in bars)
        return spans(self.within, plans, self.stance.along, _THIN)

    def at(self, away: float) -> Corner:
        """Return the displacement at a distance along the line."""
        (x, y), *_ = self.within.coords
        dx, dy = self.stance.along
        return x + away * dx, y + away * dy

    @cached_property
    def area(self) -> flat.Geometry:
        """Of an area: the displacements that are free."""
        shut = [one.plan for one in self.way_bars if one.sure == "barred"]
        return swept.taken(self.area_but_ways, shut) if shut else self.area_but_ways

    @cached_property
    def area_but_ways(self) -> flat.Geometry:
        """Of an area: what is free but for the ways out."""
        free = swept.taken(self.within, [one.plan for one in self.of("barred")])
        asked = [one.plan for one in self.of("asked") if one.plan.intersects(free)]
        if not asked:
            return free
        doubtful = flat.intersection(free, flat.union_all(asked))
        sure = swept.taken(free, [flat.union_all(asked)])
        cells = faces(doubtful, asked)[:_MOST_FACES]
        kept = [
            cell
            for cell in cells
            if all(map(self._is_free, inner_points(cell, _POINTS)))
        ]
        return swept.closed(flat.union_all([sure, *kept]))

    def _is_free(self, by: Corner) -> bool:
        here = flat.Point(by)
        keys = {one.key for one in self.of("asked") if one.plan.intersects(here)}
        if not keys:
            return True
        return self.probe.is_met(self.stance.place(by), sorted(keys))

    def is_barring(self, bar: Bar) -> bool:
        """Tell whether a bar takes a place: one that was asked about may take none."""
        there = flat.intersection(bar.plan, self.within)
        if bar.sure == "asked":
            there = there.difference(self._free.buffer(10 * CONTACT))
            return bool(there.length > _THIN)
        return not there.is_empty

    def opens(self) -> list[tuple[Bar, flat.Geometry]]:
        """Return what leaves free places open, and where, as displacements."""
        found = []
        ways = [one for one in self.way_bars if one.sure == "open"]
        for one in [*self.of("open"), *ways]:
            there = flat.intersection(one.plan, self._free)
            if there.length > _THIN:
                found.append((one, there))
        return found

    @property
    def _free(self) -> flat.Geometry:
        return self.line if self.stance.on_wall else self.area

    @cached_property
    def line(self) -> flat.Geometry:
        """What is free of a line, as lines and points."""
        parts = [flat.LineString([self.at(a), self.at(b)]) for a, b in self.intervals]
        return flat.union_all(parts)


BODY: Final = "body"


def _between(shut: list[Interval], length: float) -> list[Interval]:
    """Return what is left of a line, ends included."""
    here, found = 0.0, []
    for low, high in shut:
        if low > here + _THIN:
            found.append((here, low))
        here = max(here, high)
    if length > here + _THIN or not shut:
        found.append((here, length))
    return found


def _joined(cells: list[Interval]) -> list[Interval]:
    found: list[Interval] = []
    for low, high in cells:
        if found and low <= found[-1][1] + _THIN:
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return found
