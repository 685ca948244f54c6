"""What an upright space and a box that stands square to it share, in closed form.

The boolean engine behind trimesh works in single precision: its corners are those of
the bodies rounded to that, and where edges cross. The same is done here by cutting the
plan of the space at the sides of the box, so that every figure is the one that trimesh
gives, to the last digit told (tests/reference/test_square_bodies.py).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.extents import BoxView
    from model3d.geometry.bodies.upright import Column

    Points = NDArray[np.float64]
    Corner = tuple[float, float]

_FLAT: Final = 1e-12
"""Square or plain metres. What is no more is contact: the engine's answer stands."""


@dataclass(frozen=True, slots=True)
class SharedPart:
    """What is shared, in the frame of the space.

    Attributes:
        volume: Cubic metres.
        corners: Shape (n, 3), metres.
    """

    volume: float
    corners: Points


def square_part(space: Column, box: BoxView) -> SharedPart | None:
    """Return what a space and a box share; None where they only touch, or less."""
    low, high = _single(box.low).tolist(), _single(box.high).tolist()
    bottom, top = _single((space.bottom, space.top)).tolist()
    bottom, top = max(bottom, low[2]), min(top, high[2])
    if top - bottom <= _FLAT:
        return None
    outline: list[Corner] = list(map(tuple, _single(space.outline).tolist()))
    for axis in (0, 1):
        outline = _half(outline, axis, 1.0, low[axis])
        outline = _half(outline, axis, -1.0, -high[axis])
    if not outline:
        return None
    plan = _single(outline)
    after = np.roll(plan, -1, axis=0)
    area = float((plan[:, 0] * after[:, 1] - after[:, 0] * plan[:, 1]).sum()) / 2
    if area <= _FLAT:
        return None
    corners = np.empty((2 * len(plan), 3))
    corners[: len(plan), :2] = corners[len(plan) :, :2] = plan
    corners[: len(plan), 2], corners[len(plan) :, 2] = bottom, top
    return SharedPart(area * (top - bottom), corners)


def _single(values: object) -> Points:
    """Round to single precision."""
    return np.asarray(values, dtype=np.float32).astype(np.float64)


def _half(outline: list[Corner], axis: int, sign: float, level: float) -> list[Corner]:
    """Keep of a convex polygon what has ``sign * coordinate >= level``."""
    heights = [sign * point[axis] - level for point in outline]
    if not heights or min(heights) >= 0:
        return outline
    kept: list[Corner] = []
    points, after = outline, [*outline[1:], outline[0]]
    ends = zip(points, after, heights, [*heights[1:], heights[0]], strict=True)
    for one, other, here, there in ends:
        if here >= 0:
            kept.append(one)
        if (here >= 0) != (there >= 0):
            share = here / (here - there)
            across = one[1 - axis] + (other[1 - axis] - one[1 - axis]) * share
            at = sign * level
            kept.append((at, across) if axis == 0 else (across, at))
    return kept
