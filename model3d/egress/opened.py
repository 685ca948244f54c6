"""What open equipment doors leave of the ways out of the working spaces of a front."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.bays import Bay, bays
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.route.path import Path, Trip
from model3d.egress.route.search import passes
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.doors.exits import Exit
    from model3d.egress.doors.joint_front import Row
    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.route.past_leaf import WayLeft
    from model3d.egress.ways import Doors, Ways
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

_CHINK: Final = 0.01
"""Metres. What open doors leave is told down to this, though nobody comes through."""

_SPOT: Final = 1e-9
"""Square metres. A place that is smaller is rounding."""

_AHEAD: Final = 1e-3
"""Metres. By how much less than to touch a front somebody stands ahead of a bay, which
is further from it than that."""

_SAME: Final = 1e-6
"""Metres. Widths that differ by less are one."""


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


@dataclass(frozen=True, slots=True)
class _Start:
    """Where somebody is when doors are opened.

    Attributes:
        at: In plan.
        way: The way out from there with the doors open.
        ways: All of them.
        place: Where the way that is drawn begins.
        had_way: As wide as asked for, with the doors shut.
    """

    at: Corner
    way: WayLeft
    ways: WaysPast
    place: flat.Geometry | Bay
    had_way: bool = True

    @property
    def width(self) -> float:
        return self.way.width

    @property
    def closely(self) -> _Start:
        """The same with the widest way there is."""
        return replace(self, way=self.ways.closely(self.at))


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is asked: the gear, the room with its doors shut, the way's width."""

    row: Row
    ways: Ways
    shut: Floor
    width: float


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
    floor away, so all of them open is the worst.

    Args:
        item: At whose row of gear people are.
        situation: The room.
        width: Of the way, metres.
        height: Of the way, metres.
        doors: Which equipment doors are open.
        hopeful: Personnel doors hang in the best way that is possible.
    """
    ways = ways_of(situation)
    if not ways.unsaid:
        doors = "stated"
    row = ways.row(item)
    return situation.remembered(_least_left, row, width, height, doors, hopeful)


def _least_left(
    row: Row,
    width: float,
    height: float,
    doors: Doors,
    hopeful: bool,  # noqa: FBT001 - a part of the key
    situation: Situation,
) -> Opened | None:
    ways = ways_of(situation)
    shut = ways.floor(height)
    opened = ways.opened(height, doors)
    if opened.floor is shut:
        return None
    if hopeful:
        shut, opened = shut.as_hoped, opened.on(opened.floor.as_hoped)
    asked = _Asked(row, ways, shut, width)
    starts = list(_starts(asked, opened, row.items))
    if doors == "all" and any(one.width < width - CONTACT for one in starts):
        starts = list(_one_hinge_at_a_time(asked, opened, height))
    had = _narrowest([one for one in starts if one.had_way], width)
    had_none = _narrowest([one for one in starts if not one.had_way], width)
    barred = had_none.width < width - CONTACT
    return replace(had, narrow=had_none if barred else None)


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
    ways = ways_of(situation)
    if not ways.unsaid:
        doors = "stated"
    return situation.remembered(_leave_enough, ways.row(item), width, height, doors)


def _leave_enough(
    row: Row, width: float, height: float, doors: Doors, situation: Situation
) -> bool:
    ways = ways_of(situation)
    shut, opened = ways.floor(height), ways.opened(height, doors)
    if opened.floor is shut:
        return True
    asked, clear = _Asked(row, ways, shut, width), width - CONTACT
    stands = [ways.stand(one) for one in row.items if one.live]
    near = _bays(asked, opened, row.items, stands)
    left = WaysPast(opened, width).out_of([bay.at for bay in near])
    narrow = [bay for bay, way in zip(near, left, strict=True) if way.width < clear]
    return all(had is None for had in _counted(asked, narrow)) and all(
        one.width >= clear for one in _standing(asked, opened, stands)
    )


def _narrowest(starts: list[_Start], width: float) -> Opened:
    """Return the narrowest of the ways from some places.

    Args:
        starts: The places.
        width: That is asked for, metres.
    """
    if not starts:
        return Opened(float("inf"), (0.0, 0.0), None)
    worst = _worst(starts)
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


def _worst(starts: list[_Start]) -> _Start:
    """Return where the widest way is the narrowest."""
    first, *others = sorted(starts, key=lambda one: one.width)
    worst = first.closely
    for one in others:
        # What it is at first is never more than it is when looked at closely.
        if one.width >= worst.width:
            break
        worst = min(worst, one.closely, key=lambda found: found.width)
    return worst


def _one_hinge_at_a_time(
    asked: _Asked, opened: OpenFloor, height: float
) -> Iterator[_Start]:
    """Yield the places before each item where its own leaf is hinged at one side only.

    That is known of a leaf of which nothing is said. The leaves of others may be hinged
    at either side: both are taken at once.
    """
    for item in asked.row.items:
        own = [one for one in opened.leaves if one.assumed and one.item == item.id]
        variants = [asked.ways.opened_but(height, leaf) for leaf in own]
        if opened.floor.hopeful:
            variants = [one.on(one.floor.as_hoped) for one in variants]
        for one in variants or [opened]:
            yield from _starts(asked, one, (item,))


def _starts(
    asked: _Asked, opened: OpenFloor, items: Sequence[Placed]
) -> Iterator[_Start]:
    """Yield the places before some of the items of the row."""
    stands = [asked.ways.stand(one) for one in items if one.live]
    yield from _between(asked, opened, items, stands)
    yield from _standing(asked, opened, stands)


def _between(
    asked: _Asked, opened: OpenFloor, items: Sequence[Placed], stands: list[Stand]
) -> Iterator[_Start]:
    """Yield the places beside leaves."""
    near = _bays(asked, opened, items, stands)
    ways = WaysPast(opened, asked.width)
    left = ways.out_of([bay.at for bay in near])
    for bay, way, had_way in zip(near, left, _counted(asked, near), strict=True):
        if had_way is not None:
            yield _Start(bay.at, way, ways, bay, had_way)


def _counted(asked: _Asked, near: Sequence[Bay]) -> Iterator[bool | None]:
    """Yield whether there was a way from places before; None where none is asked about.

    Those where a part of the gear itself stands, a trough below it say, or a leaf that
    hardly opens leaves nobody room, are asked about only where there was a way.
    """
    easy = _have_room_ahead(asked.shut, near, asked.width)
    for bay, has_way in zip(near, easy, strict=True):
        had_way = has_way or _had_way(asked.shut, bay.at, asked.width)
        if had_way or not (bay.ajar or asked.shut.free(flat.Point(bay.at)).is_empty):
            yield had_way
        else:
            yield None


def _bays(
    asked: _Asked, opened: OpenFloor, items: Sequence[Placed], stands: list[Stand]
) -> list[Bay]:
    depth = max((stand.space.depth for stand in stands), default=0.0)
    return [
        bay
        for bay in bays(asked.row, opened, depth, asked.ways.rows)
        if bay.guest or any(_is_before(one, bay.at) for one in items)
    ]


def _is_before(item: Placed, at: Corner) -> bool:
    front = item.front
    if front is None:
        return False
    along, _ = front.frame.to_frame(*at)
    return -_SAME <= along <= front.width + _SAME


def _have_room_ahead(shut: Floor, near: Sequence[Bay], width: float) -> list[bool]:
    """Tell from where somebody of a width who stands straight ahead has a way out.

    Where nobody does there may be other room: this is only quick.
    """
    if not near or not shut.exits or shut.swinging:
        return [False] * len(near)
    away = width / 2 - _AHEAD
    spots = np.array([one.at for one in near]) + away * np.array(
        [one.out for one in near]
    )
    leads_out = shut.necks.ways_out(spots) >= width
    found: list[bool] = (leads_out & shut.has_room(spots, width)).tolist()
    return found


def _had_way(shut: Floor, at: Corner, width: float) -> bool:
    """Tell whether somebody of a width can stand over a point and has a way out."""
    near = flat.Point(at).buffer(width / 2, quad_segs=16)
    area = shut.free(near)
    if not shut.swinging:
        return passes(shut, area, width)
    return any(part.exits for _, part in shut.places(area, width - CONTACT))


def _standing(
    asked: _Asked, opened: OpenFloor, stands: list[Stand]
) -> Iterator[_Start]:
    """Yield the places before fronts that have lost their way out.

    Where the working space is wider than the front, what of it lies beyond a leaf that
    stands open at the front's edge is not asked: people leave by that leaf's free side.
    """
    shut, floor, clear = asked.shut, opened.floor, asked.width - CONTACT
    areas = [
        flat.intersection(asked.ways.standing(stand, shut), stand.before)
        for stand in stands
    ]
    left = [
        one for area in areas for one in floor.pieces(area, clear) if one.area > _SPOT
    ]
    places = _leading_out(shut, left, clear)
    if not places:
        # Where nobody has room with the doors open, somebody is there nevertheless.
        pieces = [one for area in areas for one in shut.pieces(area, clear)]
        had = _leading_out(shut, pieces, clear)
        places = [one for one in map(floor.free, had) if one.area > _SPOT]
    inner = [_inner(one) for one in places]
    ways = WaysPast(opened, asked.width, pockets=True)
    for at, way, place in zip(inner, ways.out_of(inner), places, strict=True):
        if way.width <= clear + _SAME:
            yield _Start(at, way, ways, place)


def _leading_out(
    floor: Floor, pieces: list[flat.Polygon], clear: float
) -> list[flat.Polygon]:
    if not floor.exits:
        return []
    if floor.swinging:
        return [
            one
            for one in pieces
            if any(part.exits for _, part in floor.places(one, clear))
        ]
    widths = floor.necks.ways_out([_inner(one) for one in pieces])
    return [
        one
        for one, wide in zip(pieces, widths.tolist(), strict=True)
        if wide > clear + _SAME
    ]


def _inner(area: flat.Geometry) -> Corner:
    point = area.representative_point()
    return float(point.x), float(point.y)
