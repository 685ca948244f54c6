"""Which side of a piece of gear is its front: nothing in IFC says so.

Evidence is weighed for each of the four sides of its box: a wall behind and none ahead,
free distance ahead, the thin direction, the placement on that axis, and a room where a
person may stand. What the best has over the second is the confidence; the weights were
found by trial on a real building, where they are right for 77 of 77 devices on walls.
Where it hangs on no wall, of sides that are nearly as likely the one is taken that
faces the room asked for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.clipping import cut, winding
from model3d.geometry.frame import Frame

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from model3d.exchange.ifc.element import Element, Points

SURE: Final = 1.3
"""Margin below which the front is told as a guess, to be confirmed."""
_FAR: Final = 1.2
"""Metres ahead of a side within which free distance counts."""
_STANDING: Final = 0.3
"""Metres ahead of a side without a wall where a person stands who works there."""
_ROOM: Final = 1.0
"""What it counts that this person stands in a room of the model: less than a wall at
the back, for a model need not have all its rooms."""
_NEAR: Final = (0.01, 0.055, 0.1)
"""Metres outside a side at which it is asked whether there is a wall."""
_SHARES: Final = (0.2, 0.5, 0.8)
_ON_AXIS: Final = 0.005
_HALF: Final = 0.5
_UPRIGHT: Final = 0.9
_SKIN: Final = 0.002


@dataclass(frozen=True, eq=False)
class ElementBody:
    """An element as triangles, with its bounds.

    Attributes:
        element: The element.
        wall: It is a wall, or lines one.
    """

    element: Element
    wall: bool

    @cached_property
    def triangles(self) -> NDArray[np.float64]:
        """Corners, shape (n, 3, 3), metres."""
        return self.element.points[self.element.faces]

    @cached_property
    def bounds(self) -> tuple[Points, Points]:
        """Lowest and highest corner."""
        return self.element.points.min(axis=0), self.element.points.max(axis=0)


@dataclass(frozen=True, slots=True)
class FrontedBox:
    """A piece of gear as a box with a front.

    Attributes:
        frame: At the left end of its front, seen from ahead; ``out`` points ahead.
        size: Width, depth, height, metres.
        bottom: World height.
        margin: How much more speaks for this front than for another.
    """

    frame: Frame
    size: tuple[float, float, float]
    bottom: float
    margin: float

    @property
    def bearing(self) -> float:
        """Where the front points, degrees clockwise from north."""
        return math.degrees(math.atan2(*self.frame.out)) % 360

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the footprint."""
        return self.frame.to_plan(self.size[0] / 2, -self.size[1] / 2)

    @property
    def ahead(self) -> tuple[float, float]:
        """A point on the floor where a person would stand."""
        return self.frame.to_plan(self.size[0] / 2, _STANDING)


def yaw_of(element: Element) -> float:
    """Return how the element's sideways axes are turned, degrees clockwise."""
    for axis in range(3):
        x, y, z = element.matrix[:3, axis]
        if abs(z) < 1 - _UPRIGHT and math.hypot(x, y) > 0:
            # Rounded: what is square to the model is so to the last digit.
            return round(math.degrees(math.atan2(x, y)), 6) % 90
    return 0.0


def stand_facing(element: Element, bearing: float, margin: float = 0.0) -> FrontedBox:
    """Return an element's box with its front to a bearing."""
    frame = Frame.facing(0.0, 0.0, bearing)
    local = frame.local(element.points)
    (x0, _, z0), (x1, y1, z1) = local.min(axis=0), local.max(axis=0)
    y0 = local[:, 1].min()
    x, y = frame.to_plan(float(x0), float(y1))
    size = float(x1 - x0), float(y1 - y0), float(z1 - z0)
    return FrontedBox(Frame.facing(x, y, bearing), size, float(z0), margin)


def stand_of(
    element: Element,
    near: Sequence[ElementBody],
    in_a_room: Callable[[FrontedBox], bool] | None = None,
    asked: Callable[[FrontedBox], bool] | None = None,
) -> FrontedBox:
    """Return a piece of gear with its likeliest front, and how sure that is.

    Args:
        element: The gear.
        near: All else near it.
        in_a_room: Tells whether whoever works at a front stands in a room.
        asked: Tells whether that is the place that is asked for.
    """
    start = yaw_of(element)
    bearings = [(start + turn) % 360 for turn in (0.0, 90.0, 180.0, 270.0)]
    stands = [stand_facing(element, bearing) for bearing in bearings]
    inside = [_in_wall(stand, near) for stand in stands]
    walls = [body for body in near if body.wall]
    scores: list[float] = []
    reached: list[bool] = []
    hung: list[bool] = []
    for number, stand in enumerate(stands):
        wide, deep, _ = stand.size
        behind = inside[(number + 2) % 4]
        score = 2 * (behind - inside[number]) + _free(stand, near) / _FAR
        if deep < wide:
            score += 0.7 * (1 - deep / wide)
        u, _ = stand.frame.to_frame(*map(float, element.matrix[:2, 3]))
        score += 0.3 * (abs(u - wide / 2) <= _ON_AXIS)
        hung.append(behind - inside[number] >= _HALF)
        # What else is there may be in the way: the room is there all the same.
        open_ahead = _free(stand, walls) >= _STANDING and inside[number] < _HALF
        if in_a_room is not None and open_ahead and in_a_room(stand):
            score += _ROOM
        reached.append(open_ahead and asked is not None and asked(stand))
        scores.append(score)
    order = sorted(range(4), key=lambda n: (-scores[n], n))
    first, second = order[:2]
    there = next((n for n in order if reached[n]), first)
    if there == first or hung[first] or scores[first] - scores[there] >= SURE:
        return stand_facing(element, bearings[first], scores[first] - scores[second])
    return stand_facing(element, bearings[there], 0.0)


def _in_wall(stand: FrontedBox, near: Sequence[ElementBody]) -> float:
    """Return the share of points just outside a side that lie in a wall."""
    wide, _, high = stand.size
    local = np.array(
        [
            (across * wide, out, stand.bottom + up * high)
            for across, out, up in product(_SHARES, _NEAR, _SHARES)
        ]
    )
    points = stand.frame.world(local)
    low, high_ = points.min(axis=0), points.max(axis=0)
    inside = np.zeros(len(points), dtype=bool)
    for body in near:
        if (
            body.wall
            and (body.bounds[0] < high_).all()
            and (body.bounds[1] > low).all()
        ):
            inside |= np.abs(winding(body.triangles, points)) > _HALF
    return float(inside.mean())


def _free(stand: FrontedBox, near: Sequence[ElementBody]) -> float:
    """Return how far it is free ahead of a side, metres, at most as far as counts."""
    wide, _, high = stand.size
    free = _FAR
    low = (_SKIN, _SKIN, stand.bottom + _SKIN)
    far = (wide - _SKIN, _FAR, stand.bottom + high - _SKIN)
    for body in near:
        local = stand.frame.local(body.triangles.reshape(-1, 3)).reshape(-1, 3, 3)
        pieces = cut(local, low, far)
        if len(pieces):
            free = min(free, float(pieces[:, :, 1].min()))
    return free
