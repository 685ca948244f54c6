"""Which way to look at something so that little stands in front of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.cameras import (
    ASPECT,
    CORNERS,
    ELEVATION,
    STEEP,
    direction,
    framed,
    towards_eye,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from viewer.stage.parts import Points, Shape, View

_BEARINGS: Final = tuple(float(bearing) for bearing in range(15, 375, 30))
"""Degrees clockwise from north that are tried."""
_ELEVATION: Final = 30.0
_SOUTH: Final = (0.0, -1.0)
"""What has no front is looked at as if it faced south."""
_ASIDE: Final = 40.0
"""Degrees off the front from which a front and what stands before it read best."""
_UNUSUAL: Final = 0.15
"""Share of points another view must show more of than the usual one."""
_TOO_STEEP: Final = 0.1
"""Share of points a steep view must show more of than a flat one."""
_FRAME: Final = 0.14
"""Share of the picture kept free about what is looked at."""


@dataclass(frozen=True, slots=True)
class Screens:
    """The bounds of all that can hide something.

    Attributes:
        low, high: Shape (n, 3), metres.
    """

    low: Points
    high: Points

    def hide(self, points: Points, ray: Points) -> float:
        """Return which share of points something hides, seen along a ray to the eye."""
        if not len(self.low):
            return 0.0
        step = np.where(np.abs(ray) < 1e-9, 1e-9, ray)  # noqa: PLR2004 - not through zero
        one = (self.low[None] - points[:, None]) / step
        two = (self.high[None] - points[:, None]) / step
        enter = np.minimum(one, two).max(axis=2)
        leave = np.maximum(one, two).min(axis=2)
        # What a point lies on or in does not hide it: only what is entered later.
        hidden = ((leave > enter) & (enter > 0.0)).any(axis=1)
        return float(hidden.mean())


def screens(shapes: Iterable[Shape]) -> Screens:
    """Return the bounds of the solids among the shapes."""
    solid = [
        shape.vertices
        for shape in shapes
        if shape.role == "solid" and not shape.ghost and len(shape.vertices)
    ]
    if not solid:
        return Screens(np.empty((0, 3)), np.empty((0, 3)))
    return Screens(
        np.array([points.min(axis=0) for points in solid]),
        np.array([points.max(axis=0) for points in solid]),
    )


def sampled(points: Points, count: int = 3) -> Points:
    """Return points spread evenly through the bounds of others, shape (n, 3)."""
    low, high = points.min(axis=0), points.max(axis=0)
    share = (np.arange(count) + 0.5) / count
    grid = np.stack(np.meshgrid(share, share, share), axis=-1).reshape(-1, 3)
    found: Points = low + grid * (high - low)
    return found


def best_corner(
    points: Points, blocking: Screens, names: Sequence[str]
) -> tuple[str, float]:
    """Return the view of a whole room in which the fewest of some points are hidden.

    The usual view is kept unless another one shows clearly more.

    Args:
        points: What is to be seen, shape (n, 3).
        blocking: What can hide it.
        names: The views to choose from, the usual one first.

    Returns:
        The name of the view, and its elevation in degrees.
    """

    def cost(one: tuple[str, float]) -> float:
        name, elevation = one
        unusual = _UNUSUAL * ((name != names[0]) + (name not in CORNERS))
        unusual += _TOO_STEEP * (elevation == STEEP)
        if not len(points):
            return unusual
        return blocking.hide(points, np.array(direction(name, elevation))) + unusual

    return min(product(names, (ELEVATION, STEEP)), key=cost)


def best_view(
    points: Points,
    ahead: tuple[float, float] | None,
    blocking: Screens,
    *,
    aspect: float = ASPECT,
) -> View:
    """Return the view of some points from where the least is hidden.

    Args:
        points: What must be in the picture, shape (n, 3).
        ahead: Which way the front of the item points, in plan.
        blocking: What can hide the points.
        aspect: Width by height of the picture.
    """
    east, north = ahead or _SOUTH
    facing = math.degrees(math.atan2(east, north))
    tested = sampled(points)

    def cost(bearing: float) -> float:
        off = abs((bearing - facing + 180) % 360 - 180)
        ray = np.array(towards_eye(bearing, _ELEVATION))
        return blocking.hide(tested, ray) + abs(off - _ASIDE) / 90

    best = min(_BEARINGS, key=cost)
    towards = towards_eye(best, _ELEVATION)
    return framed(points, towards, aspect=aspect, margin=_FRAME)
