"""Where the camera of the window should go to see something."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.cameras import ASPECT, corners, direction, framed
from viewer.viewing import held
from viewer.window.poses import pose_of

if TYPE_CHECKING:
    from viewer.stage.parts import Point, Points, Stage, View
    from viewer.window.poses import Pose

THINGS: Final = frozenset({"solid", "leaf", "surface"})
"""Roles of shapes that are things in the room."""
_ROUND_ITEM: Final = 0.3
"""Share of the picture kept free on each side of an item."""
_ROUND_ROOM: Final = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class Aim:
    """What the camera should see.

    Attributes:
        points: What must be in the picture, shape (n, 3).
        towards: Unit vector towards the eye; None keeps the way it looks.
        margin: Share of the picture kept free on each side.
        name: Of the view, or "".
    """

    points: Points
    towards: Point | None
    margin: float
    name: str = ""

    def pose(self, now: Pose, aspect: float) -> Pose:
        """Return where the camera goes.

        Args:
            now: Where it stands.
            aspect: Width by height of the picture.
        """
        x, y, z = now.back.tolist() if self.towards is None else self.towards
        view = framed(
            self.points, (x, y, z), aspect=aspect, name=self.name, margin=self.margin
        )
        return pose_of(view, aspect)


@dataclass(frozen=True, slots=True)
class AimView:
    """A view that the stage gives, made for a picture of the usual shape."""

    view: View

    @property
    def name(self) -> str:
        """Of the view of a whole room, which this is none of."""
        return ""

    def pose(self, _: Pose, aspect: float) -> Pose:
        """Return where the camera goes; a narrower picture must be taken from afar."""
        found = pose_of(self.view, ASPECT)
        return replace(found, tall=found.tall * max(1.0, ASPECT / aspect))


def at_room(stage: Stage, name: str) -> Aim:
    """Return the view of the whole room by its name."""
    towards = direction(name)
    return Aim(held(stage, towards), towards, _ROUND_ROOM, name)


def at_all(stage: Stage) -> Aim:
    """Return the view of the whole room from the side the camera is on."""
    return Aim(corners(stage.low, stage.high), None, _ROUND_ROOM)


def at_item(stage: Stage, item: str) -> Aim | None:
    """Return the view of an item from the side the camera is on, if it is there."""
    found = [
        shape.vertices
        for shape in stage.shapes
        if shape.item == item and shape.role in THINGS and len(shape.vertices)
    ]
    if not found:
        return None
    return Aim(np.concatenate(found), None, _ROUND_ITEM)
