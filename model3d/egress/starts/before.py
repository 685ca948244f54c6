"""Where people stand before fronts who have lost their way out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.many import pieces_each
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.starts.start import SAME, Start
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from model3d.egress.doors.joint_front import Row
    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.stand import Stand
    from model3d.egress.starts.start import Asked
    from model3d.geometry.frame import Corner

_SPOT: Final = 1e-9
"""Square metres. A place that is smaller is rounding."""


def standing(asked: Asked, opened: OpenFloor, stands: list[Stand]) -> list[Start]:
    """Return the places before fronts that have lost their way out.

    What lies beyond a leaf is not asked, at an end of the row or ahead of the leaf's
    tip: people are before the front, and leave by that leaf's free side.
    """
    return standing_each([asked], opened, [stands])[0]


def standing_each(
    asked: Sequence[Asked], opened: OpenFloor, stands: Sequence[list[Stand]]
) -> list[list[Start]]:
    """Return the same for some rows of which the same is asked.

    Args:
        asked: Of each row.
        opened: The floor with the open leaves on it.
        stands: Of each row.
    """
    shut, clear = asked[0].shut, asked[0].width - CONTACT
    areas = [before_fronts(one, some) for one, some in zip(asked, stands, strict=True)]
    left = _standing_rooms(areas, opened.floor, clear)
    places = []
    had = _had_before(areas, left, opened, shut, clear)
    for here, some in zip(asked, had, strict=True):
        hung = _hung(here, opened) if some else None
        places.append([one for one in some if hung and not hung.is_past(one, clear)])
    inner = [inner_points(some) for some in places]
    ways = WaysPast(opened, asked[0].width, pockets=True)
    found = iter(ways.out_of([at for some in inner for at in some], clear + SAME))
    return [
        [
            Start(at, way, ways, place)
            for at, place, way in zip(spots, some, found, strict=False)
            if way.width <= clear + SAME
        ]
        for spots, some in zip(inner, places, strict=True)
    ]


def _had_before(
    areas: Sequence[list[flat.Geometry]],
    left: Sequence[list[flat.Polygon]],
    opened: OpenFloor,
    shut: Floor,
    clear: float,
) -> Iterator[list[flat.Polygon]]:
    """Yield where people are who had a way out with the doors shut, before each row."""
    for area, had in zip(areas, _leading_out(shut, left, clear), strict=True):
        if had:
            yield had
            continue
        # Where nobody has room with the doors open, somebody is there nevertheless.
        pieces = [one for some in area for one in shut.pieces(some, clear)]
        (left_out,) = _leading_out(shut, [pieces], clear)
        free = map(opened.floor.free, left_out)
        yield [one for one in free if one.area > _SPOT]


@dataclass(frozen=True, slots=True)
class _Hung:
    """The leaves of a row as they are seen from its front.

    Attributes:
        row: The gear.
        tips: Where they end, along the front and ahead of it, metres, shape (n, 2).
        feet: Where those that open far enough hang, along the front, metres.
        square: Which of those open to a right angle.
    """

    row: Row
    tips: NDArray[np.float64]
    feet: NDArray[np.float64]
    square: NDArray[np.bool_]

    def is_past(self, area: flat.Geometry, width: float) -> bool:
        """Tell whether a place is that of somebody beyond an open leaf of the row.

        Who stands there does not touch the front. Either he is further ahead of it than
        the leaf's tip, or he comes up to the end of the row at which the leaf hangs,
        and is no further before it than the middle of a way to the leaf's tip that is
        too narrow. Beyond a leaf that stops at less than a right angle there is room
        before the front.

        Args:
            area: Where the middle of a person may be.
            width: Of the person, metres.
        """
        frame = self.row.frame
        step = flat.get_coordinates(area) - (frame.x, frame.y)
        along, ahead = step @ frame.right, step @ frame.out
        if ahead.min() <= width / 2 + CONTACT:
            return False
        beside = self.tips
        beside = beside[beside[:, 0] > along.min() - width / 2]
        beside = beside[beside[:, 0] < along.max() + width / 2]
        most = beside[:, 1].max(initial=math.inf if not len(beside) else 0.0)
        if ahead.min() > most:
            return True
        wide = self.row.width
        for inside, foot in ((along, self.feet), (wide - along, wide - self.feet)):
            reach = foot + self.square * (width / 2)
            edge = reach[foot < BODY].max(initial=-math.inf)
            if inside.min() <= CONTACT and inside.max() <= edge:
                return True
        return False


def _hung(asked: Asked, opened: OpenFloor) -> _Hung:
    """Return the leaves of a row, once for all places before it.

    Args:
        asked: What is asked of the row.
        opened: The floor with the open leaves on it.
    """
    row = asked.row
    frame = row.frame
    own = opened.own(row, asked.ways.rows)
    tips = np.array([frame.to_frame(*leaf.frame.to_plan(*leaf.tip)) for leaf in own])
    # A leaf that something stops leaves room before the front on its far side too.
    opens = [leaf for leaf in own if leaf.tip[1] > BODY]
    feet = np.array([frame.to_frame(one.frame.x, one.frame.y)[0] for one in opens])
    square = np.array([one.tip[0] <= CONTACT for one in opens], dtype=bool)
    return _Hung(row, tips.reshape(-1, 2), feet, square)


def before_fronts(asked: Asked, stands: list[Stand]) -> list[flat.Geometry]:
    """Return the free floor before the fronts, with the doors shut."""
    return [
        flat.intersection(asked.ways.standing(stand, asked.shut), stand.before)
        for stand in stands
    ]


def standing_room(
    areas: list[flat.Geometry], floor: Floor, clear: float
) -> list[flat.Polygon]:
    """Return where in some areas the middle of somebody of a width can be."""
    return _standing_rooms([areas], floor, clear)[0]


def _standing_rooms(
    areas: Sequence[list[flat.Geometry]], floor: Floor, clear: float
) -> list[list[flat.Polygon]]:
    """Return the same for some lists of areas."""
    row = np.repeat(np.arange(len(areas)), [len(some) for some in areas])
    every = np.array([one for some in areas for one in some], dtype=object)
    pieces, of = pieces_each(floor, every, clear)
    found: list[list[flat.Polygon]] = [[] for _ in areas]
    large = flat.area(pieces) > _SPOT
    for number, piece in zip(row[of[large]].tolist(), pieces[large], strict=True):
        found[number].append(piece)
    return found


def _leading_out(
    floor: Floor, pieces: Sequence[list[flat.Polygon]], clear: float
) -> list[list[flat.Polygon]]:
    """Return of some lists of places those from which a way leads out."""
    if not floor.exits:
        return [[] for _ in pieces]
    if floor.swinging:
        return [
            [
                one
                for one in some
                if any(part.exits for _, part in floor.places(one, clear))
            ]
            for some in pieces
        ]
    every = [one for some in pieces for one in some]
    wide = iter((floor.necks.ways_out(inner_points(every)) > clear + SAME).tolist())
    return [
        [one for one, leads in zip(some, wide, strict=False) if leads]
        for some in pieces
    ]


def inner_points(areas: Sequence[flat.Geometry]) -> list[Corner]:
    """Return a point within each of some areas."""
    points = flat.point_on_surface(np.array([*areas], dtype=object))
    return [(float(point.x), float(point.y)) for point in points.tolist()]
