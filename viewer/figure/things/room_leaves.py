"""The leaves of a room's own doors, as they hang in their walls."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from viewer.stage.bodies.walls import openings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.parts.room import RoomDoor
    from model3d.standing.arrangement import Arrangement
    from viewer.stage.bodies.surfaces import UprightFrame

_RIGHT_ANGLE: Final = 90.0


@dataclass(frozen=True, slots=True)
class DrawnRoomLeaf:
    """One leaf of a personnel door; it hangs as a leaf of equipment does.

    Attributes:
        door: The door.
        frame: Origin at the hinge, right along the closed leaf, out the way it opens.
        radius: Width of the leaf, metres.
        bottom, top: World heights.
        opens_to: How far it opens, degrees; 0 where nothing is said of its way.
    """

    door: RoomDoor
    frame: UprightFrame
    radius: float
    bottom: float
    top: float
    opens_to: float


def room_leaves(arrangement: Arrangement) -> Iterator[DrawnRoomLeaf]:
    """Yield every leaf of the room's doors."""
    for line in arrangement.shell.lines:
        for opening in openings(line, arrangement.scene):
            door, wide = opening.door, opening.right - opening.left
            to = _RIGHT_ANGLE if door.opens_to is None else float(door.opens_to)
            angle = to if door.opens else 0.0
            hinges = {
                "left": ((opening.left, wide, False),),
                "right": ((opening.right, wide, True),),
                "pair": (
                    (opening.left, wide / 2, False),
                    (opening.right, wide / 2, True),
                ),
            }
            for at, radius, mirrored in hinges.get(door.hinge or "left", ()):
                frame = line.frame.moved(at, 0.0)
                frame = frame.mirrored() if mirrored else frame
                if door.opens == "out":
                    frame = replace(frame, out=(-frame.out[0], -frame.out[1]))
                yield DrawnRoomLeaf(
                    door, frame, radius, opening.bottom, opening.top, angle
                )
