"""Where somebody stands who can leave, and how wide that way is at first sight."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.doors.exits import BODY, WIDEST
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import pieces_each
from model3d.egress.route.path import CLOSE
from model3d.egress.route.roomiest import SIDES, bodies_near_each, distances
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor

    Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Standing:
    """Somebody who stands in an area and can leave.

    Attributes:
        area: Where somebody of the width does.
        way: How wide a way out may be, metres; infinite where nothing narrows it.
    """

    area: flat.MultiPolygon
    way: float


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What is quickly found of an area from which a way is looked for.

    Attributes:
        wide: How wide somebody is who fills the way out and has room to stand too at
            the best of a few places, metres; 0 where there is none.
        wider: Where somebody stands who is wider, or where that is no way, who is as
            wide as a way must be, and leaves; None where nobody does.
    """

    wide: float
    wider: Standing | None


def first_look_each(
    floor: Floor, areas: NDArray[np.object_], least: float = BODY
) -> list[FirstLook]:
    """Return what is quickly found of each of some areas.

    Args:
        floor: The free floor.
        areas: Free floor.
        least: What is narrower is no way, metres.
    """
    wide = _easily_each(floor, areas) if floor.exits else np.zeros(len(areas))
    # Wider by more than contact, as ``_wider`` has it.
    clear = np.where(wide < least, least - CONTACT, wide + CONTACT)
    found: list[Standing | None] = [None] * len(areas)
    for one in np.unique(clear[(wide < WIDEST) & bool(floor.exits)]).tolist():
        some = ((clear == one) & (wide < WIDEST)).nonzero()[0]
        standing = standing_each(floor, areas[some], one)
        for number, where in zip(some.tolist(), standing, strict=True):
            found[number] = where
    return [FirstLook(*both) for both in zip(wide.tolist(), found, strict=True)]


def _easily_each(floor: Floor, areas: NDArray[np.object_]) -> Points:
    """Return how wide somebody is who fills the way out and has room to stand too.

    0 where there is none at the best of a few places.
    """
    best = np.zeros((len(areas), 2))
    found = np.zeros(len(areas), dtype=bool)
    flat.prepare(areas)
    some = (~flat.is_empty(areas)).nonzero()[0]
    low, high = flat.bounds(areas[some]).reshape(-1, 2, 1, 2).transpose(1, 0, 2, 3)
    spots = low + (high - low) / 2 * (1 + SIDES)
    inside = flat.intersects_xy(areas[some, None], spots[..., 0], spots[..., 1])
    counts = inside.sum(axis=1)
    of, number = bodies_near_each(floor, areas[some])
    away = distances(spots[inside], counts, floor.features[1][number], of)
    ends = np.concatenate([[0], counts.cumsum()]).tolist()
    for one, places, within, (first, last) in zip(
        some.tolist(), spots, inside, pairwise(ends), strict=True
    ):
        if first < last:
            best[one] = places[within][away[first:last].argmax()]
            found[one] = True
    wide = np.zeros(len(areas))
    wide[found] = np.minimum(floor.necks.ways_out(best[found]), WIDEST)
    for one in np.unique(wide[found]).tolist():
        some = (found & (wide == one)).nonzero()[0]
        wide[some[~floor.has_room(best[some], one)]] = 0.0
    return wide


def standing(floor: Floor, area: flat.Geometry, clear: float) -> Standing | None:
    """Return what is found where a person stands in an area and can leave.

    None where nobody can.

    Args:
        floor: The free floor.
        area: Free floor.
        clear: The width of the person, who keeps clear of everything, metres.
    """
    if not floor.exits:
        return None
    pieces = np.array(floor.pieces(area, clear), dtype=object)
    if not len(pieces):
        return None
    inner = flat.get_coordinates(flat.point_on_surface(pieces))
    return leaving(pieces, floor.necks.ways_out(inner), clear)


def standing_each(
    floor: Floor, areas: NDArray[np.object_], clear: float
) -> list[Standing | None]:
    """Return the same of each of some areas."""
    pieces, of = pieces_each(floor, areas, clear)
    inner = flat.get_coordinates(flat.point_on_surface(pieces))
    ways = floor.necks.ways_out(inner)
    ends = np.searchsorted(of, np.arange(len(areas) + 1)).tolist()
    return [
        leaving(pieces[low:high], ways[low:high], clear) for low, high in pairwise(ends)
    ]


def leaving(pieces: NDArray[np.object_], ways: Points, clear: float) -> Standing | None:
    """Return the pieces from which a way leads out; None where none does."""
    leads_out = ways > clear + CLOSE
    if not leads_out.any():
        return None
    kept = flat.multipolygons(pieces[leads_out].tolist())
    return Standing(kept, float(ways.max()))
