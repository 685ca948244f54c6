"""The room as bodies: walls, floor and ceiling, each an item of its own."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Box
from model3d.geometry.frame import Corner, Frame
from model3d.geometry.plan.outline import wall_body
from model3d.geometry.tolerance import WALL
from model3d.scene.kinds import KINDS, Kind
from model3d.scene.words.wall_words import GROUNDED_MATERIALS, OPEN_SIDE
from model3d.standing.placed import Placed

if TYPE_CHECKING:
    from model3d.geometry.bodies.solid import Solid
    from model3d.scene.scene import Scene

FLOOR: Final = Kind("floor", "Floor of the room", structure=True, grounded=True)
_SIDES: Final = ("south", "east", "north", "west")


@dataclass(frozen=True)
class WallLine:
    """One side of the room, from corner to corner, counter-clockwise.

    Attributes:
        name: As a placement names it: north, or wall-1.
        id: As a result names it: wall-north, or wall-1.
        start, end: Plan corners, metres; the room is on the left of this way.
    """

    name: str
    id: str
    start: Corner
    end: Corner

    @cached_property
    def length(self) -> float:
        """Length between the corners, metres."""
        return math.dist(self.start, self.end)

    @cached_property
    def frame(self) -> Frame:
        """Origin at the wall's left end seen from inside; out points inside."""
        dx = (self.end[0] - self.start[0]) / self.length
        dy = (self.end[1] - self.start[1]) / self.length
        return Frame(*self.end, (-dx, -dy), (-dy, dx))


@dataclass(frozen=True)
class Shell:
    """The room's own surfaces.

    Attributes:
        outline: Plan corners, counter-clockwise, metres; empty without a room.
        height: Floor to structural ceiling; None where there is none.
        lines: The sides in their order.
        open_sides: Names of sides without a wall.
        placed: Walls, floor and ceiling as items.
    """

    outline: tuple[Corner, ...]
    height: float | None
    lines: tuple[WallLine, ...]
    open_sides: frozenset[str]
    placed: tuple[Placed, ...]

    def line(self, name: str) -> WallLine:
        """Return a side by the name a placement uses.

        Raises:
            KeyError: The room has no side of that name.
        """
        for line in self.lines:
            if line.name == name:
                return line
        raise KeyError(name)


def shell(scene: Scene) -> Shell:
    """Build the room's own surfaces.

    Outdoors a side is a wall where the scene says what it is made of, or puts
    something against it; there is a ceiling only where a height is said.
    """
    room = scene.room
    if room is None:
        return Shell((), None, (), frozenset(), (_floor(()),))
    if room.size is not None:
        x, y = (scene.metres(length) for length in room.size)
        outline: tuple[Corner, ...] = ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
        names = [(side, f"wall-{side}") for side in _SIDES]
    else:
        outline = tuple(
            (scene.metres(x), scene.metres(y)) for x, y in room.outline or ()
        )
        names = [(f"wall-{n}", f"wall-{n}") for n in range(1, len(outline) + 1)]
    lines = tuple(
        WallLine(name, wall_id, a, b)
        for (name, wall_id), a, b in zip(
            names, outline, (*outline[1:], outline[0]), strict=True
        )
    )
    height = None if room.height is None else scene.metres(room.height)
    words = _words(scene, lines)
    placed = [
        _wall(line, words[line.name], _wall_solid(outline, lines, n, scene))
        for n, line in enumerate(lines)
        if words[line.name] != OPEN_SIDE
    ]
    placed.append(_floor(outline))
    if height is not None:
        placed.append(_ceiling(outline, height))
    open_sides = frozenset(name for name, word in words.items() if word == OPEN_SIDE)
    return Shell(outline, height, lines, open_sides, tuple(placed))


def _words(scene: Scene, lines: tuple[WallLine, ...]) -> dict[str, str | None]:
    """Return what each side is made of; None where it is a wall of unknown kind."""
    room = scene.room
    walls = room.walls if room else None
    if isinstance(walls, str):
        return {line.name: walls for line in lines}
    said = dict(walls or {})
    if scene.use != "outdoor":
        return {line.name: said.get(line.name) for line in lines}
    used = {getattr(item.place, "wall", None) for item in scene.items}
    used |= {door.wall for door in room.doors} if room else set()
    return {
        line.name: said.get(line.name) or (None if line.name in used else OPEN_SIDE)
        for line in lines
    }


def _wall(line: WallLine, word: str | None, solid: Solid) -> Placed:
    return Placed(
        line.id,
        KINDS["wall"],
        None,
        solid,
        grounded=None if word is None else word in GROUNDED_MATERIALS,
        of_room=True,
        material=word,
    )


def _wall_solid(
    outline: tuple[Corner, ...], lines: tuple[WallLine, ...], number: int, scene: Scene
) -> Solid:
    low, high = -WALL, _top(scene) + WALL
    line = lines[number]
    if scene.room is not None and scene.room.size is not None:
        # North and south walls run through the corners, east and west end at them.
        past = WALL if line.name in {"north", "south"} else 0.0
        frame = line.frame.moved(-past, -WALL)
        return Box(frame, line.length + 2 * past, WALL, low, high)
    return wall_body(outline, number, WALL, low, high)


def _top(scene: Scene) -> float:
    room = scene.room
    if room is not None and room.height is not None:
        return scene.metres(room.height)
    return WALL


def _slab(outline: tuple[Corner, ...], low: float, high: float) -> Box:
    xs = [x for x, _ in outline] or [-_WIDE, _WIDE]
    ys = [y for _, y in outline] or [-_WIDE, _WIDE]
    frame = Frame(min(xs) - WALL, min(ys) - WALL, (1.0, 0.0), (0.0, 1.0))
    width, depth = max(xs) - min(xs) + 2 * WALL, max(ys) - min(ys) + 2 * WALL
    return Box(frame, width, depth, low, high)


_WIDE: Final = 10_000.0
"""Metres. Half the ground of a place without bounds."""


def _floor(outline: tuple[Corner, ...]) -> Placed:
    return Placed("floor", FLOOR, None, _slab(outline, -WALL, 0.0), of_room=True)


def _ceiling(outline: tuple[Corner, ...], height: float) -> Placed:
    solid = _slab(outline, height, height + WALL)
    return Placed("ceiling", KINDS["ceiling"], None, solid, of_room=True)
