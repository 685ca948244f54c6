"""The places beside leaves, and all places at the rows of a room."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.ground.bays import Bay, bays
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.starts.before import standing_each
from model3d.egress.starts.had_way import counted
from model3d.egress.starts.start import SAME, Start
from model3d.egress.starts.uncovered import along_front

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.starts.start import Asked
    from model3d.standing.placed import Placed


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
    counts = counted(asked[0], all_near)
    rows = [number for number, some in enumerate(near) for _ in some]
    counting = [
        (number, Start(bay.at, way, ways, bay, had_way))
        for number, bay, way, had_way in zip(rows, all_near, left, counts, strict=True)
        if had_way is not None
    ]
    told = along_front(asked[0], [start for _, start in counting])
    for (number, _), starts in zip(counting, told, strict=True):
        found[number] += starts
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
