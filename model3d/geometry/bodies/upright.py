"""Upright bodies over convex plans, as every required space is one."""

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
        outline: Plan corners, shape (n, 2), counter-clockwise, metres.
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

    @cached_property
    def mesh(self) -> tuple[Points, Faces]:
        """Vertices, shape (2 n, 3), and faces that look outwards."""
        count = len(self.outline)
        triangles = _fan(count)
        return standing(self.outline, self.bottom, self.top, triangles)


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
