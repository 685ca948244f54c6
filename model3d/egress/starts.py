"""Where people at a front are when its doors are opened, and what is left to each."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.bays import Bay, bays
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.route.search import passes
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.doors.joint_front import Row
    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.route.past_leaf import WayLeft
    from model3d.egress.ways import Ways
    from model3d.geometry.frame import Corner
    from model3d.standing.placed import Placed

_SPOT: Final = 1e-9
"""Square metres. A place that is smaller is rounding."""

_AHEAD: Final = 1e-3
"""Metres. By how much less than to touch a front somebody stands ahead of a bay, which
is further from it than that."""

SAME: Final = 1e-6
"""Metres. Widths that differ by less are one."""


@dataclass(frozen=True, slots=True)
class Start:
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
        """Of that way, metres."""
        return self.way.width

    @property
    def closely(self) -> Start:
        """The same with the widest way there is."""
        return replace(self, way=self.ways.closely(self.at))


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked: the gear, the room with its doors shut, the way's width."""

    row: Row
    ways: Ways
    shut: Floor
    width: float


def starts_of(
    asked: Asked, opened: OpenFloor, items: Sequence[Placed]
) -> Iterator[Start]:
    """Yield the places before some of the items of the row."""
    stands = [asked.ways.stand(one) for one in items if one.live]
    yield from _between(asked, opened, items, stands)
    yield from standing(asked, opened, stands)


def one_hinge_at_a_time(
    asked: Asked, opened: OpenFloor, height: float
) -> Iterator[Start]:
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
            yield from starts_of(asked, one, (item,))


def _between(
    asked: Asked, opened: OpenFloor, items: Sequence[Placed], stands: list[Stand]
) -> Iterator[Start]:
    """Yield the places beside leaves."""
    near = bays_before(asked, opened, items, stands)
    ways = WaysPast(opened, asked.width)
    left = ways.out_of([bay.at for bay in near])
    for bay, way, had_way in zip(near, left, counted(asked, near), strict=True):
        if had_way is not None:
            yield Start(bay.at, way, ways, bay, had_way)


def counted(asked: Asked, near: Sequence[Bay]) -> Iterator[bool | None]:
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


def bays_before(
    asked: Asked, opened: OpenFloor, items: Sequence[Placed], stands: list[Stand]
) -> list[Bay]:
    """Return the places beside leaves that lie before some of the items of the row."""
    depth = max((stand.space.depth for stand in stands), default=0.0)
    found = list(bays(asked.row, opened, depth, asked.ways.rows))
    before = _before(items, found)
    return [bay for bay, here in zip(found, before, strict=True) if bay.guest or here]


def _before(items: Sequence[Placed], places: Sequence[Bay]) -> list[bool]:
    """Tell which places lie before the front of one of some items."""
    at = np.array([one.at for one in places]).reshape(-1, 2)
    found = np.zeros(len(places), dtype=bool)
    for front in (one.front for one in items if one.front is not None):
        along = (at - (front.frame.x, front.frame.y)) @ np.array(front.frame.right)
        found |= (along >= -SAME) & (along <= front.width + SAME)
    answers: list[bool] = found.tolist()
    return answers


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


def standing(asked: Asked, opened: OpenFloor, stands: list[Stand]) -> Iterator[Start]:
    """Yield the places before fronts that have lost their way out.

    Where the working space is wider than the front, what of it lies beyond a leaf that
    stands open at the front's edge is not asked: people leave by that leaf's free side.
    Nor is somebody there who comes a little way before the front past the leaf's tip.
    """
    clear = asked.width - CONTACT
    areas = before_fronts(asked, stands)
    left = standing_room(areas, opened.floor, clear)
    places = _leading_out(asked.shut, left, clear)
    if not places:
        # Where nobody has room with the doors open, somebody is there nevertheless.
        pieces = [one for area in areas for one in asked.shut.pieces(area, clear)]
        had = _leading_out(asked.shut, pieces, clear)
        places = [one for one in map(opened.floor.free, had) if one.area > _SPOT]
    places = [one for one in places if not _is_beyond(one, asked.row, opened, clear)]
    inner = inner_points(places)
    ways = WaysPast(opened, asked.width, pockets=True)
    for at, way, place in zip(inner, ways.out_of(inner), places, strict=True):
        if way.width <= clear + SAME:
            yield Start(at, way, ways, place)


def _is_beyond(area: flat.Geometry, row: Row, opened: OpenFloor, width: float) -> bool:
    """Tell whether a place is that of somebody beyond a leaf at an end of the row.

    Who stands there comes up to the end, does not touch the front, and is no further
    before it than the middle of a way to the leaf's tip that is too narrow.

    Args:
        area: Where the middle of a person may be.
        row: The gear.
        opened: The floor with the open leaves on it.
        width: Of the person, metres.
    """
    frame = row.frame
    step = flat.get_coordinates(area) - (frame.x, frame.y)
    along, ahead = step @ frame.right, step @ frame.out
    if ahead.min() <= width / 2 + CONTACT:
        return False
    names = {one.id for one in row.items}
    hinges = [
        frame.to_frame(leaf.frame.x, leaf.frame.y)[0]
        for leaf in opened.leaves
        if leaf.item in names and leaf.tip[1] > BODY
    ]
    from_left = along, hinges
    from_right = row.width - along, [row.width - one for one in hinges]
    for inside, edges in (from_left, from_right):
        edge = max((one for one in edges if one < BODY), default=-math.inf)
        if inside.min() <= CONTACT and inside.max() <= edge + width / 2:
            return True
    return False


def before_fronts(asked: Asked, stands: list[Stand]) -> list[flat.Geometry]:
    """Return the free floor before the fronts, with the doors shut."""
    return [
        flat.intersection(asked.ways.standing(stand, asked.shut), stand.before)
        for stand in stands
    ]


def standing_room(
    areas: list[flat.Geometry], floor: Floor, clear: float
) -> list[flat.Polygon]:
    """Return where in some areas the middle of somebody of a width can be."""
    found = (one for area in areas for one in floor.pieces(area, clear))
    return [one for one in found if one.area > _SPOT]


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
    widths = floor.necks.ways_out(inner_points(pieces))
    return [
        one
        for one, wide in zip(pieces, widths.tolist(), strict=True)
        if wide > clear + SAME
    ]


def inner_points(areas: Sequence[flat.Geometry]) -> list[Corner]:
    """Return a point within each of some areas."""
    points = (one.representative_point() for one in areas)
    return [(float(point.x), float(point.y)) for point in points]
