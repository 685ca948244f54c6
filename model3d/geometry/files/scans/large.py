"""Scans of millions of triangles: read from binary files without a detour, and mended.

The library that reads smaller ones takes three times the memory, and minutes. What it
does to a mesh is done here alike, but for two things: a closed mesh whose triangles are
turned both ways stays as it is, so it is judged as an open one, and shells that overlap
are not united, so no volume is told of them.
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.edges import bounds_a_volume, edges_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Numbers = NDArray[np.uint64]

_CHUNK: Final = 1_000_000
"""Triangles that are looked at together."""
_FLAT: Final = 1e-8
"""Metres, or whatever the file counts in: the least height of a triangle."""
_STL_HEAD: Final = 84
_MARKS: Final = np.array(
    [0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9], np.uint64
)
_ROW: Final = np.dtype([("corners", "<f4", (3, 3)), ("more", "<u2")])


def stl_triangles(data: bytes) -> tuple[Points, Faces]:
    """Return points, each once, and faces of a binary STL file that is whole."""
    (count,) = struct.unpack_from("<I", data, _STL_HEAD - 4)
    row = np.dtype([("normal", "<f4", 3), *_ROW.descr])
    corners = np.frombuffer(data, row, count, _STL_HEAD)["corners"]
    return united_points(corners.reshape(-1, 3), np.arange(3 * count).reshape(-1, 3))


def united_points(points: NDArray[np.floating], faces: Faces) -> tuple[Points, Faces]:
    """Return the points that differ, in their order, and faces that name them."""
    told = np.concatenate([_told(few) for few in _parts(points)])
    order = np.argsort(told, kind="stable").astype(np.int32)
    # Two places may be told by one number: then neither of them is moved to the other.
    same = told[order[1:]] == told[order[:-1]]
    same &= (points[order[1:]] == points[order[:-1]]).all(axis=1)
    del told
    group = np.cumsum(np.concatenate([[True], ~same]), dtype=np.int32) - 1
    firsts = order[np.concatenate([[0], np.flatnonzero(~same) + 1])]
    # A stable sort has the first of equals first; in the file's order they stay.
    rank = np.empty(len(firsts), dtype=np.int32)
    rank[np.argsort(firsts, kind="stable")] = np.arange(len(firsts), dtype=np.int32)
    number = np.empty(len(points), dtype=np.int32)
    number[order] = rank[group]
    del order, group
    kept = points[np.sort(firsts)].astype(np.float64) + 0.0
    return kept, number[faces].astype(np.int64)


def _told(points: NDArray[np.floating]) -> Numbers:
    """Return a number for each place; zero and minus zero are one."""
    plain = points.astype(np.float64) + 0.0
    bits = np.ascontiguousarray(plain).view(np.uint64)
    mixed = (bits ^ (bits >> np.uint64(29))) * _MARKS
    told = mixed[:, 0] ^ (mixed[:, 1] >> np.uint64(1)) ^ mixed[:, 2]
    found: Numbers = (told ^ (told >> np.uint64(32))) * _MARKS[0]
    return found


def _parts(rows: NDArray[np.floating]) -> Iterator[NDArray[np.floating]]:
    for start in range(0, len(rows), _CHUNK):
        yield rows[start : start + _CHUNK]


def mended_scan(points: Points, faces: Faces) -> tuple[Points, Faces]:
    """Return triangles without doubles of points, none of them flat.

    A closed mesh that is turned inside out is turned back.
    """
    points, faces = united_points(points, faces)
    is_high = np.concatenate(
        [
            _heights(points[faces[start : start + _CHUNK]]) > _FLAT
            for start in range(0, len(faces), _CHUNK)
        ]
    )
    if not is_high.all():
        faces = faces[is_high]
    if not len(faces):
        return points, faces
    if edges_of(points, faces).closed and not bounds_a_volume(points, faces):
        faces = np.ascontiguousarray(faces[:, ::-1])
    return points, faces


def _heights(triangles: Points) -> Points:
    """Return the least height of triangles, shape (n, 3, 3)."""
    a, b, c = triangles.transpose(1, 0, 2)
    double = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    longest = np.max([np.linalg.norm(one, axis=1) for one in (b - a, c - b, a - c)], 0)
    return np.asarray(double / np.where(longest > 0, longest, 1.0))
