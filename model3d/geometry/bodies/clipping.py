"""Cut triangles to a box, exactly: for turned bodies, runs and open meshes alike.

A boolean engine answers wrongly or crashes on what is no closed volume; cutting
triangles answers for anything. The cut pieces of a closed body, together with those
corners of the box that lie inside it, have exactly the extents of the intersection.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Triangles = NDArray[np.float64]
    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Triple = tuple[float, float, float]
    Beside = dict[tuple[int, float], Triangles]
    """The triangles that meet a level on an axis."""


_MANY: Final = 1000
"""Triangles. Of more those are found first that a ray may pass."""
_EDGE: Final = 1e-9
"""Of the size of a triangle, or metres: how near to it rounding may tell wrongly."""

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
    pieces, is_whole = triangles, np.ones(len(triangles), dtype=bool)
    for axis, (start, end) in enumerate(zip(low, high, strict=True)):
        # Corner by corner, side by side in memory: a reduction along so short an axis
        # takes many times as long. What is far off on one axis is not looked at on the
        # next.
        a, b, c = np.ascontiguousarray(pieces[:, :, axis].T)
        lowest = np.minimum(np.minimum(a, b), c)
        highest = np.maximum(np.maximum(a, b), c)
        near = (lowest <= end) & (highest >= start)
        is_whole &= (lowest >= start) & (highest <= end)
        if not near.all():
            pieces, is_whole = np.compress(near, pieces, axis=0), is_whole[near]
    # What lies inside as it is comes first, whatever is cut off others.
    whole, pieces = pieces[is_whole], pieces[~is_whole]
    for axis in range(3):
        if len(pieces):
            pieces = _half(pieces, axis, 1.0, low[axis])
        if len(pieces):
            pieces = _half(pieces, axis, -1.0, -high[axis])
    return np.concatenate([whole, pieces]) if len(pieces) else whole


def meeting(
    vertices: Points, faces: Faces, low: Triple, high: Triple
) -> NDArray[np.int64]:
    """Return the triangles whose bounds meet a box, rising.

    Args:
        vertices: Shape (n, 3).
        faces: Corners of the triangles, shape (m, 3).
        low: Lowest corner of the box.
        high: Highest corner of it.
    """
    # Each corner is looked at once, however many triangles have it.
    out = sides_out(vertices, low, high)
    a, b, c = (out[faces[:, corner]] for corner in range(3))
    return np.flatnonzero((a & b & c) == 0)


def sides_out(
    points: Points,
    low: Triple | Points,
    high: Triple | Points,
    *,
    on: bool = False,
) -> NDArray[np.uint8]:
    """Return for each point a bit for each of a box's six sides that it lies beyond.

    A triangle of which all corners lie beyond one side has nothing in the box.

    Args:
        points: Shape (n, 3).
        low: Lowest corner of the box.
        high: Highest corner of it.
        on: What lies on a side counts as beyond it.
    """
    less, more = (np.less_equal, np.greater_equal) if on else (np.less, np.greater)
    out = np.zeros(len(points), dtype=np.uint8)
    for axis, (start, end) in enumerate(zip(low, high, strict=True)):
        at = points[:, axis]
        out |= less(at, start).view(np.uint8) << np.uint8(2 * axis)
        out |= more(at, end).view(np.uint8) << np.uint8(2 * axis + 1)
    return out


def whole_and_parted(
    out: NDArray[np.uint8], faces: Faces
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Tell which triangles lie within all sides, and which do so perhaps in part.

    Args:
        out: For each point a bit for each side that it lies beyond, as ``sides_out``.
        faces: Corners of the triangles, shape (m, 3).
    """
    # Each corner is looked at once, however many triangles have it.
    a, b, c = (out[faces[:, corner]] for corner in range(3))
    is_whole = (a | b | c) == 0
    return is_whole, ((a & b & c) == 0) & ~is_whole


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

    1 inside a body whose faces look outwards, -1 inside one turned inside out, 0
    outside. Of very many triangles a ray tells, where it passes clear of their edges;
    else the solid angle of each (van Oosterom and Strackee, 1983).
    """
    result = np.empty(len(points))
    if not len(points):
        return result
    left = list(range(len(points)))
    if len(triangles) > _MANY:
        known: Beside = {}
        counted = [_passed(triangles, point, known) for point in points]
        result[:] = [0.0 if one is None else one for one in counted]
        left = [row for row, one in enumerate(counted) if one is None]
        if not left:
            return result
    # Each coordinate of each corner by itself, side by side in memory.
    columns = np.ascontiguousarray(triangles.transpose(1, 2, 0))
    for row in left:
        a, b, c = columns - points[row][None, :, None]
        la, lb, lc = (np.sqrt(_dot(v, v)) for v in (a, b, c))
        volume = _dot(a, (b[[1, 2, 0]] * c[[2, 0, 1]] - b[[2, 0, 1]] * c[[1, 2, 0]]))
        base = la * lb * lc + _dot(a, b) * lc + _dot(b, c) * la + _dot(c, a) * lb
        result[row] = np.arctan2(volume, base).sum() / (2 * np.pi)
    return result


def _passed(triangles: Triangles, point: Points, known: Beside) -> float | None:
    """Return how often a closed surface winds about a point, by a ray from it.

    None where the ray goes too near to an edge, or the surface to the point, to tell;
    along each axis one is tried. What meets a level is kept for the points to come: the
    corners of a box have but two on each axis.
    """
    for axis in range(3):
        across, further = (axis + 1) % 3, (axis + 2) % 3
        key = across, float(point[across])
        if key not in known:
            meets = _meets(triangles, across, point[across])
            known[key] = np.compress(meets, triangles, axis=0)
        meets = _meets(known[key], further, point[further])
        near = np.compress(meets, known[key], axis=0)
        crossed = _crossings(near - point, axis)
        if crossed is not None:
            return crossed
    return None


def _meets(triangles: Triangles, axis: int, level: float) -> NDArray[np.bool_]:
    """Tell which triangles have corners on both sides of a level, or on it."""
    a, b, c = triangles[:, :, axis].T
    below = (a <= level) | (b <= level) | (c <= level)
    return np.asarray(below & ((a >= level) | (b >= level) | (c >= level)))


def _crossings(triangles: Triangles, axis: int) -> float | None:
    """Return how often triangles face a ray's way from the origin, less the others."""
    x, y, z = (triangles[:, :, (axis + turn) % 3] for turn in range(3))
    # Twice the areas that the ray makes with the sides opposite to each corner.
    sides = [y[:, i] * z[:, j] - y[:, j] * z[:, i] for i, j in ((1, 2), (2, 0), (0, 1))]
    first, second, third = sides
    whole = first + second + third
    size = np.abs(y).max(axis=1) * np.abs(z).max(axis=1) if len(y) else whole
    if any((np.abs(side) <= _EDGE * size).any() for side in sides):
        return None
    is_through = ((first > 0) == (second > 0)) & ((second > 0) == (third > 0))
    at = (x[is_through] * np.stack(sides, axis=1)[is_through]).sum(axis=1)
    at /= whole[is_through]
    if (np.abs(at) <= _EDGE).any():
        return None
    ahead = np.sign(whole[is_through][at > 0])
    return float(ahead.sum())


def _dot(one: Points, other: Points) -> Points:
    """Return the products of vectors that stand in columns, shape (3, n)."""
    (x, y, z), (u, v, w) = one, other
    return np.asarray(x * u + y * v + z * w)
