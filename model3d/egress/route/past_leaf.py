"""How wide the way out of a point is with equipment doors open, past a door's own leaf.

A personnel door that opens into the room takes floor itself: a person holds its leaf at
the angle that is best, while the equipment doors stay open.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.ground.floor import CONTACT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.necks.necks import Necks
    from model3d.geometry.frame import Corner

_FINE: Final = 1e-5
"""Metres. How closely a width is searched: far finer than it is told."""


@dataclass(frozen=True, slots=True)
class WayLeft:
    """How wide a way is that open doors leave, and on which floor it is found.

    Attributes:
        width: Metres; infinite where nothing narrows it.
        open: The floor, with the leaf of the door that it leads to where it is held.
    """

    width: float
    open: OpenFloor


@dataclass(frozen=True, slots=True)
class WaysPast:
    """The ways out of a room with equipment doors open.

    Attributes:
        opened: The floor.
        asked: How wide a way is asked for, metres.
        pockets: Whether the pockets between leaves of one front count as narrow.
    """

    opened: OpenFloor
    asked: float
    pockets: bool = False

    def necks(self, opened: OpenFloor) -> Necks:
        """Return the narrow places that count."""
        return opened.floor.necks if self.pockets else opened.necks

    def out_of(
        self, points: Sequence[Corner], enough: float = math.inf
    ) -> list[WayLeft]:
        """Return the way out of each point; leaves are held at a few angles only.

        What is asked for is found for certain; of less or more it is a lower bound,
        which ``closely`` improves.

        Args:
            points: In plan.
            enough: Of a way that is wider no wider one is looked for, metres.
        """
        floor = self.opened.floor
        if not (floor.swinging and floor.plain.exits) or enough == math.inf:
            return self._best(points, closely=False)
        found = self._on(self.opened.on(floor.plain), points)
        left = [n for n, way in enumerate(found) if way.width <= enough]
        more = self._best([points[n] for n in left], closely=False) if left else []
        for n, way in zip(left, more, strict=True):
            found[n] = way
        return found

    def closely(self, point: Corner) -> WayLeft:
        """Return the widest way out of one point."""
        return self._best([point], closely=True)[0]

    def _best(self, points: Sequence[Corner], *, closely: bool) -> list[WayLeft]:
        floor = self.opened.floor
        if not floor.swinging:
            return self._on(self.opened, points)
        found = [[WayLeft(0.0, self.opened)] * len(points)]
        if floor.plain.exits:
            found.append(self._on(self.opened.on(floor.plain), points))
        found += [self._to(one, points, closely=closely) for one in floor.swinging]
        return [max(ways, key=_width) for ways in zip(*found, strict=True)]

    def _to(
        self, door: Exit, points: Sequence[Corner], *, closely: bool
    ) -> list[WayLeft]:
        """Return the ways to one door, the narrowest of those by which it may hang."""
        found = [
            self._past(door, number, points, closely=closely)
            for number in range(len(door.hangings))
        ]
        choose = max if self.opened.floor.hopeful else min
        return [choose(ways, key=_width) for ways in zip(*found, strict=True)]

    def _past(
        self, door: Exit, number: int, points: Sequence[Corner], *, closely: bool
    ) -> list[WayLeft]:
        hanging = door.hangings[number]
        firm = self.opened.firm(door, pockets=self.pockets)
        most, clear = firm.ways_out(points).tolist(), self.asked - CONTACT
        best: list[WayLeft] = []
        usual = hanging.usual(self.asked)
        for angle in (*usual, *hanging.between(self.asked)):
            enough = all(way.width >= clear for way in best)
            if angle not in usual and enough and not closely:
                break
            ways = self._on(self._held(door, number, angle), points)
            best = [
                max(two, key=_width) for two in zip(best or ways, ways, strict=True)
            ]
            if _are_best(best, most):
                # At no other angle is there a wider one: nor is one looked for.
                return best
        if closely and len(points) == 1 and best[0].width < hanging.clear - _FINE:
            best = [max((best[0], *self._search(door, number, points)), key=_width)]
        return best

    def _search(
        self, door: Exit, number: int, points: Sequence[Corner]
    ) -> Iterator[WayLeft]:
        """Yield ever wider ways with the leaf held just far enough open for each."""
        hanging = door.hangings[number]
        low, high = 0.0, hanging.clear
        while high - low > _FINE:
            middle = (low + high) / 2
            angle = hanging.angle_for(middle)
            if angle is None:
                high = middle
                continue
            (way,) = self._on(self._held(door, number, angle), points)
            if way.width < middle - _FINE:
                high = middle
            else:
                low = middle
            yield way

    def _held(self, door: Exit, number: int, angle: float) -> OpenFloor:
        return self.opened.on(self.opened.floor.past(door, number, angle))

    def _on(self, opened: OpenFloor, points: Sequence[Corner]) -> list[WayLeft]:
        widths = self.necks(opened).ways_out(points)
        return [WayLeft(width, opened) for width in widths.tolist()]


def _width(way: WayLeft) -> float:
    return way.width


def _are_best(ways: Sequence[WayLeft], most: Sequence[float]) -> bool:
    """Tell whether each of some ways is as wide as it can be."""
    return all(way.width >= wide for way, wide in zip(ways, most, strict=True))
