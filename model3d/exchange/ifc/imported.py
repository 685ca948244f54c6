"""A place of a building as a scene: readable items, and what is no box as a mesh."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.building_place import standing_in
from model3d.exchange.ifc.doors import doors_of
from model3d.exchange.ifc.element import few
from model3d.exchange.ifc.file.georeference import turn_of
from model3d.exchange.ifc.gear.classes import LEFT_OUT, UNKNOWN, kind_of
from model3d.exchange.ifc.gear.ids import lacking
from model3d.exchange.ifc.gear.likely_front import (
    SURE,
    ElementBody,
    FrontedBox,
    stand_facing,
    yaw_of,
)
from model3d.exchange.ifc.gear.rating import rating_of
from model3d.exchange.ifc.gear.stated_front import slug_of, stand_among
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.files.mesh_parts import MeshPart
from model3d.geometry.plan.lines.ring import holds
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.units import from_metres

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.exchange.ifc.building_place import Location
    from model3d.exchange.ifc.element import Base, Building, Element, Points
    from model3d.exchange.ifc.gear.classes import ClassRow
    from model3d.geometry.plan.lines.enclosed import Turned

_DIGITS: Final = {"mm": 2, "m": 5, "in": 4, "ft": 5}
"""Finer than any tolerance, and no noise."""
_SAME: Final = 1e-4
"""Share of its box's volume by which a body may differ and be written as the box."""
_WORD: Final = {bearing: word for word, bearing in BEARING.items()}
_SURELY_IN: Final = 0.05
_DEEP: Final = 0.5
_LONGEST: Final = 100


@dataclass(frozen=True, slots=True)
class ModelWish:
    """What is asked for.

    Attributes:
        title, units, rules: Of the scene.
        mesh_file: The name of the file beside it that meshes go into.
        rows: The user's own rows of the table of classes.
        fronts: Bearings of fronts that the user knows, by tag, name or GlobalId.
        around: The element that is asked about.
        within: Metres around it beyond which nothing is taken; None for the whole
            place.
    """

    title: str
    units: str
    rules: str
    mesh_file: str
    rows: Sequence[ClassRow] = ()
    fronts: Mapping[str, float] = field(default_factory=dict)
    around: Element | None = None
    within: float | None = None


@dataclass
class Imported:
    """A scene from a building model.

    Attributes:
        data: The scene as plain data, without items.
        entries: Its items as plain data, each with notes for comments.
        parts: What goes into the mesh file.
        told: What a person must know: guesses, conflicts, what is left out.
    """

    data: dict[str, Any]
    entries: list[tuple[dict[str, Any], tuple[str, ...]]] = field(default_factory=list)
    parts: list[MeshPart] = field(default_factory=list)
    told: list[str] = field(default_factory=list)


class _Writing:
    """The state of writing one scene."""

    def __init__(self, building: Building, place: Location, wish: ModelWish) -> None:
        self.building, self.place, self.wish = building, place, wish
        xs, ys = zip(*place.outline, strict=True)
        self.origin = np.array([min(xs), min(ys), place.floor])
        self.kinds = {one.key: kind_of(one, wish.rows) for one in building.elements}
        self.bodies = [
            ElementBody(one, self.kinds[one.key] == "wall") for one in building.solids
        ]
        self.ids: set[str] = {"room"}
        self.found = Imported({})

    def length(self, metres: float) -> float:
        value = from_metres(float(metres), self.wish.units)
        return round(value, _DIGITS[self.wish.units]) + 0.0

    def name(self, element: Element) -> str:
        slug = name = slug_of(element)
        number = 1
        while name.casefold() in self.ids:
            number += 1
            name = f"{slug}-{number}"
        self.ids.add(name.casefold())
        return name

    def stand(self, element: Element) -> FrontedBox:
        return stand_among(element, self.bodies, self.wish.fronts)

    def is_gear(self, element: Element) -> bool:
        kind = self.kinds[element.key]
        return element is self.wish.around or (
            kind in KINDS and KINDS[str(kind)].needs_working_space
        )


def imported(building: Building, place: Location, wish: ModelWish) -> Imported:
    """Return a place of a building as a scene.

    Args:
        building: The models.
        place: What of it.
        wish: What is asked for.
    """
    writing = _Writing(building, place, wish)
    found = writing.found
    doors = [one for one in building.elements if one.is_a("IfcDoor")]
    room_doors = (
        [*doors_of(place.outline, place.floor, place.top, doors)]
        if place.bounded and wish.within is None
        else []
    )
    found.data = _data(writing, room_doors)
    through = {door.element.key for door in room_doors}
    stands = {
        one.key: writing.stand(one) for one in building.solids if writing.is_gear(one)
    }
    taken = {one.key for one in standing_in(place, building.solids)}
    taken |= {key for key, stand in stands.items() if _serves(place, stand)}
    if wish.around is not None:
        taken.add(wish.around.key)
    unknown: list[str] = []
    far = 0
    for one in building.solids:
        if one.key not in taken - through:
            continue
        kind = writing.kinds[one.key]
        if kind == LEFT_OUT:
            continue
        if not _is_within(wish, one):
            far += 1
            continue
        if kind is None:
            unknown.append(one.called)
        _write(writing, one, kind or UNKNOWN, stands.get(one.key))
    for number, hole in enumerate(place.holes, 1):
        _write_hole(writing, number, hole)
    _tell(writing, unknown, far)
    return found


def _data(writing: _Writing, room_doors: list[Any]) -> dict[str, Any]:
    place, length = writing.place, writing.length
    ox, oy, _ = writing.origin
    room: dict[str, Any] = {
        "outline": [[length(x - ox), length(y - oy)] for x, y in place.outline],
        "height": length(place.top - place.floor),
    }
    lines = []
    for door in room_doors:
        data = dict(door.data)
        for key in ("along", "width", "height", "sill"):
            if key in data:
                data[key] = length(data[key])
        name = writing.name(door.element)
        lines.append({"id": name, **data})
        writing.found.told += [f"{name}: {note}" for note in door.notes]
    if lines:
        room["doors"] = lines
    return {
        "title": writing.wish.title,
        "units": writing.wish.units,
        "rules": writing.wish.rules,
        "origin": _metres(writing.origin),
        "frames": [_frame(base, writing.origin) for base in writing.building.bases],
        "room": room,
    }


def _metres(point: Points) -> list[str]:
    return [f"{round(float(one), 6) + 0.0:.14g} m" for one in point]


def _frame(base: Base, origin: Points) -> dict[str, Any]:
    at = base.matrix[:3, :3] @ origin + base.matrix[:3, 3]
    turn = round(turn_of(base.matrix), 9) + 0.0
    said: dict[str, Any] = {**base.said, "origin": _metres(at)}
    return {**said, "turn": turn} if turn else said


def _serves(place: Location, stand: FrontedBox) -> bool:
    """Tell whether whoever works at some gear, let into a wall too, stands here."""
    high = stand.bottom + stand.size[2]
    level = place.floor - _SURELY_IN <= high and stand.bottom <= place.top
    return level and holds(place.outline, stand.ahead)


def _is_within(wish: ModelWish, element: Element) -> bool:
    if wish.within is None or wish.around is None:
        return True
    low = wish.around.points.min(axis=0) - wish.within
    high = wish.around.points.max(axis=0) + wish.within
    return bool(
        (element.points.min(axis=0) <= high).all()
        and (element.points.max(axis=0) >= low).all()
    )


def _write(
    writing: _Writing, element: Element, kind: str, stand: FrontedBox | None
) -> None:
    name = writing.name(element)
    entry: dict[str, Any] = {"id": name, "kind": kind}
    if element.called != name:
        entry["name"] = element.called[:_LONGEST]
    notes: list[str] = []
    if stand is not None:
        entry |= _placed(writing, stand) | _part(writing, element, stand)
        if KINDS[kind].associated:
            rating = rating_of(element)
            if rating.supply:
                entry["supply"] = rating.supply
            notes += rating.notes
        if stand.margin < SURE:
            side = _WORD.get(stand.bearing, f"{stand.bearing:g} degrees")
            notes.append(
                f"front not sure (margin {stand.margin:.2f}, sure from {SURE}): taken "
                f"as {side}; say --front {name}=SIDE"
            )
    elif (box := _as_box(element)) is not None:
        entry |= _placed(writing, box)
    else:
        entry |= _part(writing, element, None)
    entry["guid"] = element.guid
    if element.tag:
        entry["tag"] = element.tag[:_LONGEST]
    writing.found.entries.append((entry, tuple(notes)))
    writing.found.told += [f"{name}: {note}" for note in notes]
    if stand is not None and (lacks := lacking(element, kind)):
        writing.found.told.append(f"{name}: the model does not say {', '.join(lacks)}")


def _write_hole(writing: _Writing, number: int, hole: Turned) -> None:
    """Write what is open of the floor as a pit; how deep it is bears on nothing."""
    (deep, wide), (x, y), (ox, oy, _) = hole.sides, hole.middle, writing.origin
    name = f"pit-{number}"
    while name.casefold() in writing.ids:
        name += "-floor"
    writing.ids.add(name.casefold())
    bearing = round(hole.bearing, 6)
    entry = {
        "id": name,
        "kind": "pit",
        "size": [writing.length(one) for one in (wide, deep, _DEEP)],
        "place": {
            "at": [writing.length(x - ox), writing.length(y - oy)],
            "facing": _WORD.get(bearing, bearing),
        },
    }
    note = "the model has no floor here: fill it in, or take this away, if there is one"
    writing.found.entries.append((entry, (note,)))
    writing.found.told.append(f"{name}: {note}")


def _placed(writing: _Writing, stand: FrontedBox) -> dict[str, Any]:
    x, y = stand.middle
    ox, oy, oz = writing.origin
    bearing = round(stand.bearing, 6) % 360
    return {
        "size": [writing.length(one) for one in stand.size],
        "place": {
            "at": [writing.length(x - ox), writing.length(y - oy)],
            "facing": _WORD.get(bearing, bearing),
            "bottom": writing.length(stand.bottom - oz),
        },
    }


def _as_box(element: Element) -> FrontedBox | None:
    """Return an element as a box, where it is one."""
    if not Mesh(element.points, element.faces).measurable:
        return None
    box = stand_facing(element, (yaw_of(element) + 180) % 360)
    volume = float(np.prod(box.size))
    a, b, c = element.points[element.faces].transpose(1, 0, 2)
    own = abs(
        float(np.einsum("ij,ij->i", a - a[0], np.cross(b - a[0], c - a[0])).sum())
    )
    return box if abs(own / 6 - volume) <= _SAME * volume else None


def _part(
    writing: _Writing, element: Element, stand: FrontedBox | None
) -> dict[str, Any]:
    taken = {part.name for part in writing.found.parts}
    name, number = element.guid, 1
    while name in taken:
        number += 1
        name = f"{element.guid}-{number}"
    if stand is None:
        points = element.points - writing.origin
    else:
        # To the right, from the front to the back, and up.
        points = stand.frame.local(element.points) * (1.0, -1.0, 1.0)
        points[:, 2] -= stand.bottom
    extras = {
        "guid": element.guid,
        "ifcClass": element.classes[0],
        "name": element.name,
        "storey": element.storey,
    }
    writing.found.parts.append(MeshPart(name, points, element.faces, extras=extras))
    return {"mesh": writing.wish.mesh_file, "part": name}


def _tell(writing: _Writing, unknown: list[str], far: int) -> None:
    found, place, wish = writing.found, writing.place, writing.wish
    found.told += (*writing.building.notes, *place.notes)
    if unknown:
        said = f"kind not known, taken as obstacle: {len(unknown)} ({few(unknown)})"
        found.told.append(f"{said}; --mapping may say it")
    if wish.within is not None:
        found.told.append(
            f"left out beyond --within: {far}; the room's doors too, so that ways out "
            "are open questions"
        )
    gear = [
        one
        for one in writing.building.elements
        if writing.kinds[one.key] in KINDS and writing.is_gear(one)
    ]
    if flat := [one.called for one in gear if not one.meshed]:
        said = f"gear without a solid shape in the model, left out: {few(flat)}"
        found.told.append(said)
    written = {entry.get("guid") for entry, _ in found.entries}
    elsewhere = [one.called for one in gear if one.meshed and one.guid not in written]
    if elsewhere and len(elsewhere) == sum(one.meshed for one in gear):
        found.told.append(f"no gear is here; elsewhere in the model: {few(elsewhere)}")
