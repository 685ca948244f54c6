"""What open equipment doors leave of the ways out of the working spaces of a front."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.bays import Bay
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.lookahead import Lookahead
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.route.path import Path, Trip
from model3d.egress.starts.before import standing
from model3d.egress.starts.beside import (
    bays_before,
    one_hinge_at_a_time,
    starts_of_each,
)
from model3d.egress.starts.had_way import counted
from model3d.egress.starts.start import SAME, Asked
from model3d.egress.starts.uncovered import crossed
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.egress.doors.exits import Exit
    from model3d.egress.doors.joint_front import Row
    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.starts.start import Start
    from model3d.egress.ways import Doors, Ways
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

_CHINK: Final = 0.01
"""Metres. What open doors leave is told down to this, though nobody comes through."""


@dataclass(frozen=True, eq=False)
class Opened:
    """The narrowest of the ways that open doors leave to people at a front.

    Attributes:
        width: Metres; infinite where open doors are in nobody's way.
        at: From where, in plan.
        trip: How that way is to be drawn; None where there is none.
        open: The floor with the doors that are open then.
        exits: The ways out of the room then.
        narrow: The same of the places beside leaves before which nobody as wide as
            asked for has room in any case; None where that width is left there too.
    """

    width: float
    at: Corner
    trip: Trip | None
    open: OpenFloor | None = None
    exits: tuple[Exit, ...] = ()
    narrow: Opened | None = None

    @cached_property
    def path(self) -> Path | None:
        """That way; None where there is none. It is drawn once it is asked for."""
        if self.trip is None:
            return None
        leaves = self.open.drawn if self.open is not None else ()
        return Path(self.trip, leaves=leaves)


def least_left(
    item: Placed,
    situation: Situation,
    width: float,
    height: float,
    doors: Doors,
    *,
    hopeful: bool = False,
) -> Opened | None:
    """Return the narrowest of the ways that open doors leave; None where none is there.

    Asked is of every place between leaves, and of every place before the fronts where a
    person can stand with the doors open, as far as there was a way out as wide as asked
    for with the doors shut. Places between leaves where there was none are told apart:
    doors take nothing there, but nor is such a way left. More open doors only take
    floor away, so all of them open is the worst. A leaf that something stops is asked
    about there and at a right angle: it takes more floor at the one or at the other.

    Args:
        item: At whose row of gear people are.
        situation: The room.
        width: Of the way, metres.
        height: Of the way, metres.
        doors: Which equipment doors are open.
        hopeful: Personnel doors hang in the best way that is possible.
    """
    row, doors = _row_and_doors(item, situation, doors)
    return situation.remembered(_least_left, row, width, height, doors, hopeful)


def _row_and_doors(
    item: Placed, situation: Situation, doors: Doors
) -> tuple[Row, Doors]:
    """Return an item's row, and which doors are open: all, where all is stated."""
    ways = ways_of(situation)
    return ways.row(item), doors if ways.unsaid else "stated"


def _least_left(
    row: Row,
    width: float,
    height: float,
    doors: Doors,
    hopeful: bool,  # noqa: FBT001 - a part of the key
    situation: Situation,
) -> Opened | None:
    starts: list[Start] = []
    everywhere = situation.remembered(_everywhere, width, height, doors, hopeful)
    for one in everywhere:
        found = one.starts.of(row)
        if doors == "all" and any(start.width < width - CONTACT for start in found):
            found = list(one_hinge_at_a_time(one.asked(row), one.opened, height))
        starts += found
    if not everywhere:
        return None
    least = width - CONTACT if situation.verdicts_only else 0.0
    had = _narrowest([one for one in starts if one.had_way], width, least)
    had_none = _narrowest([one for one in starts if not one.had_way], width, least)
    barred = had_none.width < width - CONTACT
    return replace(had, narrow=had_none if barred else None)


@dataclass(frozen=True, eq=False, slots=True)
class _Everywhere:
    """Where people before all rows of a room are when doors are opened.

    Attributes:
        asked: What is asked of a row.
        opened: The floor with the doors open.
        starts: By row.
    """

    asked: Callable[[Row], Asked]
    opened: OpenFloor
    starts: Lookahead[Row, list[Start]]


def _everywhere(
    width: float,
    height: float,
    doors: Doors,
    hopeful: bool,  # noqa: FBT001 - a part of the key
    situation: Situation,
) -> tuple[_Everywhere, ...]:
    """Return where people are; nothing where open doors take nothing of the floor.

    Twice, where leaves stand open elsewhere at a right angle than where they stop.
    """
    return tuple(
        _people(ways, width, height, doors, hopeful=hopeful)
        for ways in ways_of(situation).variants
        if ways.opened(height, doors).floor is not ways.floor(height)
    )


def _people(
    ways: Ways, width: float, height: float, doors: Doors, *, hopeful: bool
) -> _Everywhere:
    shut, opened = ways.floor(height), ways.opened(height, doors)
    if hopeful:
        shut, opened = shut.as_hoped, opened.on(opened.floor.as_hoped)

    def asked(row: Row) -> Asked:
        return Asked(row, ways, shut, width)

    def starts(rows: Sequence[Row]) -> list[list[Start]]:
        items = [row.items for row in rows]
        return starts_of_each([asked(row) for row in rows], opened, items)

    return _Everywhere(asked, opened, Lookahead(ways.rows.values(), starts))


def leave_enough(
    item: Placed, situation: Situation, width: float, height: float, doors: Doors
) -> bool:
    """Tell whether open doors leave a way as wide as asked for, for certain.

    What was there before is asked only of places that have none now, and no way is
    drawn, which saves most of the time. False says nothing: ask ``least_left``.

    Args:
        item: At whose row of gear people are.
        situation: The room.
        width: Of the way, metres.
        height: Of the way, metres.
        doors: Which equipment doors are open.
    """
    row, doors = _row_and_doors(item, situation, doors)
    return situation.remembered(_leave_enough, row, width, height, doors)


def _leave_enough(
    row: Row, width: float, height: float, doors: Doors, situation: Situation
) -> bool:
    return all(
        _leaves_enough(row, width, height, doors, ways)
        for ways in ways_of(situation).variants
    )


def _leaves_enough(
    row: Row, width: float, height: float, doors: Doors, ways: Ways
) -> bool:
    shut, opened = ways.floor(height), ways.opened(height, doors)
    if opened.floor is shut:
        return True
    asked, clear = Asked(row, ways, shut, width), width - CONTACT
    stands = [ways.stand(one) for one in row.items if one.live]
    near = bays_before(asked, opened, row.items, stands)
    if any(crossed(asked, near)):
        return False
    left = WaysPast(opened, width).out_of([bay.at for bay in near], clear)
    narrow = [bay for bay, way in zip(near, left, strict=True) if way.width < clear]
    return all(had is None for had in counted(asked, narrow)) and all(
        one.width >= clear for one in standing(asked, opened, stands)
    )


def _narrowest(starts: list[Start], width: float, least: float) -> Opened:
    """Return the narrowest of the ways from some places.

    Args:
        starts: The places.
        width: That is asked for, metres.
        least: How much narrower it is than this is of no matter, metres.
    """
    if not starts:
        return Opened(float("inf"), (0.0, 0.0), None)
    worst = _worst(starts, least)
    opened = worst.way.open
    floor, trip = opened.floor, None
    if floor.exits and _CHINK <= worst.width < float("inf"):
        wide = min(worst.width, WIDEST)
        place = worst.place
        area = place.ahead(floor, wide) if isinstance(place, Bay) else place
        necks = worst.ways.necks(opened)
        trip = Trip(floor, area, worst.at, wide, width, necks)
    exits = worst.ways.opened.floor.exits
    return Opened(worst.width, worst.at, trip, opened, exits)


def _worst(starts: list[Start], least: float) -> Start:
    """Return where the widest way is the narrowest; of equal ones always the same."""
    first, *others = sorted(starts, key=_order)
    worst = first.closely(least)
    for one in others:
        # What it is at first is never more than it is when looked at closely.
        if one.width >= worst.width - SAME:
            break
        found = one.closely(least)
        if found.width < worst.width - SAME:
            worst = found
    return worst


def _order(start: Start) -> tuple[float, ...]:
    """Order places by their ways, then by how far they are from each way out.

    So a room that is turned or mirrored tells the same way.
    """
    exits = sorted(start.ways.opened.floor.exits, key=lambda one: one.id)
    away = (flat.Point(start.at).distance(one.opening) for one in exits)
    return round(start.width, 6), *(round(one, 6) for one in away)
