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
_BELOW: Final = 0.01
"""Metres. As much less than what matters a leaf is held open at the least: nobody
comes past it by more than it leaves clear itself. The figures of both systems, by which
a verdict may hang on the other one, lie closer together than this."""


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
class _Wanted:
    """How far the widest way is looked for.

    Attributes:
        closely: At all angles; else at a few only.
        enough: Of a way that is wider no wider one is looked for, metres.
        least: How much narrower it is than this is not looked for, metres.
    """

    closely: bool = False
    enough: float = math.inf
    least: float = 0.0


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
            return self._best(points, _Wanted(enough=enough))
        found = self._on(self.opened.on(floor.plain), points)
        left = [n for n, way in enumerate(found) if way.width <= enough]
        some = [points[n] for n in left]
        more = self._best(some, _Wanted(enough=enough)) if left else []
        for n, way in zip(left, more, strict=True):
            found[n] = way
        return found

    def closely(self, point: Corner, least: float = 0.0) -> WayLeft:
        """Return the widest way out of one point.

        Args:
            point: In plan.
            least: How much narrower it is than this is not looked for, metres.
        """
        return self._best([point], _Wanted(closely=True, least=least))[0]

    def _best(self, points: Sequence[Corner], wanted: _Wanted) -> list[WayLeft]:
        floor = self.opened.floor
        if not floor.swinging:
            return self._on(self.opened, points)
        found = [[WayLeft(0.0, self.opened)] * len(points)]
        if floor.plain.exits:
            found.append(self._on(self.opened.on(floor.plain), points))
        found += [self._to(one, points, wanted) for one in floor.swinging]
        return [max(ways, key=_width) for ways in zip(*found, strict=True)]

    def _to(
        self, door: Exit, points: Sequence[Corner], wanted: _Wanted
    ) -> list[WayLeft]:
        """Return the ways to one door, the narrowest of those by which it may hang."""
        found = [
            self._past(door, number, points, wanted)
            for number in range(len(door.hangings))
        ]
        choose = max if self.opened.floor.hopeful else min
        return [choose(ways, key=_width) for ways in zip(*found, strict=True)]

    def _past(
        self, door: Exit, number: int, points: Sequence[Corner], wanted: _Wanted
    ) -> list[WayLeft]:
        hanging = door.hangings[number]
        clear = self.asked - CONTACT
        best: list[WayLeft] = []
        most: list[float] | None = None
        usual = hanging.usual(self.asked)
        for angle in (*usual, *hanging.between(self.asked)):
            is_clear = all(way.width >= clear for way in best)
            if angle not in usual and is_clear and not wanted.closely:
                break
            ways = self._on(self._held(door, number, angle), points)
            best = [
                max(two, key=_width) for two in zip(best or ways, ways, strict=True)
            ]
            if all(way.width > wanted.enough for way in best):
                return best
            if most is None:
                firm = self.opened.firm(door, pockets=self.pockets)
                most = firm.ways_out(points).tolist()
            if _are_best(best, most):
                # At no other angle is there a wider one: nor is one looked for.
                return best
        narrow = len(points) == 1 and best[0].width < hanging.clear - _FINE
        if wanted.closely and narrow:
            more = self._search(door, number, points, wanted.least)
            best = [max((best[0], *more), key=_width)]
        return best

    def _search(
        self, door: Exit, number: int, points: Sequence[Corner], least: float
    ) -> Iterator[WayLeft]:
        """Yield ever wider ways with the leaf held just far enough open for each."""
        hanging = door.hangings[number]
        low, high = 0.0, hanging.clear
        while high - low > _FINE and high > least - _BELOW:
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
