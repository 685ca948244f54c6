"""Whether a surface passes through itself: such a body has no one volume."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Numbers = NDArray[np.int64]

_NEAR: Final = 1e-7
"""Metres: what touches is no crossing. Meshes of files have single precision."""
_MOST: Final = 4_000_000
"""Candidate pairs that are looked at; a surface with more is taken to cross."""
_LARGEST: Final = _MOST // 4
"""Triangles: of a smooth surface each has a dozen beside it."""
_TANGLED: Final = 32
"""Candidate pairs a triangle: a smooth surface has a dozen."""
_SOME: Final = 250_000
"""Triangles by which the pairs of all are reckoned."""
_AT_ONCE: Final = 500_000
"""Pairs that are held in memory."""
_ACROSS: Final = 3.0
"""How wide a column is, in triangles."""
_COLUMNS: Final = 8
"""Columns a triangle lies in on the average, at most."""


def crosses_itself(points: Points, faces: Faces) -> bool:
    """Tell whether any two triangles without a common corner cross.

    Args:
        points: Vertices, shape (n, 3), metres.
        faces: Corners of the triangles, shape (m, 3).
    """
    if len(faces) > _LARGEST:
        return True
    columns = Columns(points[faces])
    if columns.pairs > _MOST:
        return True
    for first, second in columns.close():
        one, other = faces[first], faces[second]
        common = np.zeros(len(one), dtype=bool)
        for corner in range(3):
            for another in range(3):
                common |= one[:, corner] == other[:, another]
        a, b = points[one[~common]], points[other[~common]]
        if _pierces(a, b) or _pierces(b, a):
            return True
    return False


def is_tangle(points: Points, faces: Faces) -> bool:
    """Tell whether so much of a surface is near itself that it is taken to cross.

    Smooth surfaces are none, however many triangles they have.
    """
    if len(faces) * _TANGLED < _MOST and len(faces) ** 2 < _MOST:
        return False
    most = max(_MOST, _TANGLED * len(faces))
    # Of each share-th triangle a share by a share of all pairs are left.
    share = -(-len(faces) // _SOME)
    if share > 1:
        faces = faces[np.random.default_rng(0).integers(share, size=len(faces)) == 0]
    return Columns(points[faces]).pairs * share**2 > most


class Columns:
    """Triangles by the upright columns of a grid that their bounds are in."""

    def __init__(self, triangles: Points) -> None:
        a, b, c = triangles.transpose(1, 0, 2)
        self._low = np.minimum(np.minimum(a, b), c)
        self._high = np.maximum(np.maximum(a, b), c)
        first, last = self._cells()
        wide, deep = (last - first + 1).T
        count = wide * deep
        self._owner = np.repeat(np.arange(len(count)), count)
        place = np.arange(len(self._owner)) - np.repeat(np.cumsum(count) - count, count)
        across = first[self._owner, 0] + place // deep[self._owner]
        along = first[self._owner, 1] + place % deep[self._owner]
        column = across * (int(last[:, 1].max()) + 1) + along
        # Where one of two is in a column first, both ways, it is told, and only there.
        self._begins = first[self._owner] == np.column_stack([across, along])
        rank = np.empty(len(count), dtype=np.int64)
        rank[np.argsort(self._low[:, 2], kind="stable")] = np.arange(len(count))
        order = np.lexsort((rank[self._owner], column))
        self._owner, self._begins = self._owner[order], self._begins[order]
        column, rank = column[order], rank[self._owner]
        # Of each it and the next that begin below its top in its column, as a range.
        lows = np.sort(self._low[:, 2])
        top = np.searchsorted(lows, self._high[self._owner, 2], side="right")
        key = column * (len(count) + 1)
        self._here = np.arange(len(order))
        self._after = np.searchsorted(key + rank, key + top) - self._here - 1

    def _cells(self) -> tuple[Numbers, Numbers]:
        """Return the first and the last cell of each triangle, shape (n, 2)."""
        low, high = self._low[:, :2], self._high[:, :2]
        start, size = low.min(axis=0), high - low
        side = max(_ACROSS * float(size.mean()), float(np.ptp(high)) / 2**15, _NEAR)
        while True:
            first = ((low - start) / side).astype(np.int64)
            last = ((high - start) / side).astype(np.int64)
            if (last - first + 1).prod(axis=1).mean() <= _COLUMNS:
                return first, last
            side *= 2

    @property
    def pairs(self) -> int:
        """How many pairs are looked at."""
        return int(self._after.sum())

    def close(self) -> Iterator[tuple[Numbers, Numbers]]:
        """Yield pairs of triangles whose bounds meet, each pair once."""
        ends = np.cumsum(self._after)
        start = 0
        while start < len(ends):
            done = int(ends[start - 1]) if start else 0
            stop = int(np.searchsorted(ends, done + _AT_ONCE, side="right"))
            stop = max(stop, start + 1)
            here = slice(start, stop)
            one = np.repeat(self._here[here], self._after[here])
            before = np.repeat(ends[here] - self._after[here], self._after[here])
            other = one + 1 + np.arange(done, done + len(one)) - before
            yield self._meeting(one, other)
            start = stop

    def _meeting(self, one: Numbers, other: Numbers) -> tuple[Numbers, Numbers]:
        told = (self._begins[one] | self._begins[other]).all(axis=1)
        first, second = self._owner[one[told]], self._owner[other[told]]
        for axis in range(2):
            meet = self._low[first, axis] <= self._high[second, axis]
            meet &= self._low[second, axis] <= self._high[first, axis]
            first, second = first[meet], second[meet]
        return first, second


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
