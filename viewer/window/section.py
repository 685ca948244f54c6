"""A plane that cuts the room open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from viewer.stage.drawn import Point, Points

Axis = Literal["x", "y", "z"]
AXES: Final[tuple[Axis, ...]] = ("x", "y", "z")
NAMES: Final[dict[Axis, str]] = {"x": "east-west", "y": "north-south", "z": "height"}
"""Which way the plane is moved."""


@dataclass(frozen=True, slots=True)
class Section:
    """An upright or level plane.

    Attributes:
        axis: The way it is moved; it stands across that.
        at: Where it is, metres.
    """

    axis: Axis
    at: float

    @property
    def point(self) -> Point:
        """A point on the plane."""
        x, y, z = (self.at if one == self.axis else 0.0 for one in AXES)
        return x, y, z

    def normal(self, eye: Point) -> Point:
        """Return the unit vector to the side that stays: the one away from the eye."""
        side = -1.0 if eye[AXES.index(self.axis)] > self.at else 1.0
        x, y, z = (side if one == self.axis else 0.0 for one in AXES)
        return x, y, z

    def keeps(self, points: Points, eye: Point) -> NDArray[np.bool_]:
        """Tell which points, shape (..., 3), are on the side that stays."""
        kept: NDArray[np.bool_] = (points - self.point) @ self.normal(eye) >= 0.0
        return kept
