"""What must fit together within the room: its outline, its walls, its doors."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from model3d.scene.checks.placement import wall_fault, wall_names
from model3d.scene.checks.setting import SLACK, beyond, doors_of, room_of
from model3d.scene.parts.room import FEWEST_CORNERS
from model3d.scene.words.elsewhere import wall_called
from model3d.scene.words.mistakes import KeyStep, found, shown, within
from model3d.scene.words.nearest import hint, listed
from model3d.scene.words.wall_words import OPEN_SIDE, WALL_WORDS
from model3d.units import from_metres

if TYPE_CHECKING:
    from model3d.scene.checks.setting import Setting
    from model3d.scene.parts.room import Room, RoomDoor
    from model3d.scene.parts.site import Site
    from model3d.scene.words.mistakes import Found

_SMALLEST_FLOOR: Final = 1e-6
"""Square metres; corners on one line leave less than that."""
_WITHOUT: Final = '(only with "use: outdoor" it may be left out)'


def room_mistakes(site: Site, setting: Setting) -> list[Found]:
    """Return what does not fit together within the room, each with its place."""
    if not site.said("room") and not setting.outdoor:
        return [(("room",), f"found nothing, right is a room {_WITHOUT}")]
    room = room_of(site)
    if room is None:
        return []
    mistakes = [
        *_shape(room, setting),
        *_outline(room, setting),
        *_walls(room, setting),
    ]
    for number, door in doors_of(site):
        mistakes += within(("doors", number), _door(door, setting))
    return within(("room",), mistakes)


def _shape(room: Room, setting: Setting) -> list[Found]:
    mistakes: list[Found] = []
    shapes = [key for key in ("size", "outline") if room.said(key)]
    if len(shapes) > 1:
        message = "found size and outline, right is one of them"
        mistakes.append(((KeyStep("outline"),), message))
    if not shapes:
        mistakes.append((("size",), "found nothing, right is a size or an outline"))
    if not room.said("height") and not setting.outdoor:
        mistakes.append((("height",), f"found nothing, right is a height {_WITHOUT}"))
    return mistakes


def _outline(room: Room, setting: Setting) -> list[Found]:
    outline = room.outline or ()
    corners = [setting.ruler.point(corner, 2) for corner in outline]
    points = [(corner[0], corner[1]) for corner in corners if corner is not None]
    if len(points) < max(len(corners), FEWEST_CORNERS):
        return []
    again = _repeated(points)
    if again:
        message = "a corner that was there before, right is each corner once"
        return [
            (("outline", number), f"found {shown(outline[number])}, {message}")
            for number in again
        ]
    fault = _outline_fault(points, str(setting.ruler.units))
    return [(("outline",), f"found {fault}")] if fault else []


def _repeated(points: list[tuple[float, float]]) -> list[int]:
    seen: set[tuple[int, int]] = set()
    again = []
    for number, (x, y) in enumerate(points):
        cell = (round(x / SLACK), round(y / SLACK))
        if cell in seen:
            again.append(number)
        seen.add(cell)
    return again


def _outline_fault(points: list[tuple[float, float]], unit: str) -> str | None:
    # Shapely takes longer to load than a room with four walls does to read.
    from model3d.geometry.plan import flat  # noqa: PLC0415

    ring = flat.LinearRing(points)
    floor = flat.Polygon(ring)
    if floor.convex_hull.area <= _SMALLEST_FLOOR:
        return "corners on one line, right is an outline with a floor inside"
    if not floor.is_valid:
        where = ""
        if place := re.search(r"\[(\S+) (\S+)\]", flat.is_valid_reason(floor)):
            x, y = (from_metres(float(number), unit) for number in place.groups())
            where = f" near [{x:g}, {y:g}]"
        return f"an outline that crosses itself{where}, right is one that does not"
    if not ring.is_ccw:
        return "the corners clockwise, right is counter-clockwise, seen from above"
    return None


def _walls(room: Room, setting: Setting) -> list[Found]:
    words = room.walls
    if isinstance(words, str):
        fault = _material_fault(words, setting)
        return [(("walls",), fault)] if fault else []
    mistakes: list[Found] = []
    for wall, material in words.items() if isinstance(words, dict) else ():
        if setting.walls and wall not in setting.walls:
            right = f"right is {wall_names(wall, setting.walls)}"
            mistakes.append((("walls", KeyStep(wall)), f"found {found(wall)}, {right}"))
        if fault := _material_fault(material, setting):
            mistakes.append((("walls", wall), fault))
    return mistakes


def _material_fault(word: object, setting: Setting) -> str | None:
    if word == OPEN_SIDE and not setting.outdoor:
        return f'found {found(word)}, right is a wall (only with "use: outdoor")'
    if not isinstance(word, str) or word in WALL_WORDS:
        return None
    called = wall_called(word)
    near = f" (nearest: {called})" if called else hint(word, WALL_WORDS)
    return f"found {found(word)}, right is {listed(WALL_WORDS)}{near}"


def _door(door: RoomDoor, setting: Setting) -> list[Found]:
    mistakes: list[Found] = []
    if fault := wall_fault(door.wall, setting):
        mistakes.append((("wall",), fault))
    metres, unit = setting.ruler.metres, str(setting.ruler.units)
    length = (setting.walls or {}).get(str(door.wall))
    if beyond(length, metres(door.along), metres(door.width)):
        wide = f"{from_metres(length or 0.0, unit):g} {unit}"
        what = f"found {shown(door.along)} and a width of {shown(door.width)}"
        message = f"{what}, right is a door inside the wall, {wide} long"
        mistakes.append((("along",), message))
    high = setting.height
    if beyond(high, metres(door.sill), metres(door.height)):
        most = f"{from_metres(high or 0.0, unit):g} {unit}"
        message = f"right is a door inside the wall, {most} high"
        mistakes.append((("height",), f"found {shown(door.height)}, {message}"))
    return mistakes
