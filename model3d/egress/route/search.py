"""Find the widest way out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY, WIDEST
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import pieces_each
from model3d.egress.route.path import CLOSE, Path, Trip
from model3d.egress.route.room import SIDES, bodies_near, first_look_each, standing
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.room import FirstLook, Standing
    from model3d.geometry.frame import Corner

    Points = NDArray[np.float64]

_FINE: Final = 1e-5
"""Metres. How closely it is searched how much room a person has to stand."""

_ROUNDING: Final = 1e-9
"""Metres. Computed distances may be off by less."""

_ROUND: Final = 1e-4
"""Metres. More than a many-sided round lets somebody be wider than a true one would."""

_CLOSER: Final = 0.36
"""How much nearer to the best place it is looked for the next time."""


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
    first: FirstLook | None = None,
) -> Path | None:
    """Find the widest way from an area to any exit; None where there is none.

    It is as wide as the person at most who finds room to stand in the area itself.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        asked: How wide it shall be, metres.
        least: What is narrower is no way, metres.
        first: What ``first_look_each`` found of the area, if it was asked before.
    """
    if first is None:
        (first,) = first_look_each(floor, np.array([area], dtype=object), least)
    wide, found = first.wide, first.wider
    if wide >= least and found is None:
        return Path(Trip(floor, area, hint, wide, asked, floor.necks))
    while found is not None:
        wide, here = min(found.way, WIDEST), found.area
        wider = _wider(floor, here, wide)
        if wider is None:
            tight = standing(floor, here, wide - CONTACT) is None
            if tight:
                wide = _room_to_stand(floor, found, wide - CONTACT)
            trip = Trip(floor, area, hint, wide, asked, floor.necks)
            return Path(trip, room_to_stand=tight)
        found = wider
    return None


def _wider(floor: Floor, area: flat.Geometry, wide: float) -> Standing | None:
    """Return where somebody stands and leaves who is wider than a way; None if nobody.

    Wider by more than contact: many-sided rounds leave a slit where a neck is just as
    wide, and what is on both sides of it must not be taken for one place.
    """
    return None if wide >= WIDEST else standing(floor, area, wide + CONTACT)


def _room_to_stand(floor: Floor, found: Standing, high: float) -> float:
    """Return the greatest width that passes, where one passes and another does not."""
    low = 0.0
    while high - low > _FINE:
        # The best place that a few looks find is nearly always the best of all.
        first, *others = flat.get_parts(found.area)
        low = max(low, _roomiest(floor, first, low))
        for part in others:
            # Where nobody has room who is as wide, the best place is no better.
            if floor.pieces(part, low):
                low = max(low, _roomiest(floor, part, low))
        wider = standing(floor, found.area, low + _FINE)
        if wider is None:
            break
        found, low = wider, low + _FINE
        middle = (low + high) / 2
        wider = None
        if middle <= _most(floor, found.area):
            wider = standing(floor, found.area, middle)
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


def _roomiest(floor: Floor, area: flat.Polygon, least: float) -> float:
    """Return how wide somebody may be who stands and leaves where most room is.

    It is looked for on ever finer grids about the best place of the one before.

    Args:
        floor: The free floor.
        area: Where somebody stands.
        least: Metres. Where it is no more for certain, 0 is returned.
    """
    near = floor.features[1][bodies_near(floor, area)]
    west, south, east, north = area.bounds
    middle = np.array([west + east, south + north]) / 2
    step = np.array([east - west, north - south]) / 2
    flat.prepare(area)
    best, room = area.representative_point().coords[0], 0.0
    reach = math.hypot(*step)
    while max(step) > _FINE / 4:
        # Nobody has more room than in the middle and the way from there.
        to_middle = flat.distance(near, flat.Point(middle))
        most = to_middle.min() + 2 * reach + _ROUNDING
        if not room and 2 * (most - reach) <= least:
            return 0.0
        near = near[to_middle <= most]
        spots = np.concatenate([middle + SIDES * step, [best]])
        spots = spots[flat.intersects_xy(area, spots)]
        if len(spots):
            away = flat.distance(flat.points(spots)[:, None], near).min(axis=1)
            here = int(away.argmax())
            if away[here] >= room:
                best, room = tuple(spots[here].tolist()), float(away[here])
        middle, step = np.array(best), step * _CLOSER
        reach = math.hypot(*step)
    way = floor.necks.ways_out([best])
    return float(min(2 * room, way[0]))
