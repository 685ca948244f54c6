"""Entries of a scene from a building: readable items, what is no box as a mesh."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.gear.classes import kind_of
from model3d.exchange.ifc.gear.ids import lacking
from model3d.exchange.ifc.gear.likely_front import (
    SURE,
    ElementBody,
    FrontedBox,
    stand_facing,
    yaw_of,
)
from model3d.exchange.ifc.gear.rating import rating_of
from model3d.exchange.ifc.gear.rooms_ahead import ModelledRoom, rooms_of
from model3d.exchange.ifc.gear.stated_front import slug_of, stand_among
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.files.mesh_parts import MeshPart
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.units import from_metres

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.exchange.ifc.building_place import Location
    from model3d.exchange.ifc.element import Building, Element
    from model3d.exchange.ifc.gear.classes import ClassRow
    from model3d.geometry.plan.lines.enclosed import Turned

_DIGITS: Final = {"mm": 2, "m": 5, "in": 4, "ft": 5}
"""Finer than any tolerance, and no noise."""
_SAME: Final = 1e-4
"""Share of its box's volume by which a body may differ and be written as the box."""
_WORD: Final = {bearing: word for word, bearing in BEARING.items()}
_DEEP: Final = 0.5
_LONGEST: Final = 100


_BY_LINES: Final = (
    "drawn by lines alone: taken as the most that it may be, and open where it bears "
    "on anything; say its size, and take uncertain away"
)
_BY_BOX: Final = (
    "its body cannot be read: taken as the box around it, the most that it may be, and "
    "open where it bears on anything; say its size, and take uncertain away"
)
_NO_FRONT: Final = (
    "the working space at it is not judged without its size and its front"
)


@dataclass(frozen=True, slots=True)
class ModelWish:
    """What is asked for.

    Attributes:
        title, units, rules: Of the scene.
        mesh_file: The name of the file beside it that meshes go into.
        rows: The user's own rows of the table of classes.
        fronts: Bearings of fronts that the user knows, by tag, name or GlobalId.
        around: The element that is asked about.
        within: Metres beyond its required space from where on nothing is taken; None
            for the whole place.
        deepest: Metres of the deepest required space that it, or other gear, can have.
    """

    title: str
    units: str
    rules: str
    mesh_file: str
    rows: Sequence[ClassRow] = ()
    fronts: Mapping[str, float] = field(default_factory=dict)
    around: Element | None = None
    within: float | None = None
    deepest: float = 0.0


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


class Writing:
    """The state of writing one scene."""

    def __init__(self, building: Building, place: Location, wish: ModelWish) -> None:
        """Begin a scene of a place of a building, without entries."""
        self.building, self.place, self.wish = building, place, wish
        xs, ys = zip(*place.outline, strict=True)
        self.origin = np.array([min(xs), min(ys), place.floor])
        self.kinds = {one.key: kind_of(one, wish.rows) for one in building.elements}
        self.bodies = [
            ElementBody(one, self.kinds[one.key] == "wall") for one in building.solids
        ]
        self.rooms = rooms_of(building.spaces)
        space = place.of if place.bounded else None
        self.asked = ModelledRoom(space) if space is not None else None
        self.ids: set[str] = {"room"}
        self.found = Imported({})

    def length(self, metres: float) -> float:
        """Return a length as the scene writes it."""
        value = from_metres(float(metres), self.wish.units)
        return round(value, _DIGITS[self.wish.units]) + 0.0

    def free(self, slug: str) -> str:
        """Return an id that nothing has yet, and keep it."""
        name, number = slug, 1
        while name.casefold() in self.ids:
            number += 1
            name = f"{slug}-{number}"
        self.ids.add(name.casefold())
        return name

    def stand(self, element: Element) -> FrontedBox:
        """Return how gear stands, and where its front is."""
        fronts = self.wish.fronts
        return stand_among(element, self.bodies, fronts, self.rooms, self.asked)

    def is_gear(self, element: Element) -> bool:
        """Tell whether people work at an element, or it is asked about."""
        kind = self.kinds[element.key]
        return element is self.wish.around or (
            kind in KINDS and KINDS[str(kind)].needs_working_space
        )


def write_element(
    writing: Writing, element: Element, kind: str, stand: FrontedBox | None
) -> None:
    """Write an element, as gear where it is told how it stands, and what is guessed."""
    name = writing.free(slug_of(element))
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
    if element.drawn is not None or element.most is not None:
        entry["uncertain"] = True
        said = _BY_BOX if element.drawn is None else _BY_LINES
        notes.append(f"{said}; {_NO_FRONT}" if writing.is_gear(element) else said)
    entry["guid"] = element.guid
    if element.tag:
        entry["tag"] = element.tag[:_LONGEST]
    writing.found.entries.append((entry, tuple(notes)))
    writing.found.told += [f"{name}: {note}" for note in notes]
    if stand is not None and (lacks := lacking(element, kind)):
        writing.found.told.append(f"{name}: the model does not say {', '.join(lacks)}")


def write_hole(writing: Writing, number: int, hole: Turned) -> None:
    """Write what is open of the floor as a pit; how deep it is bears on nothing."""
    (deep, wide), (x, y), (ox, oy, _) = hole.sides, hole.middle, writing.origin
    name = writing.free(f"pit-{number}")
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


def _placed(writing: Writing, stand: FrontedBox) -> dict[str, Any]:
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
    writing: Writing, element: Element, stand: FrontedBox | None
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
