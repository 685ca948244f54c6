"""A place of a building as a scene."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.ifc.building_place import standing_in
from model3d.exchange.ifc.doors import doors_of
from model3d.exchange.ifc.element import few
from model3d.exchange.ifc.file.georeference import turn_of
from model3d.exchange.ifc.gear.classes import LEFT_OUT, UNKNOWN
from model3d.exchange.ifc.gear.stated_front import slug_of
from model3d.exchange.ifc.left_unread import left_unread
from model3d.exchange.ifc.line_bodies import most_in
from model3d.exchange.ifc.reach import within_reach
from model3d.exchange.ifc.scene_entries import Writing, write_element, write_hole
from model3d.geometry.plan.lines.ring import holds
from model3d.scene.kinds import KINDS

if TYPE_CHECKING:
    from model3d.exchange.ifc.building_place import Location
    from model3d.exchange.ifc.element import Base, Building, Element, Points
    from model3d.exchange.ifc.gear.likely_front import FrontedBox
    from model3d.exchange.ifc.scene_entries import Imported, ModelWish

_SURELY_IN: Final = 0.05


def imported(building: Building, place: Location, wish: ModelWish) -> Imported:
    """Return a place of a building as a scene.

    Args:
        building: The models.
        place: What of it.
        wish: What is asked for.
    """
    writing = Writing(building, place, wish)
    found = writing.found
    doors = [one for one in building.elements if one.is_a("IfcDoor")]
    walls = [body for body in writing.bodies if body.wall]
    room_doors = (
        [*doors_of(place.outline, place.floor, place.top, doors, walls)]
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
    taken = {one for one in taken - through if writing.kinds[one] != LEFT_OUT}
    here = [one for one in building.solids if one.key in taken]
    lines = most_in(building, place, writing.kinds)
    here += [one for one in lines if writing.kinds[one.key] != LEFT_OUT]
    taken |= {one.key for one in here}
    if wish.around is not None and wish.within is not None:
        reach = wish.deepest + wish.within
        taken = within_reach(here, wish.around, reach, stands.keys(), wish.deepest)
    far = len(here) - len(taken)
    for one in here:
        if one.key not in taken:
            continue
        kind = writing.kinds[one.key]
        if kind is None:
            unknown.append(one.called)
        if (one.drawn is not None or one.most is not None) and writing.is_gear(one):
            kind = UNKNOWN  # nobody knows where its front is
        write_element(writing, one, kind or UNKNOWN, stands.get(one.key))
    for number, hole in enumerate(place.holes, 1):
        write_hole(writing, number, hole)
    if lost := left_unread(writing):
        found.data["not_read"] = lost
    _tell(writing, unknown, far)
    return found


def _data(writing: Writing, room_doors: list[Any]) -> dict[str, Any]:
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
        name = writing.free(slug_of(door.element))
        lines.append({"id": name, **data})
        writing.found.told += [f"{name}: {note}" for note in door.notes]
    if lines:
        room["doors"] = lines
    return {
        "title": writing.wish.title,
        "units": writing.wish.units,
        "rules": writing.wish.rules,
        "origin": _metres(writing.origin),
        "frames": [
            _frame(
                base, writing.origin, place.of if number == _model_of(place) else None
            )
            for number, base in enumerate(writing.building.bases)
        ],
        "room": room,
    }


def _metres(point: Points) -> list[str]:
    return [*map(_metre, point)]


def _metre(length: float) -> str:
    return f"{round(float(length), 6) + 0.0:.14g} m"


def _model_of(place: Location) -> int | None:
    return None if place.of is None else place.of.key[0]


def _frame(base: Base, origin: Points, there: Element | None) -> dict[str, Any]:
    at = base.matrix[:3, :3] @ origin + base.matrix[:3, 3]
    turn = round(turn_of(base.matrix), 9) + 0.0
    said: dict[str, Any] = dict(base.said)
    if there is not None and there.storey:
        said["storey"] = there.storey
        if there.level is not None:
            said["elevation"] = _metre(there.level)
    said["origin"] = _metres(at)
    return {**said, "turn": turn} if turn else said


def _serves(place: Location, stand: FrontedBox) -> bool:
    """Tell whether whoever works at some gear, let into a wall too, stands here."""
    high = stand.bottom + stand.size[2]
    level = place.floor - _SURELY_IN <= high and stand.bottom <= place.top
    return level and holds(place.outline, stand.ahead)


def _tell(writing: Writing, unknown: list[str], far: int) -> None:
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
    written = {entry.get("guid") for entry, _ in found.entries}
    if lost := found.data.get("not_read"):
        count = sum(one.get("count", 1) for one in lost)
        said = f"could not be read: {count} ({few([one['name'] for one in lost])})"
        found.told.append(f"{said}; check asks about them till they leave not_read")
    flat = [
        one.called
        for one in gear
        if not (one.meshed or one.at_most) and one.guid not in written
    ]
    if flat:
        said = f"gear without a solid shape in the model, left out: {few(flat)}"
        found.told.append(said)
    elsewhere = [one.called for one in gear if one.meshed and one.guid not in written]
    if elsewhere and len(elsewhere) == sum(one.meshed for one in gear):
        found.told.append(f"no gear is here; elsewhere in the model: {few(elsewhere)}")
