"""Searches that go on side by side, so that what they ask of a floor is asked together.

Each search asks for a place or a point, and goes on with the answer. Of many searches
each has its own widths, and nearly all of the time would go by between the calls.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

import numpy as np

from model3d.egress.ground.many import pieces_of_each
from model3d.egress.route.roomiest import roomiest_each
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.roomiest import Spot
    from model3d.geometry.frame import Corner


@dataclass(frozen=True, slots=True)
class RoomAsked:
    """Where a person has room in an area, and how wide each way out of there is.

    Attributes:
        area: Free floor.
        width: Of the person, who keeps clear of everything, metres.
    """

    area: flat.Geometry
    width: float


@dataclass(frozen=True, slots=True)
class Room:
    """The answer to that.

    Attributes:
        pieces: Where the person has room, in connected pieces.
        ways: How wide a way out of each may be, metres.
    """

    pieces: NDArray[np.object_]
    ways: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class WayOutAsked:
    """How wide the way out of a point is; the answer is metres."""

    point: Corner


@dataclass(frozen=True, slots=True)
class SpotAsked:
    """Where in an area somebody has most room; the answer is a ``Spot``.

    Attributes:
        area: Where somebody stands.
        least: Metres. Where there is no more for certain no room is found.
    """

    area: flat.Polygon
    least: float


_Found = TypeVar("_Found")

Search: TypeAlias = Generator[RoomAsked | SpotAsked | WayOutAsked, Any, _Found]
"""What asks, is sent the answer to each question, and returns what it found."""


def together(floor: Floor, searches: Sequence[Search[_Found]]) -> list[_Found]:
    """Carry out searches on one floor side by side; return what each finds."""
    found: dict[int, _Found] = {}
    answers: dict[int, object] = dict.fromkeys(range(len(searches)))
    while answers:
        rooms: dict[int, RoomAsked] = {}
        spots: dict[int, SpotAsked] = {}
        points: dict[int, WayOutAsked] = {}
        for number, answer in answers.items():
            try:
                asked = searches[number].send(answer)
            except StopIteration as end:
                found[number] = end.value
                continue
            if isinstance(asked, RoomAsked):
                rooms[number] = asked
            elif isinstance(asked, SpotAsked):
                spots[number] = asked
            else:
                points[number] = asked
        answers = {
            **_rooms(floor, rooms),
            **_spots(floor, spots),
            **_ways_out(floor, points),
        }
    return [found[number] for number in range(len(searches))]


def _rooms(floor: Floor, asked: dict[int, RoomAsked]) -> dict[int, Room]:
    if not asked:
        return {}
    areas = np.array([one.area for one in asked.values()], dtype=object)
    widths = np.array([one.width for one in asked.values()])
    pieces, of = pieces_of_each(floor, areas, widths)
    inner = flat.get_coordinates(flat.point_on_surface(pieces))
    ways = floor.necks.ways_out(inner)
    ends = np.searchsorted(of, np.arange(1, len(areas)))
    each = zip(np.split(pieces, ends), np.split(ways, ends), strict=True)
    return {number: Room(*one) for number, one in zip(asked, each, strict=True)}


def _spots(floor: Floor, asked: dict[int, SpotAsked]) -> dict[int, Spot]:
    if not asked:
        return {}
    areas = [one.area for one in asked.values()]
    found = roomiest_each(floor, areas, [one.least for one in asked.values()])
    return dict(zip(asked, found, strict=True))


def _ways_out(floor: Floor, asked: dict[int, WayOutAsked]) -> dict[int, float]:
    ways = floor.necks.ways_out([one.point for one in asked.values()])
    return dict(zip(asked, ways.tolist(), strict=True))
