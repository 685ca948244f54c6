"""Which ways out are as good as before, where something was moved elsewhere in a room.

To look closely at where people stand before a front and beside leaves takes long, and
whether the way on from there is wide enough hangs on all the room, which is quickly
asked. So what was looked at closely is kept: where nothing of it has changed, only the
ways on are asked again, of all rows of gear at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.path import CLOSE
from model3d.egress.shut import ask_floor
from model3d.egress.starts.before import before_fronts, inner_points, standing_room
from model3d.egress.starts.beside import bays_before
from model3d.egress.starts.start import SAME, Asked
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.egress.doors.exits import Exit
    from model3d.egress.doors.joint_front import Row
    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.bays import Bay, OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.necks.necks import Necks
    from model3d.egress.ground.stand import Stand
    from model3d.egress.ways import Doors, Ways
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation


@dataclass(frozen=True, eq=False)
class CloseLook:
    """What was looked at closely before one row, and from where a way must lead on.

    Attributes:
        area: All of it in plan: west, south, east and north, metres.
        exits: The ways out of the room, with equipment doors shut.
        opened: The same with them open.
        stands: Where people work at the row.
        leaves: Those that are before it or hang on it.
        homes: The rows that these hang on.
        inside: A point in each working space, with the doors shut.
        beside: Points beside leaves.
        before: Points before the fronts, with the doors open.
    """

    area: tuple[float, float, float, float]
    exits: tuple[Exit, ...]
    opened: tuple[Exit, ...]
    stands: tuple[Stand, ...]
    leaves: tuple[LeafAjar, ...]
    homes: tuple[Row, ...]
    inside: tuple[Corner, ...]
    beside: tuple[Corner, ...]
    before: tuple[Corner, ...]

    @property
    def spots(self) -> tuple[Corner, ...]:
        """All points from where a way must lead on."""
        return (*self.inside, *self.beside, *self.before)

    def is_same(self, asked: Asked, opened: OpenFloor) -> bool:
        """Tell whether what was looked at is the same, where nothing was moved in it.

        Args:
            asked: In the room as it is now.
            opened: Its floor with doors open.
        """
        stands = _stands(asked)
        if _said(asked.shut.exits) != _said(self.exits):
            return False
        if _said(opened.floor.exits) != _said(self.opened):
            return False
        # How deep a space must be is told by what is opposite, which may be far away.
        if not all(map(_is_same, stands, self.stands)):
            return False
        leaves = _near(asked, opened, stands)
        return leaves == self.leaves and _homes(asked, leaves) == self.homes


def as_wide_as_before(
    width: float, height: float, situation: Situation
) -> frozenset[str]:
    """Return the items whose ways out are wide enough for certain, as they were before.

    With the doors shut, and with equipment doors open. No others are looked at than
    those before which nothing was moved; where nothing was, it is none.

    Args:
        width: Of the way, metres.
        height: Of the way, metres.
        situation: The room.
    """
    return situation.remembered(_as_wide_as_before, width, height)


def _as_wide_as_before(
    width: float, height: float, situation: Situation
) -> frozenset[str]:
    earlier, all_ways = situation.earlier, ways_of(situation)
    if earlier is None:
        return frozenset()
    has = earlier.situation.has
    kept = {row for row in all_ways.rows.values() if all(map(has, row.items))}
    open_ones: tuple[Doors, ...] = ("stated", "all") if all_ways.unsaid else ("stated",)
    for number, doors in product(range(len(all_ways.variants)), open_ones):
        looks: dict[Row, CloseLook] = {}
        for row in kept:
            look = earlier.situation.remembered(
                close_look, row, width, height, doors, number
            )
            if look is not None and earlier.is_same_in(look.area):
                looks[row] = look
        if not looks:
            # To ask for the ways on takes most of the time.
            return frozenset()
        ways = all_ways.variants[number]
        kept = _as_wide(looks, ways, width, height, doors)
    return frozenset(one.id for row in kept for one in row.items)


def _as_wide(
    looks: Mapping[Row, CloseLook],
    ways: Ways,
    width: float,
    height: float,
    doors: Doors,
) -> set[Row]:
    """Return the rows from which the ways on are wide enough, and else the same."""
    shut, opened = ways.floor(height).plain, ways.opened(height, doors).plain
    same = {
        row: look
        for row, look in looks.items()
        if look.is_same(Asked(row, ways, shut, width), opened)
    }
    narrow = _narrow(same, shut.necks, opened, width) if same else set()
    return {row for row, look in same.items() if narrow.isdisjoint(look.spots)}


def _narrow(
    looks: Mapping[Row, CloseLook], shut: Necks, opened: OpenFloor, width: float
) -> set[Corner]:
    """Return the points from which no way is wide enough for certain."""
    if not looks:
        return set()
    clear = width - CONTACT
    found: set[Corner] = set()
    for necks, part, least in (
        (shut, "inside", width + CLOSE),
        (opened.necks, "beside", clear),
        (opened.floor.necks, "before", clear + SAME),
    ):
        spots = [spot for look in looks.values() for spot in getattr(look, part)]
        widths = necks.ways_out(spots).tolist() if spots else []
        found |= {at for at, way in zip(spots, widths, strict=True) if way <= least}
    return found


def close_look(
    row: Row,
    width: float,
    height: float,
    doors: Doors,
    number: int,
    situation: Situation,
) -> CloseLook | None:
    """Look closely at what people at a row have with doors shut and with doors open.

    Of no exit but those whose own leaf is in nobody's way. None where that is not all
    that matters: where somebody has no room or no way on.

    Args:
        row: The gear.
        width: Of the way, metres.
        height: Of the way, metres.
        doors: Which equipment doors are open.
        number: In which of the variants of the ways.
        situation: The room.
    """
    variants = ways_of(situation).variants
    if number >= len(variants):
        return None
    ways = variants[number]
    shut, opened = ways.floor(height).plain, ways.opened(height, doors).plain
    if not (shut.exits and opened.floor.exits):
        return None
    asked, clear = Asked(row, ways, shut, width), width - CONTACT
    stands = _stands(asked)
    standing = [ways.standing(one, shut) for one in stands]
    if any(one.is_empty for one in standing):
        return None
    inside = inner_points(standing)
    if any(ask_floor(one, situation, height) for one in stands):
        return None
    if inside and not shut.has_room(np.array(inside), width).all():
        return None
    near = bays_before(asked, opened, row.items, stands)
    wide = {
        bay
        for bay, way in zip(
            near, opened.necks.ways_out([bay.at for bay in near]).tolist(), strict=True
        )
        if way >= clear
    }
    if any(_may_count(bay, shut, clear) for bay in near if bay not in wide):
        return None
    areas = before_fronts(asked, stands)
    before = inner_points(standing_room(areas, opened.floor, clear))
    if stands and (not before or shut.necks.ways_out(before).min() <= clear + SAME):
        return None
    leaves = _near(asked, opened, stands)
    plans = [
        _ahead(asked, stands),
        *(one.ahead for one in stands),
        *(one.plan for one in leaves),
        *(flat.Point(bay.at).buffer(bay.reach) for bay in near),
    ]
    return CloseLook(
        flat.union_all(plans).buffer(max(width, BODY)).bounds,
        shut.exits,
        opened.floor.exits,
        tuple(stands),
        leaves,
        _homes(asked, leaves),
        tuple(inside),
        tuple(bay.at for bay in near if bay in wide),
        tuple(before),
    )


def _may_count(bay: Bay, shut: Floor, clear: float) -> bool:
    """Tell whether a place beside a leaf may be asked about if something is moved.

    One that nobody as wide has room in never is, where a part of the gear itself stands
    there, or the leaf hardly opens.
    """
    at = flat.Point(bay.at)
    over = at.buffer(clear / 2 + CONTACT, quad_segs=16)
    if not (bay.ajar or shut.free(at).is_empty):
        return True
    return bool(shut.pieces(shut.free(over), clear))


def _stands(asked: Asked) -> list[Stand]:
    return [asked.ways.stand(one) for one in asked.row.items if one.live]


def _said(exits: Sequence[Exit]) -> list[tuple[object, ...]]:
    return [one.said for one in exits]


def _is_same(one: Stand, other: Stand) -> bool:
    same = one.found is other.found and one.figures == other.figures
    return same and one.space.depth == other.space.depth


def _ahead(asked: Asked, stands: Sequence[Stand]) -> flat.Polygon:
    return asked.row.ahead(max((one.space.depth for one in stands), default=0.0))


def _near(
    asked: Asked, opened: OpenFloor, stands: Sequence[Stand]
) -> tuple[LeafAjar, ...]:
    return tuple(opened.near(asked.row, _ahead(asked, stands), asked.ways.rows))


def _homes(asked: Asked, leaves: Sequence[LeafAjar]) -> tuple[Row, ...]:
    return tuple(asked.ways.rows[one.item] for one in leaves)
