"""People all along the front that an open leaf uncovers, where its hinge misleads.

Next to the hinge there may be no room though a little further along the front there is:
in the corner beside a wall, say. Or somebody only just reaches the hinge who stands
beside the front, and before it there is no room.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from operator import itemgetter
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

_LEAST: Final = 0.08
"""Metres. Before less of a front nobody is: the width of a hand, common practice."""


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
    shut = WaysPast(OpenFloor(asked.shut, ()), asked.width)
    every = [spot for some in spots for spot in some]
    had = iter([way.width >= clear for way in shut.out_of(every, clear)])
    return [
        _told(start, some, [next(had) for _ in some])
        for start, some in zip(beside, spots, strict=True)
    ]


def _told(start: Start, spots: list[Corner], had: list[bool]) -> list[Start]:
    """Return a place beside a leaf, and those along the front that had a way.

    Before a bit of the front that is narrower than a hand nobody is.

    Args:
        start: The place, at the hinge.
        spots: Places from there on.
        had: Whether there was a way from each.
    """
    bay = start.place
    if not spots or not isinstance(bay, Bay):
        return [start]
    floor = start.ways.opened.floor
    stood = [
        had_way and not floor.free(flat.Point(spot)).is_empty
        for spot, had_way in zip(spots, had, strict=True)
    ]
    runs = [[*some] for _, some in groupby(enumerate(stood), key=itemgetter(1))]
    least = min(round(_LEAST / _APART), len(spots))
    wide = [run for run in runs if run[0][1] and len(run) >= least]
    people = [spots[number] for run in wide for number, _ in run]
    left = start.ways.out_of(people) if people else []
    return [
        replace(start, had_way=spots[0] in people),
        *(
            replace(start, at=at, way=way, place=replace(bay, at=at), had_way=True)
            for at, way in zip(people, left, strict=True)
        ),
    ]


def _spots(start: Start) -> list[Corner]:
    """Return places along the front that a leaf uncovers, from its hinge on."""
    bay = start.place
    if not isinstance(bay, Bay):
        return []
    steps = np.arange(_APART, bay.uncovered - _APART / 2, _APART)
    (x, y), (right, up) = bay.at, bay.along
    return [(x + step * right, y + step * up) for step in steps.tolist()]
