"""Where the camera of the window stands, and how it turns, shifts, zooms and flies.

A pose turns about a point with the room's upright staying upright. It has no view from
which a next one could not be reached, so that all of its numbers can glide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.cameras import ANGLE, towards_eye
from viewer.stage.parts import View

if TYPE_CHECKING:
    from viewer.stage.parts import Point, Points

PLAN_ANGLE: Final = 1.5
"""Degrees of a view from above: so little that parallel lines seem to stay so."""
_STEEPEST: Final = 90.0
_LOWEST: Final = -30.0
"""Degrees. From further below nothing is seen but the floor's underside."""
_NEAREST: Final = 0.02
_FURTHEST: Final = 4000.0
"""Metres of height in the picture."""
_QUARTER_TURNS: Final = 180.0
"""Degrees the camera goes about when the mouse crosses the whole picture."""
_PLAN_ABOVE: Final = 0.98
"""A view whose eye is steeper than that, by its sine, is one from above."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A camera that turns about a point.

    Attributes:
        target: What it looks at, in the middle of the picture.
        bearing: Degrees clockwise from north in which the eye is.
        elevation: Degrees above the horizon.
        tall: Height of the picture at the target, metres.
        angle: Of the picture from bottom to top, degrees.
    """

    target: Point
    bearing: float
    elevation: float
    tall: float
    angle: float = ANGLE

    @property
    def back(self) -> Points:
        """Unit vector towards the eye."""
        return np.array(towards_eye(self.bearing, self.elevation))

    @property
    def right(self) -> Points:
        """Unit vector to the right in the picture."""
        turn = math.radians(self.bearing)
        return np.array([-math.cos(turn), math.sin(turn), 0.0])

    @property
    def up(self) -> Points:
        """Unit vector upwards in the picture."""
        return np.cross(self.back, self.right)

    @property
    def away(self) -> float:
        """Distance from the eye to the target, metres."""
        return self.tall / 2 / math.tan(math.radians(self.angle / 2))

    def view(self, aspect: float) -> View:
        """Return the same camera as the stage has it.

        Args:
            aspect: Width by height of the picture.
        """
        eye = np.array(self.target) + self.back * self.away
        return View(
            "",
            _point(eye),
            self.target,
            _point(self.up),
            self.angle,
            self.tall * aspect,
        )

    def turned(self, across: float, upwards: float) -> Pose:
        """Return the pose after a drag, in shares of the picture's height.

        Args:
            across: To the right.
            upwards: Upwards; the eye goes down.
        """
        elevation = self.elevation - upwards * _QUARTER_TURNS
        bearing = (self.bearing + across * _QUARTER_TURNS) % 360
        elevation = min(max(elevation, _LOWEST), _STEEPEST)
        # Out of a plan one looks into a room, as from everywhere else.
        plan = self.angle < ANGLE and elevation > _STEEPEST - 1.0
        angle = self.angle if plan else ANGLE
        return replace(self, bearing=bearing, elevation=elevation, angle=angle)

    def shifted(self, across: float, upwards: float) -> Pose:
        """Return the pose after the picture was pulled, in shares of its height."""
        moved = self.right * across + self.up * upwards
        return replace(self, target=_point(np.array(self.target) - moved * self.tall))

    def zoomed(self, factor: float, across: float = 0.0, upwards: float = 0.0) -> Pose:
        """Return the pose nearer by a factor; a point of the picture stays in place.

        Args:
            factor: Above 1 shows less and larger.
            across: Of the point that stays, to the right of the picture's middle, in
                shares of its height.
            upwards: The same upwards.
        """
        tall = min(max(self.tall / factor, _NEAREST), _FURTHEST)
        left = self.tall - tall
        moved = self.right * across * left + self.up * upwards * left
        target = _point(np.array(self.target) + moved)
        return replace(self, target=target, tall=tall)


def pose_of(view: View, aspect: float) -> Pose:
    """Return the pose of a view that a stage gives.

    Args:
        view: Its picture has its top upwards, or northwards if it is from above.
        aspect: Width by height of the picture the view is made for.
    """
    back = np.subtract(view.eye, view.target)
    away = float(np.linalg.norm(back))
    back = back / away
    elevation = math.degrees(math.asin(max(-1.0, min(1.0, float(back[2])))))
    if abs(back[2]) > _PLAN_ABOVE:
        # The eye of a plan is south of what it looks at, by nothing at all.
        east, north = -view.up[0], -view.up[1]
    else:
        east, north = float(back[0]), float(back[1])
    bearing = math.degrees(math.atan2(east, north)) % 360
    if view.parallel:
        return Pose(view.target, bearing, elevation, view.width / aspect, PLAN_ANGLE)
    tall = 2 * away * math.tan(math.radians(view.angle / 2))
    return Pose(view.target, bearing, elevation, tall, view.angle)


def between(start: Pose, end: Pose, share: float) -> Pose:
    """Return a pose on the way from one to another; it starts and ends gently.

    Args:
        start: Where it comes from.
        end: Where it goes.
        share: Of the time, 0 to 1.
    """
    if share >= 1.0:
        return end
    eased = share * share * (3 - 2 * share)
    turn = (end.bearing - start.bearing + 180) % 360 - 180
    a, b = np.array(start.target), np.array(end.target)
    return Pose(
        _point(a + (b - a) * eased),
        (start.bearing + turn * eased) % 360,
        start.elevation + (end.elevation - start.elevation) * eased,
        start.tall ** (1 - eased) * end.tall**eased,
        start.angle ** (1 - eased) * end.angle**eased,
    )


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
