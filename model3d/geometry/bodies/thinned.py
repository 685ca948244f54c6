"""Surfaces of very many triangles as fewer, to be drawn: nothing is judged by them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

MOST_FACES: Final = 200_000
"""Triangles. A page of more takes seconds to load, and a picture shows no more."""
_SAMPLE: Final = 100_000
"""Triangles by which the area of all is reckoned."""


def thinned_surface(
    points: Points, faces: Faces, most: int = MOST_FACES
) -> tuple[Points, Faces]:
    """Return vertices and faces of a surface with at most so many triangles.

    All points in a cube of a grid become the first of them; the grid is made coarser
    until the triangles that are left are few enough. A surface that has so few is
    returned as it is.
    """
    if len(faces) <= most:
        return points, faces
    low = points[np.unique(faces[:: max(len(faces) // _SAMPLE, 1)])].min(axis=0)
    size = _spacing(points, faces, most)
    while True:
        firsts, number = _cubes(points, low, size)
        left = number[faces]
        a, b, c = left.T
        left = left[(a != b) & (b != c) & (c != a)]
        # Those that came to lie on each other are one.
        alike = np.unique(np.sort(left, axis=1), axis=0, return_index=True)[1]
        left = left[np.sort(alike)]
        if 0 < len(left) <= most:
            used, places = np.unique(left, return_inverse=True)
            return points[firsts[used]], places.reshape(-1, 3).astype(np.int64)
        if not len(left):  # all lie in one cube, or are slivers: some of them then
            some = faces[:: -(-len(faces) // most)]
            used, places = np.unique(some, return_inverse=True)
            return points[used], places.reshape(-1, 3).astype(np.int64)
        size *= max(1.25, 0.95 * math.sqrt(len(left) / most))


def _spacing(points: Points, faces: Faces, most: int) -> float:
    """Return how far the points of so few triangles on the same area would be apart."""
    some = points[faces[:: max(len(faces) // _SAMPLE, 1)]]
    a, b, c = some.transpose(1, 0, 2)
    double = np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()
    return max(math.sqrt(double * len(faces) / len(some) / most), 1e-6)


def _cubes(
    points: Points, low: Points, size: float
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the first point in each cube with any, and the cube of each point."""
    x, y, z = np.floor((points - low) / size).astype(np.int64).T + 2**20
    key = (x << 42) + (y << 21) + z
    _, firsts, number = np.unique(key, return_index=True, return_inverse=True)
    return firsts, number
