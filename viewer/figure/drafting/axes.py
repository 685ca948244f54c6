"""From where a drawing looks at the room: what is right, up and towards the reader."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from typing import Protocol

    from viewer.stage.drawn import Point, Points

    class Upright(Protocol):
        """Axes that stand upright: an item's, or a wall's."""

        @property
        def x(self) -> float:
            """East of the origin, metres."""

        @property
        def y(self) -> float:
            """North of the origin, metres."""

        @property
        def right(self) -> tuple[float, float]:
            """Unit vector in plan."""

        @property
        def out(self) -> tuple[float, float]:
            """Unit vector in plan."""


@dataclass(frozen=True, slots=True)
class Axes:
    """Three unit vectors from a point of the world.

    Attributes:
        origin: In the world, metres.
        right, up: On the paper.
        towards: At right angles to it, at the reader.
    """

    origin: Point
    right: Point
    up: Point
    towards: Point

    def seen(self, points: Points) -> Points:
        """Return world points, shape (n, 3), as right, up and towards, metres."""
        turn = np.array([self.right, self.up, self.towards])
        return np.asarray((points - np.array(self.origin)) @ turn.T)

    def spot(self, point: Point) -> tuple[float, float, float]:
        """Return one world point as right, up and towards, metres."""
        x, y, z = self.seen(np.array([point]))[0]
        return float(x), float(y), float(z)


_UP: Final = (0.0, 0.0, 1.0)

NORTH_UP: Final = Axes((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), _UP)
"""A plan as a map has it."""


def above(frame: Upright) -> Axes:
    """Return a plan in which an item's front looks down the paper."""
    right, out = frame.right, frame.out
    return Axes(
        (frame.x, frame.y, 0.0),
        (right[0], right[1], 0.0),
        (-out[0], -out[1], 0.0),
        _UP,
    )


def front(frame: Upright) -> Axes:
    """Return an elevation of an item's front."""
    right, out = frame.right, frame.out
    return Axes(
        (frame.x, frame.y, 0.0), (right[0], right[1], 0.0), _UP, (out[0], out[1], 0.0)
    )


def side(frame: Upright) -> Axes:
    """Return an elevation from the item's right, its front to the left.

    Set to the right of the front and below the plan, it is third-angle projection.
    """
    right, out = frame.right, frame.out
    return Axes(
        (frame.x, frame.y, 0.0),
        (-out[0], -out[1], 0.0),
        _UP,
        (right[0], right[1], 0.0),
    )
