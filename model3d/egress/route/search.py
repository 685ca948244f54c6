"""Find the widest way out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY, WIDEST
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import pieces_each
from model3d.egress.route.path import CLOSE, Path, Trip
from model3d.egress.route.room import (
    first_look_each,
    leaving,
    standing,
)
from model3d.egress.route.roomiest import FINE
from model3d.egress.route.together import RoomAsked, SpotAsked, WayOutAsked, together
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.room import FirstLook, Standing
    from model3d.egress.route.together import Search
    from model3d.geometry.frame import Corner

    Points = NDArray[np.float64]

_ROUND: Final = 1e-4
"""Metres. More than a many-sided round lets somebody be wider than a true one would."""


def passes(floor: Floor, area: flat.Geometry, width: float) -> bool:
    """Tell whether a person of a width comes from somewhere in an area to an exit.

    Touching something on both sides is no hindrance.
    """
    clear = width - CONTACT
    return _passes_easily(floor, area, clear) or (
        standing(floor, area, clear) is not None
    )


def _passes_easily(floor: Floor, area: flat.Geometry, clear: float) -> bool:
    """Tell whether somebody who stands well within an area has room there, and leaves.

    That is quick, and nearly always so where anybody does.
    """
    if area.is_empty or not floor.exits:
        return False
    inner = flat.get_coordinates(flat.point_on_surface(area))
    leaves = floor.necks.ways_out(inner) > clear + CLOSE
    return bool((leaves & floor.has_room(inner, clear)).all())


def passes_each(floor: Floor, areas: NDArray[np.object_], width: float) -> list[bool]:
    """Tell the same of each of some areas."""
    clear = width - CONTACT
    found = np.zeros(len(areas), dtype=bool)
    if not floor.exits:
        return found.tolist()
    some = (~flat.is_empty(areas)).nonzero()[0]
    inner = flat.get_coordinates(flat.point_on_surface(areas[some]))
    easy = floor.necks.ways_out(inner) > clear + CLOSE
    found[some] = easy & floor.has_room(inner, clear)
    others = (~found).nonzero()[0]
    pieces, of = pieces_each(floor, areas[others], clear)
    inner = flat.get_coordinates(flat.point_on_surface(pieces))
    leads_out = floor.necks.ways_out(inner) > clear + CLOSE
    found[others[of[leads_out]]] = True
    return found.tolist()


def widest_way(
    floor: Floor,
    area: flat.Geometry,
    hint: Corner,
    asked: float,
    least: float = BODY,
) -> Path | None:
    """Find the widest way from an area to any exit; None where there is none.

    It is as wide as the person at most who finds room to stand in the area itself.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        asked: How wide it shall be, metres.
        least: What is narrower is no way, metres.
    """
    return widest_each(floor, [(area, hint)], asked, least)[0]


def widest_each(
    floor: Floor,
    starts: Sequence[tuple[flat.Geometry, Corner]],
    asked: float,
    least: float = BODY,
    first: Sequence[FirstLook] | None = None,
) -> list[Path | None]:
    """Find the same from each of some areas, in a part of the time.

    Args:
        floor: The free floor.
        starts: Areas and hints, as ``widest_way`` takes them.
        asked: How wide the ways shall be, metres.
        least: What is narrower is no way, metres.
        first: What ``first_look_each`` found of the areas, if it was asked before.
    """
    areas = np.array([area for area, _ in starts], dtype=object)
    looks = first_look_each(floor, areas, least) if first is None else first
    found = together(
        floor,
        [_widest(floor, look, least) for look in looks],
    )
    return [
        None
        if one is None
        else Path(
            Trip(floor, area, hint, one[0], asked, floor.necks), room_to_stand=one[1]
        )
        for (area, hint), one in zip(starts, found, strict=True)
    ]


def _widest(
    floor: Floor, first: FirstLook, least: float
) -> Search[tuple[float, bool] | None]:
    """Return how wide the widest way is, and whether it is so where a person stands."""
    wide, found = first.wide, first.wider
    if wide >= least and found is None:
        return wide, False
    while found is not None:
        wide, here = min(found.way, WIDEST), found.area
        # Wider by more than contact: many-sided rounds leave a slit where a neck is
        # just as wide, and what is on both sides of it must not be taken for one place.
        wider = None
        if wide < WIDEST:
            wider = yield from _standing(here, wide + CONTACT)
        if wider is None:
            tight = (yield from _standing(here, wide - CONTACT)) is None
            if tight:
                wide = yield from _room_to_stand(floor, found, wide - CONTACT)
            return wide, tight
        found = wider
    return None


def _standing(area: flat.Geometry, clear: float) -> Search[Standing | None]:
    found = yield RoomAsked(area, clear)
    return leaving(found.pieces, found.ways, clear)


def _room_to_stand(floor: Floor, found: Standing, high: float) -> Search[float]:
    """Return the greatest width that passes, where one passes and another does not."""
    low = 0.0
    while high - low > FINE:
        # The best place that a few looks find is nearly always the best of all.
        first, *others = flat.get_parts(found.area)
        low = max(low, (yield from _roomiest(first, low)))
        for part in others:
            # Where nobody has room who is as wide, the best place is no better.
            if len((yield RoomAsked(part, low)).pieces):
                low = max(low, (yield from _roomiest(part, low)))
        wider = yield from _standing(found.area, low + FINE)
        if wider is None:
            break
        found, low = wider, low + FINE
        middle = (low + high) / 2
        wider = None
        if middle <= _most(floor, found.area):
            wider = yield from _standing(found.area, middle)
        if wider is None:
            high = middle
        else:
            found, low = wider, middle
    return low


def _most(floor: Floor, area: flat.Geometry) -> float:
    """Return what nobody who stands in an area is wider than, quickly; metres."""
    west, south, east, north = area.bounds
    middle = flat.Point((west + east) / 2, (south + north) / 2)
    nearest = floor.tree.nearest(middle)
    if nearest is None:
        return math.inf
    away = flat.distance(floor.obstacles[nearest][1], middle)
    return float(2 * away + math.hypot(east - west, north - south) + _ROUND)


def _roomiest(area: flat.Polygon, least: float) -> Search[float]:
    """Return how wide somebody may be who stands and leaves where most room is.

    Args:
        area: Where somebody stands.
        least: Metres. Where it is no more for certain, 0 is returned.
    """
    spot = yield SpotAsked(area, least)
    return min(2 * spot.room, (yield WayOutAsked(spot.at))) if spot.room else 0.0
