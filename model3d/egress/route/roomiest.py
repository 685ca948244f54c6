"""Where in a free area somebody has most room, on ever finer grids."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.geometry.frame import Corner

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]
    Shapes = NDArray[np.object_]

SIDES: Final = np.stack(
    np.meshgrid(np.linspace(-1.0, 1.0, 7), np.linspace(-1.0, 1.0, 7)), axis=-1
).reshape(-1, 2)
"""Where that is looked for, of a way to either side."""

FINE: Final = 1e-5
"""Metres. How closely it is searched how much room a person has to stand."""

_ROUNDING: Final = 1e-9
"""Metres. Computed distances may be off by less."""

_CLOSER: Final = 0.36
"""How much nearer to the best place it is looked for the next time."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place where somebody stands.

    Attributes:
        at: In plan.
        room: How far away the nearest body is, metres; 0 where no place was found.
    """

    at: Corner
    room: float


@dataclass(slots=True)
class _Grid:
    """A grid about the best place so far, as far as it reaches to either side."""

    middle: Points
    step: Points
    at: Corner
    room: float
    least: float

    @property
    def reach(self) -> float:
        return math.hypot(*self.step)


def roomiest_each(
    floor: Floor, areas: Sequence[flat.Polygon], least: Sequence[float]
) -> list[Spot]:
    """Return where in each of some areas somebody stands who has most room.

    Args:
        floor: The free floor.
        areas: Where somebody stands.
        least: For each, metres; where there is no more for certain no place is found.
    """
    shapes = np.array([*areas], dtype=object)
    flat.prepare(shapes)
    grids = [_first(*one) for one in zip(areas, least, strict=True)]
    of, number = bodies_near_each(floor, shapes)
    bodies = floor.features[1][number]
    open_ones = np.arange(len(grids))
    while len(open_ones):
        going = [grids[one] for one in open_ones.tolist()]
        middles = np.array([one.middle for one in going])
        reach = np.array([one.reach for one in going])
        # Nobody has more room than in the middle and the way from there.
        to_middle = flat.distance(bodies, flat.points(middles)[of])
        most = _least_of_each(to_middle, of, len(going)) + 2 * reach + _ROUNDING
        kept = to_middle <= most[of]
        bodies, of = bodies[kept], of[kept]
        room = np.array([one.room for one in going])
        least_room = 2 * (most - reach)
        still = (room > 0) | (least_room > [one.least for one in going])
        bodies, of, open_ones = _only(still, bodies, of, open_ones)
        going = [grids[one] for one in open_ones.tolist()]
        _refine(going, shapes[open_ones], bodies, of)
        still = np.array([max(one.step) > FINE / 4 for one in going], dtype=bool)
        bodies, of, open_ones = _only(still, bodies, of, open_ones)
    return [Spot(one.at, one.room) for one in grids]


def _only(
    still: Flags, bodies: Shapes, of: Numbers, open_ones: Numbers
) -> tuple[Shapes, Numbers, Numbers]:
    """Return the bodies of those areas alone that are still looked at, and those."""
    kept = still[of]
    return bodies[kept], (np.cumsum(still) - 1)[of[kept]], open_ones[still]


def _first(area: flat.Polygon, least: float) -> _Grid:
    west, south, east, north = area.bounds
    middle = np.array([west + east, south + north]) / 2
    step = np.array([east - west, north - south]) / 2
    x, y = area.representative_point().coords[0]
    return _Grid(middle, step, (x, y), 0.0, least)


def _refine(going: list[_Grid], areas: Shapes, bodies: Shapes, of: Numbers) -> None:
    """Look at the places of each grid, and go on about the best of them."""
    if not going:
        return
    spots = np.array(
        [np.concatenate([one.middle + SIDES * one.step, [one.at]]) for one in going]
    )
    inside = flat.intersects_xy(areas[:, None], spots[..., 0], spots[..., 1])
    away = distances(spots[inside], inside.sum(axis=1), bodies, of)
    ends = np.concatenate([[0], inside.sum(axis=1).cumsum()]).tolist()
    for one, places, within, (low, high) in zip(
        going, spots, inside, pairwise(ends), strict=True
    ):
        if low < high:
            here = int(away[low:high].argmax())
            if away[low + here] >= one.room:
                x, y = places[within][here].tolist()
                one.at, one.room = (x, y), float(away[low + here])
        one.middle, one.step = np.array(one.at), one.step * _CLOSER


def distances(spots: Points, counts: Numbers, bodies: Shapes, of: Numbers) -> Points:
    """Return how far the nearest body is from each of some points, metres.

    Args:
        spots: Those of each area one after another, shape (n, 2).
        counts: How many each area has.
        bodies: Those of each area one after another; each area has some.
        of: Of which area each is, rising.
    """
    area = np.repeat(np.arange(len(counts)), counts)
    many = np.bincount(of, minlength=len(counts))
    first = np.cumsum(many) - many
    each = many[area]
    starts = np.cumsum(each) - each
    body = np.arange(each.sum()) - np.repeat(starts - first[area], each)
    away = flat.distance(np.repeat(flat.points(spots), each), bodies[body])
    found: Points = np.minimum.reduceat(away, starts) if len(starts) else np.zeros(0)
    return found


def bodies_near_each(floor: Floor, areas: Shapes) -> tuple[Numbers, Numbers]:
    """Return what may be nearest to a point of each area, or of its bounds.

    Returns:
        Of which area each is, rising, and its number among the features of the floor.
    """
    _, shapes, tree = floor.features
    west, south, east, north = flat.bounds(areas).T
    corners = flat.points(west, south)
    away = flat.distance(shapes[tree.nearest(corners)], corners)
    far = away + np.hypot(east - west, north - south)
    boxes = flat.box(west, south, east, north)
    of, number = tree.query(boxes, predicate="dwithin", distance=far)
    return of, number


def _least_of_each(values: Points, of: Numbers, count: int) -> Points:
    found = np.full(count, np.inf)
    np.minimum.at(found, of, values)
    return found
