"""Where a room is left: personnel doors, open sides, open ground."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import shapely

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Frame
    from model3d.scene.room import RoomDoor
    from model3d.situation import Situation

WIDEST: Final = 3.0
"""Metres. Wider than any figure of a rule book: how much wider is not looked into."""

OPEN_GROUND: Final = "open ground"
"""The exit of a place without bounds."""


@dataclass(frozen=True, slots=True, eq=False)
class Exit:
    """A place where a room is left.

    Attributes:
        id: Of the door or of the open side; OPEN_GROUND where there are no bounds.
        width: Of the opening, metres.
        height: Clear height of the opening; infinite under the open sky.
        sill: Height of the threshold above the floor.
        opening: The line in plan that is crossed; None where there are no bounds.
        passage: The floor beyond it, as wide as the opening.
        goal: Who stands here is outside.
        inside: A unit vector that points from the opening into the room.
        sides: The edges of the passage left and right.
    """

    id: str
    width: float
    height: float
    sill: float
    opening: shapely.LineString | None
    passage: shapely.Polygon
    goal: shapely.Geometry
    inside: tuple[float, float] = (0.0, 0.0)
    sides: tuple[shapely.LineString, ...] = ()


def exits(situation: Situation) -> tuple[Exit, ...]:
    """Return every way out of the room: its doors, then its open sides.

    A place outdoors without a room is left over its edge.
    """
    shell = situation.arrangement.shell
    if not shell.outline:
        return (_ground(situation),) if situation.outdoors else ()
    return (*_doors(situation), *_open_sides(situation))


def opening_of(door: RoomDoor, situation: Situation) -> tuple[Frame, float]:
    """Return a door's frame and its width, metres.

    The frame's origin is the opening's left end, seen from inside; ``out`` points into
    the room.
    """
    metres = situation.scene.metres
    frame = situation.arrangement.shell.line(door.wall).frame
    return frame.moved(metres(door.along), 0.0), metres(door.width)


def _doors(situation: Situation) -> Iterator[Exit]:
    room = situation.scene.room
    metres = situation.scene.metres
    for door in room.doors if room else ():
        frame, width = opening_of(door, situation)
        heights = metres(door.height), metres(door.sill)
        yield _exit(door.id, frame, width, heights, situation)


def _open_sides(situation: Situation) -> Iterator[Exit]:
    shell = situation.arrangement.shell
    sky = float("inf") if shell.height is None else shell.height
    for line in shell.lines:
        if line.name in shell.open_sides:
            yield _exit(line.id, line.frame, line.length, (sky, 0.0), situation)


def _exit(
    name: str,
    frame: Frame,
    width: float,
    heights: tuple[float, float],
    situation: Situation,
) -> Exit:
    room = shapely.Polygon(situation.arrangement.shell.outline)
    wide = min(width, WIDEST)
    # Twice as deep as wide, and the goal halfway: so nothing but the opening itself
    # limits who comes through. Less where the room comes round again behind the wall.
    beyond = _strip(frame, TOUCH, width - TOUCH, -TOUCH, -2 * wide)
    again = beyond.intersection(room)
    line = shapely.LineString([frame.to_plan(0.0, 0.0), frame.to_plan(width, 0.0)])
    depth = 2 * wide if again.is_empty else min(2 * wide, again.distance(line)) - TOUCH
    side = min(width, wide) / 2
    goal = shapely.LineString(
        [
            frame.to_plan(side, -depth / 2),
            frame.to_plan(max(width - side, side + TOUCH), -depth / 2),
        ]
    )
    return Exit(
        name,
        width,
        *heights,
        line,
        _strip(frame, 0.0, width, TOUCH, -depth),
        goal,
        frame.out,
        tuple(
            shapely.LineString([frame.to_plan(u, 0.0), frame.to_plan(u, -depth)])
            for u in (0.0, width)
        ),
    )


def _strip(
    frame: Frame, left: float, right: float, near: float, far: float
) -> shapely.Polygon:
    corners = ((left, near), (right, near), (right, far), (left, far))
    return shapely.Polygon([frame.to_plan(u, v) for u, v in corners])


def _ground(situation: Situation) -> Exit:
    low, high = _bounds(situation)
    far = 2 * WIDEST
    edge = shapely.box(low[0] - far, low[1] - far, high[0] + far, high[1] + far)
    ring = edge.buffer(-WIDEST, join_style="mitre").exterior
    sky = float("inf")
    return Exit(OPEN_GROUND, sky, sky, 0.0, None, edge, ring)


def _bounds(situation: Situation) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the plan's bounds of everything but the ground itself."""
    found = [p.solid.bounds for p in situation.items if not p.of_room]
    if not found:
        return (0.0, 0.0), (0.0, 0.0)
    return (
        (min(low[0] for low, _ in found), min(low[1] for low, _ in found)),
        (max(high[0] for _, high in found), max(high[1] for _, high in found)),
    )
