"""Which way to look at something so that little stands in front of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.layers import INTRUSIONS, SPACES, WAYS, WORKING_MET
from viewer.stage.looking.cameras import (
    ASPECT,
    BEARINGS,
    ELEVATION,
    framed,
    towards_eye,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from numpy.typing import NDArray

    from viewer.stage.drawn import Dimension, Point, Points, Shape, View
    from viewer.stage.parts import Stage

_BEARINGS: Final = tuple(float(bearing) for bearing in range(15, 375, 30))
"""Degrees clockwise from north that are tried."""
_ELEVATION: Final = 30.0
_SOUTH: Final = (0.0, -1.0)
"""What has no front is looked at as if it faced south."""
_ASIDE: Final = 40.0
"""Degrees off the front from which a front and what stands before it read best."""
USUAL: Final = BEARINGS["south-east"]
"""Degrees clockwise from north, where the viewer of a room usually stands."""
ALL_ROUND: Final = tuple((USUAL + turn) % 360 for turn in range(0, 360, 15))
"""Stands that are tried for a whole room, the usual one first."""
ELEVATIONS: Final = (ELEVATION, 42.0, 52.0)
"""Degrees above the horizon that are tried."""
_UNUSUAL: Final = 0.15
"""Share of points a stand at another corner must show more."""
_FLAT: Final = 0.4
"""Share of points a view straight along a wall must show more than from a corner."""
_TOO_STEEP: Final = 0.05
"""Share of points a step of elevation must show more."""
_NEAR: Final = 6.0
"""Metres. What stands further away hides nothing from a camera that looks down."""
_MOST: Final = 1500
"""In a hall with more bodies than that no stand is better than another."""
_MOST_SAMPLED: Final = 60
"""Shapes that are looked at to find a good stand."""
_ACROSS: Final = 9
"""Points across a way where it is too narrow."""
_FRAME: Final = 0.14
"""Share of the picture kept free about what is looked at."""


_NO_WAY: Final = 1e-9
"""Metres. A ray goes at least so far along each axis, so that none divides by zero."""


@dataclass(frozen=True, slots=True)
class Screens:
    """The bounds of all that can hide something.

    Attributes:
        low, high: Shape (n, 3), metres.
    """

    low: Points
    high: Points

    def near(self, points: Points) -> Screens:
        """Return the bodies that stand so near to points that they may hide them."""
        low, high = points.min(axis=0) - _NEAR, points.max(axis=0) + _NEAR
        close = ((self.low <= high) & (self.high >= low)).all(axis=1)
        return Screens(self.low[close], self.high[close])

    def before(self, points: Points, eye: Points) -> NDArray[np.bool_]:
        """Return which bodies stand between an eye and any of some points."""
        enter, leave = self._met(points, eye - points)
        between = (leave > enter) & (enter > 0.0) & (enter < 1.0)
        return np.asarray(between.any(axis=0))

    def hide(self, points: Points, rays: Points) -> Points:
        """Return which share of points something hides along each ray, shape (r,).

        Args:
            points: Shape (n, 3).
            rays: Towards the eye, shape (r, 3).
        """
        along = np.repeat(rays, len(points), axis=0)
        enter, leave = self._met(np.tile(points, (len(rays), 1)), along)
        # What a point lies on or in does not hide it: only what is entered later.
        hidden = ((leave > enter) & (enter > 0.0)).any(axis=1)
        return np.asarray(hidden.reshape(len(rays), len(points)).mean(axis=1))

    def _met(self, points: Points, rays: Points) -> tuple[Points, Points]:
        """Return where rays enter and leave each body, in lengths of the ray."""
        steps = 1.0 / np.where(np.abs(rays) < _NO_WAY, _NO_WAY, rays)
        enter = np.full((len(points), len(self.low)), -np.inf)
        leave = np.full((len(points), len(self.low)), np.inf)
        # An axis at a time: over three numbers a reduction is slow.
        for axis in range(3):
            start, step = points[:, axis, None], steps[:, axis, None]
            one = (self.low[:, axis] - start) * step
            two = (self.high[:, axis] - start) * step
            np.maximum(enter, np.minimum(one, two), out=enter)
            np.minimum(leave, np.maximum(one, two), out=leave)
        return enter, leave


NOTHING: Final = Screens(np.empty((0, 3)), np.empty((0, 3)))
"""Nothing that could hide anything."""


def screens(shapes: Iterable[Shape]) -> Screens:
    """Return the bounds of the solids among the shapes."""
    solid = [
        shape.vertices
        for shape in shapes
        if shape.role == "solid" and not shape.ghost and len(shape.vertices)
    ]
    if not solid:
        return NOTHING
    return Screens(
        np.array([points.min(axis=0) for points in solid]),
        np.array([points.max(axis=0) for points in solid]),
    )


def sampled(points: Points, count: int = 2) -> Points:
    """Return points spread evenly through the bounds of others, shape (n, 3)."""
    low, high = points.min(axis=0), points.max(axis=0)
    found: Points = low + _grid(count) * (high - low)
    return found


@cache
def _grid(count: int) -> Points:
    """Return points spread evenly through a cube of one metre."""
    share = (np.arange(count) + 0.5) / count
    return np.stack(np.meshgrid(share, share, share), axis=-1).reshape(-1, 3)


def narrow_places(stage: Stage, item: str | None = None) -> Iterator[Dimension]:
    """Yield the sizes of ways out that are too narrow, or those of one item's ways."""
    rows = {row for one in stage.shapes if one.layer == WAYS for row in one.judgements}
    for size in stage.dimensions:
        if size.short and size.judgement in rows and item in {None, size.item}:
            yield size


def important(stage: Stage) -> Points:
    """Return points on what is in the way, and in spaces that are not met or open.

    Points where a way out is too narrow are among them. Where there is nothing of all
    that, points in the working spaces that are met.
    """
    narrow = [np.linspace(one.start, one.end, _ACROSS) for one in narrow_places(stage)]
    for layers in ({SPACES, INTRUSIONS}, {WORKING_MET}):
        shapes = [
            shape
            for shape in stage.shapes
            if shape.role in {"space", "intrusion"} and shape.layer in layers
        ]
        step = -(-len(shapes) // _MOST_SAMPLED) or 1
        parts = [sampled(shape.vertices, 3) for shape in shapes[::step]]
        if parts or narrow:
            return np.concatenate([*parts, *narrow])
    return np.empty((0, 3))


def best_stand(points: Points, blocking: Screens) -> tuple[float, float]:
    """Return where to stand so that few of some points in a room are hidden.

    The usual stand is kept unless another one shows clearly more; a flat view along a
    wall, or a steep one, must show still more.

    Args:
        points: What is to be seen, shape (n, 3).
        blocking: What can hide it.

    Returns:
        Bearing and elevation, in degrees.
    """
    stands = list(product(ALL_ROUND, ELEVATIONS))
    if not len(points) or len(blocking.low) > _MOST:
        return stands[0]

    def cost(stand: tuple[float, float]) -> float:
        bearing, elevation = stand
        off = (bearing - USUAL) % 90
        quarters = round((bearing - USUAL) / 90) % 4
        unusual = _FLAT * min(off, 90 - off) / 45 + _UNUSUAL * (quarters != 0)
        unusual += _TOO_STEEP * ELEVATIONS.index(elevation)
        ray = np.array([towards_eye(bearing, elevation)])
        return float(blocking.hide(points, ray)[0]) + unusual

    return min(stands, key=cost)


def best_view(
    points: Points,
    ahead: tuple[float, float] | None,
    blocking: Screens,
    *,
    aspect: float = ASPECT,
    room: Callable[[Point], Points] | None = None,
) -> View:
    """Return the view of some points from where the least is hidden.

    Args:
        points: What must be in the picture, shape (n, 3).
        ahead: Which way the front of the item points, in plan.
        blocking: What can hide the points.
        aspect: Width by height of the picture.
        room: What else is seen by a camera in a direction, to fill the picture.
    """
    east, north = ahead or _SOUTH
    facing = math.degrees(math.atan2(east, north))
    stands = np.array(_BEARINGS)
    off = abs((stands - facing + 180) % 360 - 180)
    rays = np.array([towards_eye(bearing, _ELEVATION) for bearing in _BEARINGS])
    hidden = blocking.near(points).hide(sampled(points), rays)
    best = _BEARINGS[int((hidden + abs(off - _ASIDE) / 90).argmin())]
    towards = towards_eye(best, _ELEVATION)
    around = room(towards) if room else None
    return framed(points, towards, aspect=aspect, margin=_FRAME, room=around)
