"""The places beside leaves, and all places at the rows of a room."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.bays import Bay, bays
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import free_each
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.route.search import passes_each
from model3d.egress.starts.before import standing_each
from model3d.egress.starts.start import SAME, Start
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.starts.start import Asked
    from model3d.geometry.frame import Corner
    from model3d.standing.placed import Placed

_AHEAD: Final = 1e-3
"""Metres. By how much less than to touch a front somebody stands ahead of a bay, which
is further from it than that."""


def starts_of(
    asked: Asked, opened: OpenFloor, items: Sequence[Placed]
) -> Iterator[Start]:
    """Yield the places before some of the items of the row."""
    yield from starts_of_each([asked], opened, [items])[0]


def starts_of_each(
    asked: Sequence[Asked], opened: OpenFloor, items: Sequence[Sequence[Placed]]
) -> list[list[Start]]:
    """Return the same for some rows of which the same is asked, in a part of the time.

    Args:
        asked: Of each row.
        opened: The floor with the open leaves on it.
        items: Of each row.
    """
    stands = [
        [one.ways.stand(item) for item in some if item.live]
        for one, some in zip(asked, items, strict=True)
    ]
    near = [
        bays_before(one, opened, some, places)
        for one, some, places in zip(asked, items, stands, strict=True)
    ]
    found: list[list[Start]] = [[] for _ in asked]
    all_near = [bay for some in near for bay in some]
    ways = WaysPast(opened, asked[0].width)
    left = ways.out_of([bay.at for bay in all_near])
    of = (starts for starts, some in zip(found, near, strict=True) for _ in some)
    for starts, bay, way, had_way in zip(
        of, all_near, left, counted(asked[0], all_near), strict=True
    ):
        if had_way is not None:
            starts.append(Start(bay.at, way, ways, bay, had_way))
    before = standing_each(asked, opened, stands)
    return [beside + more for beside, more in zip(found, before, strict=True)]


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


def counted(asked: Asked, near: Sequence[Bay]) -> Iterator[bool | None]:
    """Yield whether there was a way from places before; None where none is asked about.

    Those where a part of the gear itself stands, a trough below it say, or a leaf that
    hardly opens leaves nobody room, are asked about only where there was a way.
    """
    easy = np.array(_have_room_ahead(asked.shut, near, asked.width), dtype=bool)
    other = (~easy).nonzero()[0]
    at = [near[number].at for number in other.tolist()]
    easy[other] = _had_ways(asked.shut, at, asked.width)
    for bay, had_way in zip(near, easy.tolist(), strict=True):
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


def _had_ways(shut: Floor, spots: Sequence[Corner], width: float) -> list[bool]:
    """Tell at which points somebody of a width can stand over it and has a way out."""
    if not spots:
        return []
    near = flat.buffer(flat.points(spots), width / 2, quad_segs=16)
    areas = free_each(shut, near)
    if not shut.swinging:
        return passes_each(shut, areas, width)
    return [
        any(part.exits for _, part in shut.places(area, width - CONTACT))
        for area in areas.tolist()
    ]
