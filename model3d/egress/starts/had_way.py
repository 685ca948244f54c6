"""Which places beside leaves had a way out with the equipment doors shut."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import free_each
from model3d.egress.route.search import passes_each
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.egress.ground.bays import Bay
    from model3d.egress.ground.floor import Floor
    from model3d.egress.starts.start import Asked
    from model3d.geometry.frame import Corner

_AHEAD: Final = 1e-3
"""Metres. By how much less than to touch a front somebody stands ahead of a bay, which
is further from it than that."""


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
