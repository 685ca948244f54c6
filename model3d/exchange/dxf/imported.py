"""A room of a plan as a scene: readable items, and what is no box as a mesh."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.doors.leaf_arcs import doors_of_plan
from model3d.exchange.dxf.footprints import Footprint, footprints_of
from model3d.exchange.dxf.found_layers import layers_of
from model3d.exchange.dxf.fronts import is_turned, stated
from model3d.exchange.dxf.layer_table import LayerRow
from model3d.exchange.dxf.room_outline import place_of
from model3d.exchange.dxf.things import Thing, free_id, in_the_room, named
from model3d.exchange.dxf.unsure.left_unread import left_unread
from model3d.exchange.dxf.unsure.undecided import undecided_in
from model3d.exchange.dxf.wall_faces import THICKEST_SINGLE
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.gear.classes import UNKNOWN
from model3d.exchange.ifc.gear.likely_front import SURE, FrontedBox, stand_facing
from model3d.exchange.ifc.scene_entries import Imported
from model3d.geometry.files.mesh_parts import MeshPart
from model3d.geometry.plan.lines.enclosed import Area, box_around
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.scene.words.nearest import hint
from model3d.units import from_metres

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from model3d.exchange.dxf.doors.leaf_arcs import PlanDoor
    from model3d.exchange.dxf.drawn_plan import Plan
    from model3d.exchange.dxf.layer_table import LayerTable
    from model3d.exchange.dxf.room_outline import Place
    from model3d.exchange.dxf.unsure.undecided import Undecided
    from model3d.geometry.frame import Corner

_DIGITS: Final = {"mm": 2, "m": 5, "in": 4, "ft": 5}
"""Finer than any tolerance, and no noise."""
_WORD: Final = {bearing: word for word, bearing in BEARING.items()}
_SAME: Final = 1e-5
"""Square metres of a room's floor by which it may differ from a rectangle."""
_MOST: Final = 12
"""Layers that are not in the table and are told one by one."""


@dataclass(frozen=True, slots=True)
class PlanWish:
    """What is asked for.

    Attributes:
        title: Of the scene, where the plan has no name for the room.
        units, rules: Of the scene.
        mesh_file: The name of the file beside it that meshes go into.
        space: A text in the room that is meant; None where there is only one.
        fronts: Bearings of fronts that the user knows, by id.
        drawn_in: The plan's unit, where the user says it.
    """

    title: str
    units: str
    rules: str
    mesh_file: str
    space: str | None = None
    fronts: Mapping[str, float] = field(default_factory=dict)
    drawn_in: str | None = None


class _Writing:
    """The state of writing one scene."""

    def __init__(self, place: Place, wish: PlanWish) -> None:
        self.place, self.wish = place, wish
        xs, ys = zip(*place.outline, strict=True)
        self.origin = min(xs), min(ys)
        self.found = Imported({})

    def length(self, metres: float) -> float:
        value = from_metres(float(metres), self.wish.units)
        return round(value, _DIGITS[self.wish.units]) + 0.0

    def at(self, point: Sequence[float]) -> list[float]:
        return [
            self.length(one - start)
            for one, start in zip(point, self.origin, strict=True)
        ]


def imported(plan: Plan, table: LayerTable, wish: PlanWish) -> Imported:
    """Return a room of a plan as a scene.

    Args:
        plan: The plan.
        table: What its layers become.
        wish: What is asked for.

    Raises:
        ModelError: The plan, the table and the wish do not fit; all mistakes.
    """
    if not plan.unit and wish.drawn_in is None:
        right = "--drawn-in mm, cm, m, in or ft"
        msg = f"found a plan that says no unit ($INSUNITS), right is {right}"
        raise ModelError(msg)
    place = place_of(plan, table, wish.space, believed=wish.drawn_in is not None)
    writing = _Writing(place, wish)
    told = writing.found.told
    _tell_unit(plan, wish, told)
    told += place.told
    footprints, far = footprints_of(plan, table, place.outline, told)
    solid = LayerRow(place.row.number, place.row.pattern, "wall")
    footprints += [Footprint(solid, solid.pattern, one) for one in place.holes]
    every = named(plan, table, place, footprints)
    things, stands = in_the_room(every, place, wish.fronts)
    doors = doors_of_plan(plan, table, place.outline, {one.id for one in every}, told)
    writing.found.data = _data(writing, doors)
    if any(one.unsaid for one in footprints):
        # What is nearer to a limit than such a wall may be thick is not known.
        writing.found.data["survey_tolerance"] = writing.length(THICKEST_SINGLE)
    for thing in things:
        _write(writing, thing, stands.get(thing.id))
    unsure = undecided_in(plan, table, place, footprints)
    taken = {one.id for one in every} | {one.id for one in doors}
    for one in unsure:
        _write_undecided(writing, one, taken)
    if lost := left_unread(plan, table, place.outline, writing.at):
        writing.found.data["not_read"] = lost
        count = sum(one.get("count", 1) for one in lost)
        told.append(f"could not be read: {count}; check asks till they leave not_read")
    far += len(every) - len(things)
    if far:
        told.append(f"outside the room, left out: {far} outline{'s' * (far > 1)}")
    told += _untold(plan, table, {one.layer for one in unsure})
    if not doors:
        told.append(
            "no doors of the room are read: ways out stay open till you write them"
        )
    return writing.found


def _tell_unit(plan: Plan, wish: PlanWish, told: list[str]) -> None:
    if wish.drawn_in is not None and plan.unit not in {"", wish.drawn_in}:
        said = f"the plan says that it is drawn in {plan.unit}"
        told.append(f"{said}, taken as {wish.drawn_in} as --drawn-in says")


def _data(writing: _Writing, doors: Sequence[PlanDoor]) -> dict[str, Any]:
    place, wish = writing.place, writing.wish
    room: dict[str, Any] = {"outline": [writing.at(one) for one in place.outline]}
    sides = [f"wall-{number}" for number in range(1, len(place.outline) + 1)]
    floor = Area(place.outline)
    box = box_around(floor, 0.0)
    if box.exact and abs(box.sides[0] * box.sides[1] - floor.size) < _SAME:
        # Its first side runs north.
        room = {"size": [writing.length(one) for one in reversed(box.sides)]}
        sides = [_side(*both) for both in pairwise((*place.outline, place.outline[0]))]
    room["height"] = writing.length(place.height)
    if doors:
        room["doors"] = [
            {"id": one.id, "wall": sides[one.side]}
            | {key: writing.length(value) for key, value in one.lengths.items()}
            | {"overall": True, **one.words}
            for one in doors
        ]
    data: dict[str, Any] = {
        "title": place.name or wish.title,
        "units": wish.units,
        "rules": wish.rules,
    }
    if any(writing.origin):
        where = [f"{round(one, 6) + 0.0:.12g} m" for one in (*writing.origin, 0.0)]
        data["origin"] = where
        said = (
            f"moved: its south-west corner lies at {', '.join(where[:2])} of the plan"
        )
        writing.found.told.append(said)
    return {**data, "room": room}


def _side(start: Corner, end: Corner) -> str:
    """Return the name of a side of a rectangular room, which lies on its left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dx) > abs(dy):
        return "south" if dx > 0 else "north"
    return "east" if dy > 0 else "west"


def _write(writing: _Writing, thing: Thing, stand: FrontedBox | None) -> None:
    footprint, found = thing.footprint, writing.found
    entry: dict[str, Any] = {"id": thing.id, "kind": thing.kind}
    if thing.name:
        entry["name"] = thing.name
    notes = [*thing.notes]
    box = box_around(footprint.area)
    if stand is not None:
        entry |= _placed(writing, stand)
        entry |= {} if box.exact else _part(writing, thing, stand)
        notes += _front_notes(thing, stand, writing.wish)
    elif footprint.circle is not None:
        entry |= _upright_run(writing, thing)
    elif box.exact:
        facing = footprint.row.facing
        placed = (
            stand_facing(thing.element, box.bearing + 180)
            if facing is None
            else stated(thing.element, footprint.area, facing)
        )
        entry |= _placed(writing, placed)
    else:
        entry |= _part(writing, thing, None)
    entry |= footprint.row.facts
    notes.append(f"layer {footprint.layer}")
    found.entries.append((entry, tuple(notes)))
    found.told += [f"{thing.id}: {note}" for note in notes[:-1]]
    if stand is not None and KINDS[thing.kind].associated:
        supply = entry.get("supply", {})
        lacks = [] if {"system", "to_ground"} & supply.keys() else ["voltage"]
        lacks += [] if "amps" in supply else ["current"]
        if lacks:
            said = f"the plan does not say {', '.join(lacks)}"
            found.told.append(f"{thing.id}: {said}; a list may, by --into")


def _front_notes(thing: Thing, stand: FrontedBox, wish: PlanWish) -> Iterator[str]:
    given = {name.casefold(): bearing for name, bearing in wish.fronts.items()}
    bearing = given.get(thing.id.casefold(), thing.footprint.row.facing)
    side = _WORD.get(round(stand.bearing, 6) % 360, f"{stand.bearing:.6g} degrees")
    if bearing is not None:
        if is_turned(stand, bearing):
            yield f"front said as {bearing:g} degrees: its side there faces {side}"
    elif stand.margin < SURE:
        yield (
            f"front not sure (margin {stand.margin:.2f}, sure from {SURE}): taken as "
            f"{side}; say --front {thing.id}=SIDE"
        )
    else:
        yield f"front inferred as {side} (margin {stand.margin:.2f}, sure from {SURE})"


def _placed(writing: _Writing, stand: FrontedBox) -> dict[str, Any]:
    bearing = round(stand.bearing, 6) % 360
    place: dict[str, Any] = {
        "at": writing.at(stand.middle),
        "facing": _WORD.get(bearing, bearing),
    }
    if stand.bottom:
        place["bottom"] = writing.length(stand.bottom)
    return {"size": [writing.length(one) for one in stand.size], "place": place}


def _upright_run(writing: _Writing, thing: Thing) -> dict[str, Any]:
    middle, diameter = thing.footprint.circle or ((0.0, 0.0), 0.0)
    low, high = thing.element.points[:, 2].min(), thing.element.points[:, 2].max()
    x, y = writing.at(middle)
    return {
        "from": [x, y, writing.length(low)],
        "to": [x, y, writing.length(high)],
        "diameter": writing.length(diameter),
    }


def _part(writing: _Writing, thing: Thing, stand: FrontedBox | None) -> dict[str, Any]:
    points = thing.element.points
    if stand is None:
        points = points - (*writing.origin, 0.0)
    else:
        # To the right, from the front to the back, and up.
        points = stand.frame.local(points) * (1.0, -1.0, 1.0)
        points[:, 2] -= stand.bottom
    extras = {"layer": thing.footprint.layer, "name": thing.name}
    part = MeshPart(thing.id, points, thing.element.faces, extras=extras)
    writing.found.parts.append(part)
    return {"mesh": writing.wish.mesh_file, "part": thing.id}


def _write_undecided(writing: _Writing, one: Undecided, taken: set[str]) -> None:
    name = free_id(f"drawn-on-{one.layer}", taken)
    entry = {
        "id": name,
        "kind": UNKNOWN,
        "mesh": writing.wish.mesh_file,
        "part": name,
        "uncertain": True,
    }
    writing.found.parts.append(one.part(name, writing.origin))
    writing.found.entries.append((entry, (one.told, f"layer {one.layer}")))
    writing.found.told.append(f"{name}: {one.told}")


def _untold(plan: Plan, table: LayerTable, unsure: Collection[str]) -> Iterator[str]:
    """Yield the layers that the table does not decide, and rows that mean none."""
    layers = layers_of(plan)
    for row in table.rows:
        if not row.is_pattern and not any(row.fits(one.name) for one in layers):
            near = hint(row.pattern, [one.name for one in layers])
            yield f"row {row.number} of the table: no layer {row.pattern}{near}"
    open_ = []
    for one in layers:
        if one.name in unsure:
            continue
        decided = table.row_of(one.name)
        if (decided is None or not decided.becomes) and one.extent is not None:
            open_.append(one)
    for one in open_[:_MOST]:
        yield f"not in the table, left out: layer {one.name}: {one.told(plan)}"
    if len(open_) > _MOST:
        yield f"not in the table, left out: {len(open_) - _MOST} layers more"
