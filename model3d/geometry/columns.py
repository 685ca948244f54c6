"""Upright bodies over plans, and what two of them share over convex plans.

Nearly everything in a room is an upright box, and every required space stands upright:
what they share needs no boolean engine and is exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.frame import Triple

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


@dataclass(frozen=True)
class Column:
    """An upright body over a convex plan, in anybody's frame.

    Attributes:
        outline: Plan corners, shape (n, 2), counter-clockwise, metres; none for a
            body that is empty.
        bottom, top: Heights, metres.
    """

    outline: Points
    bottom: float
    top: float

    @staticmethod
    def box(low: Triple, high: Triple) -> Column:
        """Return a box given by its corners."""
        (a, b, c), (d, e, f) = low, high
        return Column(np.array([(a, b), (d, b), (d, e), (a, e)]), c, f)

    @property
    def bounds(self) -> tuple[Triple, Triple]:
        """Lowest and highest corner in the frame, metres."""
        (a, b), (c, d) = self.outline.min(axis=0), self.outline.max(axis=0)
        low, high = (float(a), float(b)), (float(c), float(d))
        return (*low, self.bottom), (*high, self.top)

    @property
    def volume(self) -> float:
        """Cubic metres: the plan's area by its corners, times the height."""
        if not len(self.outline):
            return 0.0
        # From a corner of the plan, so that no digits are lost far from the origin.
        x, y = (self.outline[1:] - self.outline[0]).T
        twice = (x[:-1] * y[1:] - x[1:] * y[:-1]).sum()
        return float(twice) / 2 * (self.top - self.bottom)

    @cached_property
    def mesh(self) -> tuple[Points, Faces]:
        """Vertices, shape (2 n, 3), and faces that look outwards."""
        count = len(self.outline)
        triangles = _fan(count)
        return standing(self.outline, self.bottom, self.top, triangles)

    def shared(self, other: Column) -> Column:
        """Return what two columns share; without corners where they share nothing."""
        bottom, top = max(self.bottom, other.bottom), min(self.top, other.top)
        outline = self.outline if top > bottom else self.outline[:0]
        corners = other.outline.tolist()
        for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
            if len(outline):
                outline = _left_of(outline, start, end)
        return Column(outline, bottom, top)


def standing(
    outline: Points, bottom: float, top: float, triangles: Faces
) -> tuple[Points, Faces]:
    """Stand a polygon up: return vertices and faces of the closed body.

    Args:
        outline: Plan points, shape (n, 2), counter-clockwise, metres.
        bottom: World height of the underside.
        top: World height of the top.
        triangles: Cover the polygon; corners counter-clockwise, shape (n - 2, 3).
    """
    count = len(outline)
    vertices = np.empty((2 * count, 3))
    vertices[:count, :2] = vertices[count:, :2] = outline
    vertices[:count, 2], vertices[count:, 2] = bottom, top
    faces = np.concatenate([triangles[:, ::-1], triangles + count, _sides(count)])
    return vertices, faces.astype(np.int64)


def _left_of(outline: Points, start: list[float], end: list[float]) -> Points:
    """Return the part of a convex polygon on the left of a line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    side = dx * (outline[:, 1] - start[1]) - dy * (outline[:, 0] - start[0])
    inside = side >= 0
    if inside.all():
        return outline
    if not inside.any():
        return outline[:0]
    # The corner after each: cheaper than numpy's roll.
    place = np.arange(1, len(side) + 1)
    place[-1] = 0
    after, side_after = outline[place], side[place]
    crossing = inside != inside[place]
    share = np.zeros(len(side))
    share[crossing] = side[crossing] / (side - side_after)[crossing]
    on_line = outline + share[:, None] * (after - outline)
    both = np.stack([outline, on_line], axis=1).reshape(-1, 2)
    kept: Points = both[np.column_stack([inside, crossing]).ravel()]
    return kept


@lru_cache(maxsize=256)
def _fan(count: int) -> Faces:
    here = np.arange(1, count - 1)
    return np.column_stack([np.zeros_like(here), here, here + 1])


@lru_cache(maxsize=256)
def _sides(count: int) -> Faces:
    here = np.arange(count)
    after = np.roll(here, -1)
    return np.concatenate(
        [
            np.column_stack([here, after, after + count]),
            np.column_stack([here, after + count, here + count]),
        ]
    )
