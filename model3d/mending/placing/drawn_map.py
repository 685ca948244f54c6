"""A map of free places as it lies on the floor, to be drawn: plain plan shapes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.mending.map.free import Free
    from model3d.mending.placing.answer import PlaceAnswer

Ring = tuple["Corner", ...]


@dataclass(frozen=True, slots=True)
class WallStretch:
    """Part of a wall along which an item may be put.

    Attributes:
        wall: The wall's name.
        along: From where to where its left side may be, as a scene writes it, metres.
        ends: The middle of the item at both ends, on the wall's inner face.
        inwards: A unit vector from the wall into the room.
    """

    wall: str
    along: tuple[float, float]
    ends: tuple[Corner, Corner]
    inwards: Corner


@dataclass(frozen=True, slots=True)
class FloorPlaces:
    """Where the middle of an item may be, in plan, metres.

    Attributes:
        item: Its id.
        stretches: Along the walls.
        triangles: Of the floor; together they cover what is free, and no more.
        rings: Of the floor: the edges of what is free, each closed.
        best: The corners of the item at the best place; empty where there is none.
    """

    item: str
    stretches: tuple[WallStretch, ...]
    triangles: tuple[Ring, ...]
    rings: tuple[Ring, ...]
    best: Ring


def ground(found: PlaceAnswer) -> FloorPlaces:
    """Return the map of an item as it lies on the floor."""
    places = found.places
    walls = [one for one in places.maps if one.stance.on_wall]
    areas = [_area(one) for one in places.maps if not one.stance.on_wall]
    return FloorPlaces(
        places.item,
        tuple(stretch for one in walls for stretch in _stretches(one)),
        tuple(corners for area in areas for corners in _triangles(area)),
        tuple(ring for area in areas for ring in _rings(area)),
        _best(found),
    )


def _stretches(free: Free) -> Iterator[WallStretch]:
    wall, half = free.stance.wall, free.stance.size.width / 2
    if wall is None:
        return
    for low, high in free.intervals:
        ends = wall.frame.to_plan(low + half, 0.0), wall.frame.to_plan(high + half, 0.0)
        yield WallStretch(wall.name, (low, high), ends, wall.frame.out)


def _area(free: Free) -> flat.Geometry:
    """Return the places of the footprint's middle, without hairs between two bars.

    A part that is a hair itself stays: there the item just fits.
    """
    parts: list[flat.Geometry] = []
    for part in flat.get_parts(free.area):
        wide = part.buffer(-_HAIR, join_style="mitre")
        wide = wide.buffer(_HAIR, join_style="mitre").intersection(part)
        parts += [part] if wide.is_empty else flat.get_parts(wide).tolist()
    areas = [part for part in parts if part.area > 0]
    return flat.transform(flat.union_all(areas), lambda by: by + free.stance.middle)


_HAIR: Final = 5e-4
"""Metres. Half of what is too narrow to be drawn."""


def _triangles(area: flat.Geometry) -> Iterator[Ring]:
    for part in flat.get_parts(flat.constrained_delaunay_triangles(area)):
        yield _ring(part.exterior)[:-1]


def _rings(area: flat.Geometry) -> Iterator[Ring]:
    for part in flat.get_parts(area):
        if part.area > 0:
            yield _ring(part.exterior)
            yield from (_ring(one) for one in part.interiors)


def _ring(line: flat.Geometry) -> Ring:
    return tuple((float(x), float(y)) for x, y in flat.get_coordinates(line))


def _best(found: PlaceAnswer) -> Ring:
    if found.best is None:
        return ()
    posed = found.places.maps[0].posed
    front = posed.at(found.best.place).arrangement.items[posed.name].front
    if front is None:
        return ()
    corners = ((0.0, 0.0), (front.width, 0.0))
    back = ((front.width, -front.depth), (0.0, -front.depth))
    return tuple(front.frame.to_plan(u, v) for u, v in (*corners, *back))
