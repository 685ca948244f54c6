"""Cut triangles to a box, exactly: for turned bodies, runs and open meshes alike.

A boolean engine answers wrongly or crashes on what is no closed volume; cutting
triangles answers for anything. The cut pieces of a closed body, together with those
corners of the box that lie inside it, have exactly the extents of the intersection.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Triangles = NDArray[np.float64]
    Points = NDArray[np.float64]
    Triple = tuple[float, float, float]


BOX_FACES = np.array(
    # Corners as itertools.product orders them: bit 2 is right, bit 1 out, bit 0 up.
    [
        *((0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1)),
        *((2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)),
    ],
    dtype=np.int64,
)
"""The triangles of a box whose corners stand as ``corners`` gives them."""


def cut(triangles: Triangles, low: Triple, high: Triple) -> Triangles:
    """Return the parts of triangles, shape (n, 3, 3), that lie inside a box.

    Pieces are triangles again; a triangle in a face of the box counts as inside.
    """
    pieces = triangles
    for axis, (start, end) in enumerate(zip(low, high, strict=True)):
        # Corner by corner: a reduction along so short an axis takes many times as
        # long. What is far off on one axis is not looked at on the next.
        a, b, c = pieces[:, :, axis].T
        near = (a <= end) | (b <= end) | (c <= end)
        near &= (a >= start) | (b >= start) | (c >= start)
        if not near.all():
            pieces = pieces[near]
    for axis in range(3):
        if len(pieces):
            pieces = _half(pieces, axis, 1.0, low[axis])
        if len(pieces):
            pieces = _half(pieces, axis, -1.0, -high[axis])
    return pieces


def _half(triangles: Triangles, axis: int, sign: float, level: float) -> Triangles:
    """Keep what has ``sign * coordinate >= level``."""
    height = sign * triangles[:, :, axis] - level
    inside = height >= 0
    if inside.all():
        return triangles
    first, second, third = inside.T
    count = first.astype(np.int8) + second + third
    kept = [triangles[count == 3]]  # noqa: PLR2004 - a triangle has three corners
    for corners in (1, 2):
        mixed = count == corners
        if not mixed.any():
            continue
        odd = (inside[mixed] if corners == 1 else ~inside[mixed]).argmax(axis=1)
        turned = np.flatnonzero(mixed)[:, None], (odd[:, None] + np.arange(3)) % 3
        a, b, c = triangles[turned].transpose(1, 0, 2)
        ha, hb, hc = height[turned].T
        ab = a + (b - a) * (ha / (ha - hb))[:, None]
        ac = a + (c - a) * (ha / (ha - hc))[:, None]
        ab[:, axis] = ac[:, axis] = sign * level
        if corners == 1:
            kept.append(np.stack([a, ab, ac], axis=1))
        else:
            kept.append(np.stack([ab, b, c], axis=1))
            kept.append(np.stack([ab, c, ac], axis=1))
    return np.concatenate(kept)


def all_three(said: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Tell of which rows, shape (n, 3), all is true: sooner than ``all`` tells it."""
    return np.asarray(said[:, 0] & said[:, 1] & said[:, 2])


def corners(low: Triple, high: Triple) -> Points:
    """Return the eight corners of a box, shape (8, 3)."""
    return np.array(
        list(product(*zip(low, high, strict=True))),
        dtype=np.float64,
    )


def winding(triangles: Triangles, points: Points) -> NDArray[np.float64]:
    """Return how often a closed surface winds around each point, shape (n,).

    The solid angle of each triangle by van Oosterom and Strackee (1983); 1 inside
    a body whose faces look outwards, -1 inside one turned inside out, 0 outside.
    """
    result = np.empty(len(points))
    if not len(points):
        return result
    # Each coordinate of each corner by itself, side by side in memory.
    columns = np.ascontiguousarray(triangles.transpose(1, 2, 0))
    for row, point in enumerate(points):
        a, b, c = columns - point[None, :, None]
        la, lb, lc = (np.sqrt(_dot(v, v)) for v in (a, b, c))
        volume = _dot(a, (b[[1, 2, 0]] * c[[2, 0, 1]] - b[[2, 0, 1]] * c[[1, 2, 0]]))
        base = la * lb * lc + _dot(a, b) * lc + _dot(b, c) * la + _dot(c, a) * lb
        result[row] = np.arctan2(volume, base).sum() / (2 * np.pi)
    return result


def _dot(one: Points, other: Points) -> Points:
    """Return the products of vectors that stand in columns, shape (3, n)."""
    (x, y, z), (u, v, w) = one, other
    return np.asarray(x * u + y * v + z * w)
