"""How deep two bodies lie in one another: how far one must be moved to part them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.extents import BoxView, reaching
from model3d.geometry.bodies.solid import Box, shared_by_meshes
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.extents import Extents
    from model3d.geometry.bodies.solid import Solid

    Points = NDArray[np.float64]

_MOST_FACES: Final = 4000
"""A mesh of more triangles is taken for a scan, which has hollows: to look at all its
corners from all its faces would take too long."""
_ROUND: Final = 6
"""Decimals of a direction: two that differ by less are one."""
_STRAIGHT: Final = 1e-6
"""Metres by which a corner may stand out of a face's plane, by rounding."""


def depth(one: Solid, other: Solid) -> float:
    """Return how far one of two bodies would have to be moved to part them, metres.

    0 where they only touch. For bodies without hollows it is the shortest way in any
    direction; for others the shortest way out of what they share. Of two meshes one
    of which is open nothing can be said: 0.
    """
    if isinstance(one, Box):
        return _in_box(one, other)
    if isinstance(other, Box):
        return _in_box(other, one)
    if not (one.closed and other.closed):
        return 0.0
    shared = shared_by_meshes(one, other)
    if shared is None:
        return 0.0
    points, faces = shared
    sides = _normals(points, faces)
    if _hollow(one) or _hollow(other):
        # The least width of what they share, whichever way it lies.
        return float(np.ptp(points @ sides.T, axis=0).min())
    return _to_part(one, other)


def _in_box(box: Box, other: Solid) -> float:
    low, high = (0.0, 0.0, box.bottom), (box.width, box.depth, box.top)
    view = other.seen_from(box.frame)
    found = reaching(view, low, high)
    if found is None:
        return 0.0
    if isinstance(view, BoxView):
        return _way_out((view.low, view.high), (low, high))
    if _hollow(other):
        return _way_out(found, (low, high))
    return _to_part(box, other)


def _way_out(inner: Extents, outer: Extents) -> float:
    """Return the shortest way along the axes that brings extents out of others."""
    (lows, highs), (low, high) = inner, outer
    return min(min(highs[i] - low[i], high[i] - lows[i]) for i in range(3))


def _to_part(one: Solid, other: Solid) -> float:
    """Return the shortest way that parts two bodies without hollows.

    It lies along the normal of a face, or at right angles to an edge of each; of a run
    only the edges along it are asked, those of its round ends change nothing.
    """
    edges = [
        np.cross(a, b) for a in _edges(one) for b in _edges(other) if not _one_way(a, b)
    ]
    crossed = np.array(edges).reshape(-1, 3)
    crossed /= np.linalg.norm(crossed, axis=1, keepdims=True)
    axes = np.concatenate([_sides(one), _sides(other), crossed])
    first, second = (solid.mesh[0] @ axes.T for solid in (one, other))
    ways = np.minimum(
        first.max(axis=0) - second.min(axis=0), second.max(axis=0) - first.min(axis=0)
    )
    way = float(ways.min())
    return way if way > TOUCH else 0.0


def _one_way(a: Points, b: Points) -> bool:
    return bool(np.linalg.norm(np.cross(a, b)) < _STRAIGHT)


def _hollow(solid: Solid) -> bool:
    """Tell whether a body is not convex, or has too many faces to be asked."""
    if isinstance(solid, Box):
        return False
    points, faces = solid.mesh
    if len(faces) > _MOST_FACES or not solid.closed:
        return True
    corners = points[faces]
    normals = _normals_of(corners)
    planes = np.einsum("ij,ij->i", corners[:, 0], normals)
    # Beyond a face of a convex body nothing of it stands out.
    return bool(((points @ normals.T).max(axis=0) > planes + _STRAIGHT).any())


def _sides(solid: Solid) -> Points:
    """Return the directions of a body's faces, shape (n, 3)."""
    if isinstance(solid, Box):
        (a, b), (c, d) = solid.frame.right, solid.frame.out
        return np.array([(a, b, 0.0), (c, d, 0.0), (0.0, 0.0, 1.0)])
    return _normals(*solid.mesh)


def _edges(solid: Solid) -> Points:
    """Return the directions of a body's edges: a box's, or a run's along it."""
    if isinstance(solid, Box):
        return _sides(solid)
    points, faces = solid.mesh
    corners = points[faces]
    steps = np.concatenate([corners[:, i] - corners[:, (i + 1) % 3] for i in range(3)])
    steps /= np.linalg.norm(steps, axis=1, keepdims=True)
    # One way or the other, an edge has one direction; a run has most along it.
    found, counts = _different(np.concatenate([steps, -steps]))
    most: Points = found[counts.argmax()][None]
    return most


def _normals(points: Points, faces: NDArray[np.int64]) -> Points:
    normals = _normals_of(points[faces])
    return _different(normals[normals.any(axis=1)])[0]


def _normals_of(corners: Points) -> Points:
    """Return the direction of each triangle, shape (n, 3); 0 for one of no area."""
    a, b, c = corners.transpose(1, 0, 2)
    found = np.cross(b - a, c - a)
    length = np.linalg.norm(found, axis=1, keepdims=True)
    flat: Points = np.divide(found, length, out=np.zeros_like(found), where=length > 0)
    return flat


def _different(directions: Points) -> tuple[Points, NDArray[np.int64]]:
    """Return each direction once, and how often it was there."""
    found, counts = np.unique(
        np.round(directions, _ROUND) + 0.0, axis=0, return_counts=True
    )
    return found, counts
