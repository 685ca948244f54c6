"""From points of the world to pixels of a picture, as the drawing's own camera does."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from viewer.stage.drawn import Point, Points, View


@dataclass(frozen=True, slots=True)
class Projection:
    """A camera and the picture it makes.

    Attributes:
        view: Where the camera stands.
        width, height: Of the picture, pixels.
        left, top: Where the picture lies on a larger canvas, pixels.
    """

    view: View
    width: int
    height: int
    left: int = 0
    top: int = 0

    def pixels(self, points: Points) -> Points:
        """Return where points are seen: x to the right, y down, shape (n, 2).

        What lies behind the eye is not a number.
        """
        view = self.view
        right, up, back = _axes(view)
        from_eye = np.asarray(points, dtype=float).reshape(-1, 3) - view.eye
        across, rise, ahead = from_eye @ right, from_eye @ up, -(from_eye @ back)
        if view.parallel:
            scale = np.full(len(from_eye), self.width / view.width)
        else:
            slope = math.tan(math.radians(view.angle / 2))
            near = np.where(ahead > 0, ahead, np.nan)
            scale = self.height / (2 * slope * near)
        x = self.left + self.width / 2 + across * scale
        y = self.top + self.height / 2 - rise * scale
        found: Points = np.column_stack([x, y])
        return found

    def pixel(self, point: Point) -> tuple[float, float]:
        """Return where one point is seen."""
        x, y = self.pixels(np.array([point]))[0]
        return float(x), float(y)


@lru_cache(maxsize=4)
def _axes(view: View) -> tuple[Points, Points, Points]:
    """Return the ways to the right, up and back of a camera: all it sees asks them."""
    back = _unit(np.subtract(view.eye, view.target))
    right = _unit(np.cross(view.up, back))
    return right, np.cross(back, right), back


def _unit(vector: Points) -> Points:
    found: Points = vector / np.linalg.norm(vector)
    return found
