"""People all along the front that an open leaf uncovers, where its hinge misleads.

Next to the hinge there may be no room though a little further along the front there is:
in the corner beside a wall, say. Or somebody only just reaches the hinge who stands
beside the front, and before it there is no room.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.bays import Bay, OpenFloor
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.past_leaf import WaysPast
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.egress.starts.start import Asked, Start
    from model3d.geometry.frame import Corner

_APART: Final = 0.02
"""Metres. How far apart along a front people are looked for."""


def along_front(asked: Asked, beside: Sequence[Start]) -> list[list[Start]]:
    """Return for each of some places beside leaves what to ask about instead.

    Places from which enough is left stay what they are. Of the others it is asked all
    along the front whether somebody there had a way, past what stands about him.

    Args:
        asked: Of the row.
        beside: The places, of which not all are at a leaf that uncovers anything.
    """
    clear = asked.width - CONTACT
    spots = [_spots(one) if one.width < clear else [] for one in beside]
    every = [spot for some in spots for spot in some]
    shut = WaysPast(OpenFloor(asked.shut, ()), asked.width)
    had = [way.width >= clear for way in shut.out_of(every, clear)]
    ends = accumulate(map(len, spots), initial=0)
    return [
        _told(start, list(zip(some, had[first:last], strict=True)))
        for start, some, (first, last) in zip(
            beside, spots, pairwise(ends), strict=True
        )
    ]


def _told(start: Start, along: list[tuple[Corner, bool]]) -> list[Start]:
    """Return a place beside a leaf, and those along the front that had a way.

    Args:
        start: The place, at the hinge.
        along: Places from there on, and whether there was a way from each.
    """
    bay = start.place
    if not along or not isinstance(bay, Bay):
        return [start]
    _, at_hinge = along[0]
    spots = [spot for spot, had_way in along if had_way]
    left = start.ways.out_of(spots) if spots else []
    return [
        replace(start, had_way=at_hinge),
        *(
            replace(start, at=at, way=way, place=replace(bay, at=at), had_way=True)
            for at, way in zip(spots, left, strict=True)
        ),
    ]


def _spots(start: Start) -> list[Corner]:
    """Return places along the front that a leaf uncovers, from its hinge on.

    Nothing stands there.
    """
    bay = start.place
    if not isinstance(bay, Bay):
        return []
    steps = np.arange(_APART, bay.uncovered - _APART / 2, _APART)
    (x, y), (right, up) = bay.at, bay.along
    spots = [(x + step * right, y + step * up) for step in steps.tolist()]
    floor = start.ways.opened.floor
    return [one for one in spots if not floor.free(flat.Point(one)).is_empty]
