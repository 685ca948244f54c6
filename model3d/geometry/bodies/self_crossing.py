"""Whether a surface passes through itself: such a body has no one volume."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

_NEAR: Final = 1e-7
"""Metres: what touches is no crossing. Meshes of files have single precision."""
_AT_ONCE: Final = 4_000_000
"""Candidate pairs that are held in memory; a surface with more is taken to cross."""


def crosses_itself(points: Points, faces: Faces) -> bool:
    """Tell whether any two triangles without a common corner cross.

    Args:
        points: Vertices, shape (n, 3), metres.
        faces: Corners of the triangles, shape (m, 3).
    """
    if len(faces) > _AT_ONCE // 4:  # itself and three beside it are near each
        return True
    pairs = _close(points[faces])
    if pairs is None:
        return True
    one, other = faces[pairs[:, 0]], faces[pairs[:, 1]]
    common = (one[:, :, None] == other[:, None, :]).any(axis=(1, 2))
    first, second = points[one[~common]], points[other[~common]]
    return _pierces(first, second) or _pierces(second, first)


def _close(triangles: Points) -> NDArray[np.int64] | None:
    """Return pairs of triangles whose bounds meet, shape (n, 2); None for too many."""
    from rtree import index  # noqa: PLC0415 - few scenes have a mesh

    count = len(triangles)
    lows, highs = triangles.min(axis=1), triangles.max(axis=1)
    tree = index.Index(
        (np.arange(count), lows, highs), properties=index.Property(dimension=3)
    )
    found, counts = tree.intersection_v(lows, highs)  # type: ignore[no-untyped-call]
    if len(found) > _AT_ONCE:
        return None
    first, second = np.repeat(np.arange(count), counts.astype(np.int64)), found
    pairs = np.column_stack([first, second.astype(np.int64)])
    return pairs[pairs[:, 0] < pairs[:, 1]]


def _pierces(edged: Points, faced: Points) -> bool:
    """Tell whether an edge of any triangle goes through its partner, (n, 3, 3)."""
    a, b, c = faced.transpose(1, 0, 2)
    normal = np.cross(b - a, c - a)
    length = np.linalg.norm(normal, axis=1)
    flat = length > 0
    unit = np.divide(normal, length[:, None], where=flat[:, None], out=normal)
    heights = np.einsum("ijk,ik->ij", edged - a[:, None], unit)
    for start in range(3):
        end = (start + 1) % 3
        low, high = heights[:, start], heights[:, end]
        through = flat & (np.minimum(low, high) < -_NEAR)
        through &= np.maximum(low, high) > _NEAR
        if not through.any():
            continue
        share = (low / np.where(through, low - high, 1.0))[through, None]
        at = edged[through, start] * (1 - share) + edged[through, end] * share
        if _inside(at, faced[through], unit[through]).any():
            return True
    return False


def _inside(at: Points, triangles: Points, unit: Points) -> NDArray[np.bool_]:
    """Return which points of the triangles' planes lie in them or on their sides."""
    within = np.ones(len(at), dtype=bool)
    for start in range(3):
        corner, side = triangles[:, start], triangles[:, (start + 1) % 3]
        along = side - corner
        beside = np.einsum("ij,ij->i", np.cross(along, at - corner), unit)
        within &= beside >= -_NEAR * np.linalg.norm(along, axis=1)
    return within
