"""The room as shapes: walls that vanish from behind, floor, openings, door leaves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.wording import lengths
from model3d.wording.said import say
from viewer.stage import palette
from viewer.stage.bodies.hung import leaf_shape, pivot_of, round_mark
from viewer.stage.bodies.surfaces import (
    NO_EDGES,
    NO_FACES,
    NO_POINTS,
    Surface,
    lines,
    one_surface,
    quad,
)
from viewer.stage.drawn import Shape
from viewer.stage.layers import HEAD_HEIGHT, ROOM

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.scene.parts.room import RoomDoor
    from model3d.scene.scene import Scene
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.shell import WallLine
    from viewer.stage.bodies.surfaces import UprightFrame
    from viewer.stage.drawn import Points, Role

BAND: Final = 0.08
"""Metres. Width of the dark band where a wall is cut away."""
_CORNICE: Final = 0.035
"""Metres. Height of the dark band on top of a wall that is seen."""
_TALLEST: Final = 2.4
"""Metres. Height of a drawn wall where the scene says none."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A personnel door in its wall.

    Attributes:
        door: As written.
        left, right: From the wall's left end seen from inside, metres.
        bottom, top: World heights.
    """

    door: RoomDoor
    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class _DoorLeaf:
    """One leaf of a personnel door."""

    frame: UprightFrame
    radius: float
    bottom: float
    top: float


def wall_height(arrangement: Arrangement) -> float:
    """Return how high walls are drawn, metres."""
    height = arrangement.shell.height
    return _TALLEST if height is None else height


def openings(line: WallLine, scene: Scene) -> tuple[Opening, ...]:
    """Return the personnel doors of one side of the room, from left to right."""
    metres = scene.metres
    found = []
    for door in scene.room.doors if scene.room else ():
        if door.wall == line.name:
            left, low = metres(door.along), metres(door.sill)
            right = left + metres(door.width)
            found.append(Opening(door, left, right, low, low + metres(door.height)))
    return tuple(sorted(found, key=lambda one: one.left))


def wall_shapes(arrangement: Arrangement) -> Iterator[Shape]:
    """Yield the walls, each with its openings and its dark band on the floor."""
    shell, scene = arrangement.shell, arrangement.scene
    height = wall_height(arrangement)
    names = {placed.id: placed for placed in shell.placed}
    for line in shell.lines:
        if line.id not in names:
            continue
        material = names[line.id].material
        about = material or "material not stated"
        doors = openings(line, scene)
        # A little below the top, so that a ceiling there does not shimmer through.
        top = height - _CORNICE
        faces = one_surface(list(_wall_faces(line, doors, 0.0, top)))
        edges = _outline(line, doors, height)
        surface = Surface(faces.vertices, faces.faces, edges)
        wall = _surface(line.id, line.id, "wall", about, surface, palette.WALL)
        yield replace(wall, ahead=line.frame.out)
        cornice = _face(line, 0.0, line.length, top, height)
        name = f"{line.id}/top"
        shape = _surface(name, line.id, "wall", about, cornice, palette.CUT, role="cut")
        yield replace(shape, ahead=line.frame.out)
        band = one_surface(list(_bands(line, doors)))
        name = f"{line.id}/cut"
        yield _surface(name, line.id, "wall", about, band, palette.CUT, role="cut")


def door_shapes(
    arrangement: Arrangement, shown: Mapping[tuple[str, int], float]
) -> Iterator[Shape]:
    """Yield the leaves of the room's doors and the rounds they draw on the floor.

    Args:
        arrangement: The room.
        shown: Angles to draw leaves at, by door and leaf; else a leaf is drawn fully
            open the way it is said to open, and closed where nothing is said.
    """
    for line in arrangement.shell.lines:
        for opening in openings(line, arrangement.scene):
            door = opening.door
            about = "personnel door"
            widest = 90.0 if door.opens_to is None else float(door.opens_to)
            for number, hung in enumerate(_leaves(line, opening)):
                stands = min(widest, 90.0) if door.opens else 0.0
                angle = shown.get((door.id, number), stands)
                pivot = pivot_of(hung, angle, widest, None)
                name = f"{door.id}/leaf-{number}"
                yield leaf_shape(name, door.id, ROOM, about, hung, pivot)
                if door.opens:
                    swept = round_mark(hung.frame, hung.radius, 0.004, widest)
                    yield mark(f"{door.id}/round-{number}", door.id, swept)


def mark(
    shape_id: str,
    item: str,
    edges: Points,
    *,
    colour: str = palette.MARK,
    layer: str = ROOM,
    width: float = 1.0,
    opacity: float = 1.0,
) -> Shape:
    """Return a shape of lines only."""
    return Shape(
        id=shape_id,
        item=item,
        layer=layer,
        role="mark",
        kind="mark",
        about="",
        vertices=NO_POINTS,
        faces=NO_FACES,
        edges=edges,
        colour=colour,
        edge_colour=colour,
        edge_width=width,
        edge_opacity=opacity,
        pickable=False,
    )


def head_height_marks(arrangement: Arrangement, level: float) -> Iterator[Shape]:
    """Yield a dashed line on each wall; it vanishes with the wall."""
    words = f"head height {lengths(level, arrangement.scene.units)[0]}"
    if level >= wall_height(arrangement):
        return
    for line in arrangement.shell.lines:
        if line.name in arrangement.shell.open_sides:
            continue
        edges = _dashes(line, openings(line, arrangement.scene), level)
        name = say("{}/{}", line.id, HEAD_HEIGHT)
        drawn = mark(name, line.id, edges, layer=HEAD_HEIGHT, width=1.2)
        yield replace(drawn, about=words, one_sided=True, ahead=line.frame.out)


def _dashes(line: WallLine, doors: tuple[Opening, ...], level: float) -> Points:
    count = max(1, round(line.length / 0.16))
    step = line.length / count
    found = []
    for n in range(count):
        start, end = (n + 0.2) * step, (n + 0.75) * step
        free = all(end < d.left or start > d.right or level > d.top for d in doors)
        if free:
            found.append(
                lines(line.frame, [(start, 0.004, level), (end, 0.004, level)])
            )
    return np.concatenate(found) if found else NO_EDGES


def _wall_faces(
    line: WallLine, doors: tuple[Opening, ...], low: float, high: float
) -> Iterator[Surface]:
    """Yield the inner face about the openings, looking into the room."""
    at = 0.0
    for opening in doors:
        left, right = max(opening.left, at), min(opening.right, line.length)
        if left > at:
            yield _face(line, at, left, low, high)
        if right > left:
            if opening.bottom > low:
                yield _face(line, left, right, low, opening.bottom)
            if opening.top < high:
                yield _face(line, left, right, opening.top, high)
        at = max(at, right)
    if at < line.length:
        yield _face(line, at, line.length, low, high)


def _face(
    line: WallLine, left: float, right: float, low: float, high: float
) -> Surface:
    return quad(
        line.frame,
        [(left, 0.0, low), (right, 0.0, low), (right, 0.0, high), (left, 0.0, high)],
    )


def _bands(line: WallLine, doors: tuple[Opening, ...]) -> Iterator[Surface]:
    """Yield the dark band outside the wall's face on the floor, open at doors."""
    at = -BAND
    ends = [(door.left, door.right) for door in doors]
    for left, right in [*ends, (line.length + BAND, line.length + BAND)]:
        if left > at:
            corners = [(at, -BAND), (left, -BAND), (left, 0.0), (at, 0.0)]
            yield quad(line.frame, [(x, y, 0.002) for x, y in corners][::-1])
        at = max(at, right)


def _outline(line: WallLine, doors: tuple[Opening, ...], height: float) -> Points:
    """Return the room's edges at one wall, and those of its openings."""
    frame, length = line.frame, line.length
    drawn = [
        lines(frame, [(0.0, 0.0, 0.0), (0.0, 0.0, height), (length, 0.0, height)]),
    ]
    for door in doors:
        left, right, top = door.left, door.right, door.top
        drawn.append(
            lines(
                frame,
                [
                    (left, 0.0, door.bottom),
                    (left, 0.0, top),
                    (right, 0.0, top),
                    (right, 0.0, door.bottom),
                ],
                closed=door.bottom > 0,
            )
        )
    return np.concatenate(drawn)


def _leaves(line: WallLine, opening: Opening) -> Iterator[_DoorLeaf]:
    """Yield the leaves of a personnel door; hinged left where nothing is said."""
    door = opening.door
    width = opening.right - opening.left
    sides = {"pair": ("left", "right"), "right": ("right",)}.get(
        door.hinge or "left", ("left",)
    )
    for side in sides:
        at = opening.left if side == "left" else opening.right
        frame = line.frame.moved(at, 0.0)
        if door.opens != "in":
            frame = replace(frame, out=(-frame.out[0], -frame.out[1]))
        if side == "right":
            frame = frame.mirrored()
        yield _DoorLeaf(frame, width / len(sides), opening.bottom, opening.top)


def _surface(
    shape_id: str,
    item: str,
    kind: str,
    about: str,
    surface: Surface,
    colour: str,
    *,
    role: Role = "surface",
) -> Shape:
    return Shape(
        id=shape_id,
        item=item,
        layer=ROOM,
        role=role,
        kind=kind,
        about=about,
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        colour=colour,
        edge_colour=palette.MARK,
        edge_width=1.0,
        edge_opacity=0.45,
        one_sided=True,
        pickable=False,
    )
