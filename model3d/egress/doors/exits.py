"""Where a room is left: personnel doors, open sides, open ground."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, TypeAlias

from model3d.egress.doors.door_leaf import hangings
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.egress.doors.door_leaf import Hanging
    from model3d.geometry.frame import Frame
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor

WIDEST: Final = 3.0
"""Metres. Wider than any figure of a rule book: how much wider is not looked into."""

BODY: Final = 0.2
"""Metres. Nobody comes through less, not even sideways (common practice: a slender
adult's chest is about that deep); less is no way at all."""

OPEN_GROUND: Final = "open ground"
"""The exit of a place without bounds."""

Plan: TypeAlias = "tuple[str, flat.Geometry]"
"""Something on the floor: its name and its shape in plan."""


@dataclass(frozen=True, slots=True, eq=False)
class Exit:
    """A place where a room is left.

    Attributes:
        id: Of the door or of the open side; OPEN_GROUND where there are no bounds.
        width: That is clear for certain, metres: of a door with its leaf open.
        height: Clear height of the opening; infinite under the open sky.
        sill: Height of the threshold above the floor.
        opening: The line in plan that is crossed; None where there are no bounds.
        passage: The floor beyond it, as wide as what the leaf leaves of the opening.
        goal: Who stands here is outside.
        inside: A unit vector that points from the opening into the room.
        sides: The edges of the passage left and right.
        gap: What the leaf leaves of the opening.
        wall: Id of the wall that it is in.
        hangings: The ways in which the door may hang; one where all is said.
    """

    id: str
    width: float
    height: float
    sill: float
    opening: flat.LineString | None
    passage: flat.Polygon
    goal: flat.Geometry
    inside: tuple[float, float] = (0.0, 0.0)
    sides: tuple[flat.LineString, ...] = ()
    gap: flat.LineString | None = None
    wall: str = ""
    hangings: tuple[Hanging, ...] = ()

    @property
    def widest(self) -> float:
        """Clear width if it hangs in the best way that is possible, metres."""
        return max((one.clear for one in self.hangings), default=self.width)

    @property
    def said(self) -> tuple[object, ...]:
        """What exits of one room are told apart by: all else follows of the room."""
        return self.id, self.width, self.height, self.sill, self.hangings


def exits(situation: Situation) -> tuple[Exit, ...]:
    """Return every way out of the room: its doors, then its open sides.

    A place outdoors without a room is left over its edge. Where something was moved,
    what nothing came near to is the very same as before.
    """
    earlier = situation.earlier
    if earlier is not None:
        exits(earlier.situation)
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
    for door in room.doors if room else ():
        yield situation.remembered(_by_door, door)


def _by_door(door: RoomDoor, situation: Situation) -> Exit:
    """Return the way out by one of the doors of the room."""
    metres = situation.scene.metres
    frame, width = opening_of(door, situation)
    ways = hangings(door, frame, width, situation)
    left = min(one.span[0] for one in ways)
    right = max(one.span[1] for one in ways)
    if right - left < BODY:
        # The leaf hardly opens: nobody is led through, whatever is drawn here.
        left, right = 0.0, width
    heights = metres(door.height), metres(door.sill)
    found = _exit(door.id, frame.moved(left, 0.0), right - left, heights, situation)
    if min(one.clear for one in ways) < found.width - TOUCH:
        # Whichever part of the opening its leaf leaves, it leads out.
        ends = [side.interpolate(0.5, normalized=True) for side in found.sides]
        found = replace(found, goal=flat.LineString(ends))
    return replace(
        found,
        width=min(one.clear for one in ways),
        opening=_line(frame, width),
        wall=situation.arrangement.shell.line(door.wall).id,
        hangings=ways,
    )


def left_over(way_out: Exit, hanging: Hanging, most: float) -> list[Plan]:
    """Return what a door's leaf takes of the floor if the door hangs one way, by name.

    Where it opens in it stands on the floor of the room. What it takes of the opening
    is taken from the passage, unless the passage is no wider than that already.

    Args:
        way_out: The door.
        hanging: One of its own.
        most: To which angle it is open at most, degrees.
    """
    taken: list[flat.Geometry] = []
    if hanging.opens == "in":
        taken += hanging.plates(most)
    left, right = hanging.span
    far = way_out.passage.length
    for low, high in ((-far, left), (right, far)):
        shut = way_out.passage.intersection(_strip(hanging.frame, low, high, 0.0, -far))
        if shut.area > TOUCH * far:
            taken.append(shut)
    return [(say("the leaf of {}", Named(way_out.id)), plan) for plan in taken]


def _open_sides(situation: Situation) -> Iterator[Exit]:
    shell = situation.arrangement.shell
    for line in shell.lines:
        if line.name in shell.open_sides:
            yield situation.remembered(_over_side, line.name)


def _over_side(name: str, situation: Situation) -> Exit:
    """Return the way out over one of the sides of the room, which is open."""
    shell = situation.arrangement.shell
    line = shell.line(name)
    sky = float("inf") if shell.height is None else shell.height
    return _exit(line.id, line.frame, line.length, (sky, 0.0), situation)


def _exit(
    name: str,
    frame: Frame,
    width: float,
    heights: tuple[float, float],
    situation: Situation,
) -> Exit:
    room = flat.Polygon(situation.arrangement.shell.outline)
    wide = min(width, WIDEST)
    # Twice as deep as wide, and the goal halfway: so nothing but the opening itself
    # limits who comes through. Less where the room comes round again behind the wall.
    beyond = _strip(frame, TOUCH, width - TOUCH, -TOUCH, -2 * wide)
    again = beyond.intersection(room)
    line = _line(frame, width)
    depth = 2 * wide if again.is_empty else min(2 * wide, again.distance(line)) - TOUCH
    side = min(width, wide) / 2
    goal = flat.LineString(
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
            flat.LineString([frame.to_plan(u, 0.0), frame.to_plan(u, -depth)])
            for u in (0.0, width)
        ),
        gap=line,
    )


def _line(frame: Frame, width: float) -> flat.LineString:
    return flat.LineString([frame.to_plan(0.0, 0.0), frame.to_plan(width, 0.0)])


def _strip(
    frame: Frame, left: float, right: float, near: float, far: float
) -> flat.Polygon:
    corners = ((left, near), (right, near), (right, far), (left, far))
    return flat.Polygon([frame.to_plan(u, v) for u, v in corners])


def _ground(situation: Situation) -> Exit:
    low, high = _bounds(situation)
    far = 2 * WIDEST
    edge = flat.box(low[0] - far, low[1] - far, high[0] + far, high[1] + far)
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
