"""Find the widest way out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY, WIDEST
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.path import CLOSE, Path, Trip
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.geometry.frame import Corner

_FINE: Final = 1e-5
"""Metres. How closely it is searched how much room a person has to stand."""

_ROUNDING: Final = 1e-9
"""Metres. Computed distances may be off by less."""

_ROUND: Final = 1e-4
"""Metres. More than a many-sided round lets somebody be wider than a true one would."""

_SIDES: Final = np.stack(
    np.meshgrid(np.linspace(-1.0, 1.0, 7), np.linspace(-1.0, 1.0, 7)), axis=-1
).reshape(-1, 2)
"""Where that is looked for, of a way to either side."""

_CLOSER: Final = 0.36
"""How much nearer to the best place it is looked for the next time."""


@dataclass(frozen=True, slots=True)
class _Standing:
    """Somebody who stands in an area and can leave.

    Attributes:
        area: Where somebody of the width does.
        way: How wide a way out may be, metres; infinite where nothing narrows it.
    """

    area: flat.MultiPolygon
    way: float


def passes(floor: Floor, area: flat.Geometry, width: float) -> bool:
    """Tell whether a person of a width comes from somewhere in an area to an exit.

    Touching something on both sides is no hindrance.
    """
    clear = width - CONTACT
    return _passes_easily(floor, area, clear) or (
        _standing(floor, area, clear) is not None
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
    wide = _easily(floor, area)
    if wide < least:
        found = _standing(floor, area, least - CONTACT)
    elif (found := _wider(floor, area, wide)) is None:
        return Path(Trip(floor, area, hint, wide, asked, floor.necks))
    while found is not None:
        wide, here = min(found.way, WIDEST), found.area
        wider = _wider(floor, here, wide)
        if wider is None:
            tight = _standing(floor, here, wide - CONTACT) is None
            if tight:
                wide = _room_to_stand(floor, found, wide - CONTACT)
            trip = Trip(floor, area, hint, wide, asked, floor.necks)
            return Path(trip, room_to_stand=tight)
        found = wider
    return None


def _wider(floor: Floor, area: flat.Geometry, wide: float) -> _Standing | None:
    """Return where somebody stands and leaves who is wider than a way; None if nobody.

    Wider by more than contact: many-sided rounds leave a slit where a neck is just as
    wide, and what is on both sides of it must not be taken for one place.
    """
    return None if wide >= WIDEST else _standing(floor, area, wide + CONTACT)


def _easily(floor: Floor, area: flat.Geometry) -> float:
    """Return how wide somebody is who fills the way out and has room to stand too.

    0 where there is none at the best of a few places.
    """
    west, south, east, north = area.bounds if floor.exits else (0.0,) * 4
    half = np.array([east - west, north - south]) / 2
    spots = (west, south) + half * (1 + _SIDES)
    flat.prepare(area)
    spots = spots[flat.intersects_xy(area, spots)]
    if not len(spots):
        return 0.0
    near = floor.features[1][_near(floor, area)]
    away = flat.distance(flat.points(spots)[:, None], near).min(axis=1)
    best = spots[[away.argmax()]]
    wide = min(float(floor.necks.ways_out(best)[0]), WIDEST)
    return wide if floor.has_room(best, wide)[0] else 0.0


def _standing(floor: Floor, area: flat.Geometry, clear: float) -> _Standing | None:
    """Return what is found where a person stands in an area and can leave.

    None where nobody can.

    Args:
        floor: The free floor.
        area: Free floor.
        clear: The width of the person, who keeps clear of everything, metres.
    """
    pieces = np.array(floor.pieces(area, clear), dtype=object)
    if not len(pieces) or not floor.exits:
        return None
    inner = flat.point_on_surface(pieces)
    ways = floor.necks.ways_out(flat.get_coordinates(inner))
    leads_out = ways > clear + CLOSE
    if not leads_out.any():
        return None
    kept = flat.multipolygons(pieces[leads_out].tolist())
    return _Standing(kept, float(ways.max()))


def _room_to_stand(floor: Floor, found: _Standing, high: float) -> float:
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
        wider = _standing(floor, found.area, low + _FINE)
        if wider is None:
            break
        found, low = wider, low + _FINE
        middle = (low + high) / 2
        wider = None
        if middle <= _most(floor, found.area):
            wider = _standing(floor, found.area, middle)
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


def _near(floor: Floor, area: flat.Geometry) -> NDArray[np.int64]:
    """Return what may be nearest to a point of an area, or of its bounds, by number."""
    _, shapes, tree = floor.features
    west, south, east, north = area.bounds
    corner = flat.Point(west, south)
    away = float(flat.distance(shapes[tree.nearest(corner)], corner))
    far = away + float(np.hypot(east - west, north - south))
    found: NDArray[np.int64] = tree.query(
        flat.box(west, south, east, north), predicate="dwithin", distance=far
    )
    return found


def _roomiest(floor: Floor, area: flat.Polygon, least: float) -> float:
    """Return how wide somebody may be who stands and leaves where most room is.

    It is looked for on ever finer grids about the best place of the one before.

    Args:
        floor: The free floor.
        area: Where somebody stands.
        least: Metres. Where it is no more for certain, 0 is returned.
    """
    near = floor.features[1][_near(floor, area)]
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
        spots = np.concatenate([middle + _SIDES * step, [best]])
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
