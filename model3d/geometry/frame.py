"""Upright frames: where "right" and "out" are for somebody who faces an item."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

Triple = tuple[float, float, float]
"""A point of the world, metres."""

Corner = tuple[float, float]
"""A point of the plan, metres."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Axes that stand upright: right, out and up, from a point of the plan.

    Seen by a person who stands in front and looks at the item, ``right`` is to the
    right and ``out`` points at the person; height is the world's own.

    Attributes:
        x, y: The origin in plan, metres.
        right: Unit vector in plan.
        out: Unit vector in plan, at right angles to ``right``.
    """

    x: float
    y: float
    right: tuple[float, float]
    out: tuple[float, float]

    @staticmethod
    def facing(x: float, y: float, bearing: float) -> Frame:
        """Make the frame at a point whose ``out`` has a bearing.

        Args:
            x: East, metres.
            y: North, metres.
            bearing: Degrees clockwise from north.

        >>> Frame.facing(0, 0, 180).right, Frame.facing(0, 0, 180).out
        ((1.0, 0.0), (0.0, -1.0))
        """
        sine, cosine = turned(bearing)
        return Frame(x, y, (-cosine, sine), (sine, cosine))

    def moved(self, right: float, out: float) -> Frame:
        """Return the frame with its origin moved along its own axes."""
        x, y = self.to_plan(right, out)
        return Frame(x, y, self.right, self.out)

    def mirrored(self) -> Frame:
        """Return the frame with left and right exchanged."""
        return Frame(self.x, self.y, (-self.right[0], -self.right[1]), self.out)

    @property
    def mirrors(self) -> bool:
        """Whether right, out, up is a left-handed system, as it is for a viewer."""
        return self.right[0] * self.out[1] - self.right[1] * self.out[0] < 0

    def to_plan(self, right: float, out: float) -> tuple[float, float]:
        """Return the plan point at a place in the frame."""
        return (
            self.x + right * self.right[0] + out * self.out[0],
            self.y + right * self.right[1] + out * self.out[1],
        )

    def to_frame(self, x: float, y: float) -> tuple[float, float]:
        """Return right and out of a plan point."""
        dx, dy = x - self.x, y - self.y
        return (
            dx * self.right[0] + dy * self.right[1],
            dx * self.out[0] + dy * self.out[1],
        )

    def local(self, points: Points) -> Points:
        """Return world points, shape (n, 3), as right, out, up."""
        return (points - (self.x, self.y, 0.0)) @ self._axes().T

    def world(self, points: Points) -> Points:
        """Return frame points, shape (n, 3), in the world."""
        return points @ self._axes() + (self.x, self.y, 0.0)

    def bounds(self, low: Triple, high: Triple) -> tuple[Triple, Triple]:
        """Return the world's bounds of a box given in the frame."""
        (rx, ry), (ox, oy) = self.right, self.out
        xs = sorted((low[0] * rx, high[0] * rx)), sorted((low[1] * ox, high[1] * ox))
        ys = sorted((low[0] * ry, high[0] * ry)), sorted((low[1] * oy, high[1] * oy))
        return (
            (self.x + xs[0][0] + xs[1][0], self.y + ys[0][0] + ys[1][0], low[2]),
            (self.x + xs[0][1] + xs[1][1], self.y + ys[0][1] + ys[1][1], high[2]),
        )

    def _axes(self) -> Points:
        return np.array([(*self.right, 0.0), (*self.out, 0.0), (0.0, 0.0, 1.0)])


def turned(bearing: float) -> tuple[float, float]:
    """Return sine and cosine of degrees, exact at quarter turns.

    >>> turned(270), turned(90)
    ((-1.0, 0.0), (1.0, 0.0))
    """
    quarter, rest = divmod(bearing, 90.0)
    if rest == 0.0:
        return ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))[int(quarter) % 4]
    angle = math.radians(bearing)
    return math.sin(angle), math.cos(angle)
