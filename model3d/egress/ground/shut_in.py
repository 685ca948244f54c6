"""Whether open doors shut somebody in whose way out is narrow already.

Where something stands near across a front the way out is narrow with all doors shut.
That is no licence for the doors: were there more room elsewhere, they would shut the
same person in, and more room makes nothing worse. So some of the narrow places that no
door has to do with are thought away. What lets a person out then while the doors are
shut, and no longer once they are open, is what the doors take.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.open_leaves import leaf_name
from model3d.egress.ground.floor import CONTACT
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.bays import Bay, OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.necks import Necks

    Flags = NDArray[np.bool_]

_SAME: Final = 1e-6
"""Metres. Widths that differ by less are one."""


def shut_in(
    bays: Sequence[Bay], shut: Floor, opened: OpenFloor, width: float
) -> list[bool]:
    """Tell in which places open doors shut somebody in, had there been room elsewhere.

    Args:
        bays: The places, from where nobody of that width has a way out.
        shut: The floor with all doors shut.
        opened: With the doors open.
        width: Of the way that the doors shall leave, metres.
    """
    if not bays or not shut.exits:
        return [False] * len(bays)
    spots = np.array([one.at for one in bays])
    clear = width - CONTACT
    now, before = opened.necks.ways_out(spots), shut.necks.ways_out(spots)
    narrow = (now < clear - _SAME) & shut.has_room(spots, TOUCH)
    # Where doors make the way out itself narrower nothing need be thought away.
    found = narrow & (now < before - _SAME)
    for number in np.flatnonzero(narrow & ~found).tolist():
        found[number] = _would_be(bays[number], shut, opened, before[number], clear)
    answers: list[bool] = found.tolist()
    return answers


def _would_be(
    bay: Bay, shut: Floor, opened: OpenFloor, wide: float, clear: float
) -> bool:
    names, _, _ = opened.floor.features
    doors = {leaf_name(one.item) for one in opened.leaves}
    hung = np.array([name in doors for name in names])
    of_doors = hung[opened.necks.pairs].any(axis=1)
    return any(
        _leads_out(shut.necks, away, bay) >= clear - _SAME
        and _leads_out(opened.necks, left & ~of_doors, bay) < clear - _SAME
        for away, left in zip(
            _elsewhere(shut.necks, bay, wide),
            _elsewhere(opened.necks, bay, wide),
            strict=True,
        )
    )


def _elsewhere(necks: Necks, bay: Bay, wide: float) -> Iterator[Flags]:
    """Yield narrow places to be thought away: those of the way out, those behind."""
    yield necks.widths >= wide - _SAME
    away = necks.lines[:, 1:3].mean(axis=1) - np.array(bay.at)
    yield (away @ np.array(bay.along) < 0.0)


def _leads_out(necks: Necks, left_out: Flags, bay: Bay) -> float:
    return float(necks.without(left_out).ways_out([bay.at])[0])
