"""Where the camera of the window should go to see something."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.cameras import (
    ASPECT,
    BEARINGS,
    ELEVATION,
    corners_of,
    direction,
    framed,
)
from viewer.stage.views import held, view_of_place
from viewer.window.poses import pose_of

if TYPE_CHECKING:
    from viewer.stage.parts import Point, Points, Stage, View
    from viewer.window.frame import Frame
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

    def pose(self, now: Pose, frame: Frame) -> Pose:
        """Return where the camera goes.

        Args:
            now: Where it stands.
            frame: How the window is divided.
        """
        x, y, z = now.back.tolist() if self.towards is None else self.towards
        aspect = _clear(frame)
        view = framed(
            self.points, (x, y, z), aspect=aspect, name=self.name, margin=self.margin
        )
        return _above_foot(pose_of(view, aspect), frame)


@dataclass(frozen=True, slots=True)
class AimView:
    """A view that the stage gives, made for a picture of the usual shape."""

    view: View

    @property
    def name(self) -> str:
        """Of the view of a whole room, which this is none of."""
        return ""

    def pose(self, _: Pose, frame: Frame) -> Pose:
        """Return where the camera goes; a narrower picture must be taken from afar."""
        found = pose_of(self.view, ASPECT)
        tall = found.tall * max(1.0, ASPECT / _clear(frame))
        return _above_foot(replace(found, tall=tall), frame)


@dataclass(frozen=True, slots=True, eq=False)
class AimStart:
    """The view of a whole room in which little of what is in the way is hidden."""

    stage: Stage

    @property
    def name(self) -> str:
        """Of the usual view, if it is that."""
        back = pose_of(self._view(ASPECT), ASPECT)
        stands = abs(BEARINGS["south-east"] - back.bearing) < 1.0
        return "south-east" if stands and abs(back.elevation - ELEVATION) < 1.0 else ""

    def pose(self, _: Pose, frame: Frame) -> Pose:
        """Return where the camera goes."""
        aspect = _clear(frame)
        return _above_foot(pose_of(self._view(aspect), aspect), frame)

    def _view(self, aspect: float) -> View:
        return view_of_place(self.stage, aspect)


def _clear(frame: Frame) -> float:
    """Return width by height of what the tools at the bottom leave of the picture."""
    return frame.aspect / (1 - frame.foot)


def _above_foot(pose: Pose, frame: Frame) -> Pose:
    """Return a pose for the whole picture that shows the same above the tools."""
    tall = pose.tall / (1 - frame.foot)
    target = np.array(pose.target) - pose.up * tall * frame.foot / 2
    x, y, z = target.tolist()
    return replace(pose, target=(x, y, z), tall=tall)


def at_room(stage: Stage, name: str) -> Aim:
    """Return the view of the whole room by its name."""
    towards = direction(name)
    return Aim(held(stage, towards), towards, _ROUND_ROOM, name)


def at_all(stage: Stage) -> Aim:
    """Return the view of the whole room from the side the camera is on."""
    return Aim(corners_of(stage.low, stage.high), None, _ROUND_ROOM)


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
