"""Planes that cut the room open: what one looks at, and where they show an inside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from viewer.stage.bodies.surfaces import NO_EDGES
from viewer.stage.looking.cameras import BEARINGS, towards_eye

if TYPE_CHECKING:
    from collections.abc import Iterable

    from viewer.stage.drawn import Point, Points, Shape

Axis = Literal["x", "y", "z"]
AXES: Final[tuple[Axis, ...]] = ("x", "y", "z")
FULL: Final = ("solid", "leaf", "intrusion")
"""Roles of shapes that are full inside."""
_ON_FACE: Final = 1e-4
"""Metres. What is nearer to a plane than that lies in it."""
_ASIDE: Final = 0.002
"""Metres a plane is moved aside that would lie in a face."""


@dataclass(frozen=True, slots=True)
class Cut:
    """An upright or level plane that cuts things open.

    Attributes:
        point: On the plane.
        towards: Unit vector to the side that is cut away, where the eye is.
    """

    point: Point
    towards: Point

    def heights(self, points: Points) -> Points:
        """Return how far points, shape (..., 3), are on the side that goes."""
        found: Points = (points - np.array(self.point)) @ np.array(self.towards)
        return found

    @property
    def words(self) -> str:
        """What one looks at: looking west."""
        away = -np.array(self.towards)
        ways = {name: towards_eye(angle, 0.0) for name, angle in BEARINGS.items()}
        ways |= {"down": (0.0, 0.0, -1.0), "up": (0.0, 0.0, 1.0)}
        name = max(ways, key=lambda one: float(np.dot(ways[one], away)))
        return f"Section, looking {name}"


@dataclass(frozen=True, slots=True)
class Section:
    """A plane across one of the axes, whichever side it is seen from.

    Attributes:
        axis: The way it is moved; it stands across that.
        at: Where it is, metres.
    """

    axis: Axis
    at: float

    def cut(self, eye: Point) -> Cut:
        """Return it with the side that is cut away: the one where the eye is."""
        side = 1.0 if eye[AXES.index(self.axis)] > self.at else -1.0
        return Cut(along(self.axis, self.at), along(self.axis, side))


def along(axis: Axis, length: float) -> Point:
    """Return the point of an axis that lies so far along it."""
    x, y, z = (length if one == axis else 0.0 for one in AXES)
    return x, y, z


def beside_faces(shapes: Iterable[Shape], towards: Point, at: float) -> float:
    """Return where a plane across a direction cuts things, nearest to a place.

    A plane in the face of a solid would show that face and no inside.

    Args:
        shapes: What is drawn.
        towards: Unit vector across the plane.
        at: How far along it the plane shall be, metres.
    """
    faces = [NO_EDGES.ravel()]
    for shape in shapes:
        if shape.role in FULL and len(shape.faces):
            heights = (shape.vertices @ np.array(towards))[shape.faces]
            faces.append(heights[np.ptp(heights, axis=1) < _ON_FACE, 0])
    # There are more places than faces, and a face lies at one of them: one is free.
    taken = np.unique(np.concatenate(faces))
    steps = np.arange(1, len(taken) // 2 + 2) * _ASIDE
    places = at + np.array([0.0, *np.stack([steps, -steps], axis=1).ravel()])
    after = np.searchsorted(taken, places - _ON_FACE)
    ends = np.append(taken, np.inf)[after]
    return float(places[ends > places + _ON_FACE][0])
