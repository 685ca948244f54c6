"""Ways out past the leaf of the door that they lead to, whichever way it hangs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.route.path import narrowest, widest
from model3d.egress.route.search import passes, widest_way
from model3d.wording.said import ids, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.path import Path
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan import flat
    from model3d.judging.situation import Situation

_FINE: Final = 1e-5
"""Metres. How closely a width is searched: far finer than it is told."""


def widest_of(
    floor: Floor,
    area: flat.Geometry,
    hint: Corner,
    asked: float,
    least: float = BODY,
) -> Path | None:
    """Find the widest way from an area to any exit; None where there is none.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        asked: How wide it shall be, metres.
        least: What is narrower is no way, metres.
    """
    if not floor.swinging:
        return widest_way(floor, area, hint, asked, least)
    return _Asked(area, hint, asked, least).best(floor)


def passes_out(floor: Floor, area: flat.Geometry, width: float) -> bool:
    """Tell whether a person of a width comes from an area to an exit, for certain.

    Past the leaf of the door itself it is looked for at a few angles alone: there False
    says nothing.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        width: Metres.
    """
    if not floor.swinging:
        return passes(floor, area, width)

    def past(door: Exit, number: int) -> bool:
        hanging = door.hangings[number]
        return any(
            passes(floor.past(door, number, angle), area, width)
            for angle in (*hanging.usual(width), *hanging.between(width))
        )

    return passes(floor.plain, area, width) or any(
        all(past(door, number) for number in range(len(door.hangings)))
        for door in floor.swinging
    )


def stopped_leaves(situation: Situation, door: str = "") -> Iterator[str]:
    """Yield what keeps leaves from opening, of one door or of each, as sentences."""
    yield from stopped_among(ground_of(situation).exits, situation, door)


def stopped_among(
    exits: Iterable[Exit], situation: Situation, door: str = ""
) -> Iterator[str]:
    """Yield the same of some exits."""
    for one in exits:
        stopped = [way for way in one.hangings if way.clear < way.width - CONTACT]
        if stopped and door in {"", one.id}:
            worst = min(stopped, key=lambda way: way.clear)
            clear = situation.length(worst.clear)
            yield say("{}: {} is clear.", worst.stopped(one.id), clear)


def unmeasured(situation: Situation, door: str = "") -> str:
    """Ask for the clear opening of a door, or of each; empty where all are known."""
    room = situation.scene.room
    names = [
        one.id
        for one in (room.doors if room else ())
        if one.overall and door in {"", one.id}
    ]
    if not names:
        return ""
    return say(
        "The size of {} is over its frame: measure the clear opening.", ids(names)
    )


@dataclass(frozen=True, slots=True)
class _Asked:
    """A way that is looked for.

    Attributes:
        area, hint: Where it begins.
        width: How wide it shall be, metres.
        least: What is narrower is no answer, metres.
    """

    area: flat.Geometry
    hint: Corner
    width: float
    least: float

    def search(self, floor: Floor) -> Path | None:
        """Return the widest way on a floor where leaves stand still."""
        return widest_way(floor, self.area, self.hint, self.width, self.least)

    def best(self, floor: Floor) -> Path | None:
        """Return the widest of the ways to each exit."""
        found = [self._to(one, floor) for one in floor.swinging]
        return widest([self.search(floor.plain), *found])

    def _to(self, door: Exit, floor: Floor) -> Path | None:
        """Return the way to a door, the narrowest of those by which it may hang."""
        numbers = range(len(door.hangings))
        if floor.hopeful:
            return widest(self._past(floor, door, number) for number in numbers)
        found = []
        for number in numbers:
            path = self._past(floor, door, number)
            if path is None:
                # There is none where it hangs so, however good the others are.
                return None
            found.append(path)
        return narrowest(found)

    def _past(self, floor: Floor, door: Exit, number: int) -> Path | None:
        """Return the way past the leaf, with the leaf held where that is best.

        At a right angle, as far open as it goes, no further than the way takes, or
        between these.
        """
        hanging = door.hangings[number]
        found = widest(
            self.search(floor.past(door, number, angle)) for angle in hanging.angles()
        )
        so_far = found.width if found is not None else 0.0
        if so_far >= hanging.clear - CONTACT:
            return found
        found = self._held(floor, door, number, so_far) or found
        return self._between(floor, door, number, found)

    def _between(
        self, floor: Floor, door: Exit, number: int, found: Path | None
    ) -> Path | None:
        """Return the widest way with the leaf held anyhow else, or the one found."""
        for angle in door.hangings[number].between(self.least):
            so_far = found.width if found is not None else self.least - CONTACT
            if not passes(floor, self.area, so_far + _FINE):
                return found
            one = floor.past(door, number, angle)
            if passes(one, self.area, so_far + _FINE):
                found = widest([found, self.search(one)])
        return found

    def _held(
        self, floor: Floor, door: Exit, number: int, so_far: float
    ) -> Path | None:
        """Return the widest way with the leaf held just far enough open for it.

        None where that is no wider than a way is so far. Who does not come through the
        room as if there were no leaf, and as if every door were open, does not come
        past one either: it only takes of the same floor. That is asked first, of a
        floor that is there already.
        """
        hanging = door.hangings[number]

        def held(width: float) -> Floor | None:
            angle, wide = hanging.angle_for(width), width - _FINE + CONTACT
            if angle is None or not passes(floor, self.area, wide):
                return None
            one = floor.past(door, number, angle)
            return one if passes(one, self.area, wide) else None

        low = max(self.least - CONTACT, so_far + _FINE)
        best = held(low)
        high = hanging.clear
        while best is not None and high - low > _FINE:
            middle = (low + high) / 2
            wider = held(middle)
            if wider is None:
                high = middle
            else:
                best, low = wider, middle
        return None if best is None else self.search(best)
