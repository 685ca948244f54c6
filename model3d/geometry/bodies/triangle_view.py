"""Bodies of triangles as somebody sees them, cut to boxes of that person's frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.geometry.bodies.clipping import (
    all_three,
    corners,
    cut,
    sides_out,
    whole_and_parted,
    winding,
)
from model3d.geometry.bodies.extents import bounds_of, once, turned_over, used_of
from model3d.geometry.intervals import Interval, merged, merged_all
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Hashable

    from numpy.typing import NDArray

    from model3d.geometry.bodies.extents import Extents
    from model3d.geometry.frame import Frame, Triple

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

_LARGE: Final = 500
"""Triangles. What is seen of more is worked out again, for that fills memory."""


@dataclass(frozen=True, slots=True)
class TriangleView:
    """A body in a frame as triangles.

    Attributes:
        vertices: Shape (n, 3), in the frame.
        faces: Shape (m, 3), turned so that they look outwards in the frame.
        triangles: The faces' corners, shape (m, 3, 3).
        closed: Whether it is a closed volume.
    """

    vertices: Points
    faces: Faces
    triangles: Points
    closed: bool
    _known: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)

    @staticmethod
    def of(points: Points, faces: Faces, frame: Frame, *, closed: bool) -> TriangleView:
        """Turn a body's world triangles into a frame."""
        local, outwards = frame.local(points), turned_over(faces, frame)
        triangles = np.take(local, outwards, axis=0)
        return TriangleView(local, outwards, triangles, closed)

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        # What is far away is common, and told without being cut.
        lows, highs = once(self._known, "bounds", self._bounds)
        if any(a > d for a, d in zip(lows, high, strict=True)) or any(
            b < c for b, c in zip(highs, low, strict=True)
        ):
            return None
        if self._is_within(low, high):
            return lows, highs
        # A room in which one thing is moved about is asked most of it again.
        return once(self._known, (low, high), lambda: self._extents(low, high))

    def _bounds(self) -> Extents:
        return bounds_of(used_of(self.vertices, self.faces))

    def _is_within(self, low: Triple, high: Triple) -> bool:
        """Tell whether all of it lies in a box, and nothing of it at a side."""
        if not len(self.faces):
            return False
        lows, highs = once(self._known, "bounds", self._bounds)
        return all(
            start + TOUCH < a and b < end - TOUCH
            for start, a, b, end in zip(low, lows, highs, high, strict=True)
        )

    def _extents(self, low: Triple, high: Triple) -> Extents | None:
        if len(self.faces) > _LARGE:
            return self._extents_of_many(low, high)
        points = self.points(low, high)
        return bounds_of(points) if len(points) else None

    def _extents_of_many(self, low: Triple, high: Triple) -> Extents | None:
        """Return the bounds of ``points``, of which few are put together."""
        faces, pieces = self._parted(low, high)
        whole = used_of(self.vertices, faces)
        held = self._held_corners(low, high, whole if len(whole) else pieces)
        every = np.concatenate([whole, pieces.reshape(-1, 3), held])
        if not len(every):
            return None
        # What only touches has all its corners at one side, where the box is thick.
        by = np.where(np.subtract(high, low) > 2 * TOUCH, TOUCH, -np.inf)
        at = sides_out(self.vertices, np.add(low, by), np.subtract(high, by), on=True)
        a, b, c = (at[faces[:, corner]] for corner in range(3))
        inner = used_of(self.vertices, np.compress((a & b & c) == 0, faces, axis=0))
        is_further = ~_at_a_side(pieces, low, high)
        further = np.compress(is_further, pieces, axis=0).reshape(-1, 3)
        inside = np.concatenate([inner, further, held])
        if not len(inside):
            return None
        bounds, found = bounds_of(every), bounds_of(inside)
        # A part of a slope that happens to lie at a side takes nothing off.
        gone = np.abs(np.subtract(bounds, found))
        return bounds if gone.max() <= 2 * TOUCH else found

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""
        # Each sureness asks it, which mostly asks of the same box.
        key = ("shadow", low, high, axis)
        return [*once(self._known, key, lambda: self._shadow(low, high, axis))]

    def _shadow(self, low: Triple, high: Triple, axis: int) -> list[Interval]:
        faces, pieces = self._parted(low, high)
        at = np.ascontiguousarray(self.vertices[:, axis])
        a, b, c = (
            np.concatenate([at[faces[:, corner]], pieces[:, corner, axis]])
            for corner in range(3)
        )
        found = merged_all(
            np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        )
        if not self.closed:
            return found
        # Between two levels where the surface crosses the box nothing changes: the
        # section there is wholly inside the body or wholly outside, so one point of
        # it tells.
        levels = merged([*found, (low[axis], low[axis]), (high[axis], high[axis])])
        gaps = [(a[1], b[0]) for a, b in pairwise(levels)]
        middle = [(p + q) / 2 for p, q in zip(low, high, strict=True)]
        probes = np.array([middle] * len(gaps)).reshape(-1, 3)
        probes[:, axis] = [(a + b) / 2 for a, b in gaps]
        inside = self.holds(probes)
        return merged(
            [*found, *(g for g, held in zip(gaps, inside, strict=True) if held)]
        )

    def holds(self, points: Points) -> NDArray[np.bool_]:
        """Return which points lie inside a closed body, shape (n,)."""
        half = 0.5
        inside: NDArray[np.bool_] = np.abs(winding(self.triangles, points)) > half
        return inside

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame, shape (n, 3).

        A part that only touches a side of the box is left out: it reaches in nowhere,
        whatever another part of the body does.
        """
        if self._is_within(low, high):
            return self.triangles.reshape(-1, 3)
        pieces = self.pieces(low, high)
        held = self._held_corners(low, high, pieces)
        whole = np.concatenate([pieces.reshape(-1, 3), held])
        at_a_side = _at_a_side(pieces, low, high)
        if not at_a_side.any():
            return whole
        inside = np.concatenate([pieces[~at_a_side].reshape(-1, 3), held])
        if not len(inside):
            return inside
        # A part of a slope that happens to lie at a side takes nothing off.
        gone = np.abs(np.subtract(bounds_of(whole), bounds_of(inside)))
        return whole if gone.max() <= 2 * TOUCH else inside

    def pieces(self, low: Triple, high: Triple) -> Points:
        """Return what of its triangles lies in a box, shape (n, 3, 3)."""
        if len(self.faces) <= _LARGE:
            return cut(self.triangles, low, high)
        faces, pieces = self._parted(low, high)
        return np.concatenate([np.take(self.vertices, faces, axis=0), pieces])

    def _parted(self, low: Triple, high: Triple) -> tuple[Faces, Points]:
        """Return the triangles that lie in a box, and what of others lies in it.

        The latter are triangles again, shape (n, 3, 3).
        """
        out = sides_out(self.vertices, low, high)
        is_whole, is_parted = whole_and_parted(out, self.faces)
        parted = np.compress(is_parted, self.faces, axis=0)
        pieces = cut(np.take(self.vertices, parted, axis=0), low, high)
        return np.compress(is_whole, self.faces, axis=0), pieces

    def outlook(self, low: Triple, high: Triple) -> Points:
        """Return what hides it from in front: its triangles."""
        if len(self.faces) > _LARGE:
            return self.pieces(low, high)[:, :, ::2]
        key = ("outlook", low, high)
        return once(self._known, key, lambda: cut(self.triangles, low, high)[:, :, ::2])

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box; a lone corner is one of no length."""
        pieces = self.pieces(low, high)
        held = self._held_corners(low, high, pieces)
        edges = [_edges(pieces), np.stack([held, held], axis=1)]
        return np.concatenate(edges)[:, :, :2]

    def _held_corners(self, low: Triple, high: Triple, pieces: Points) -> Points:
        """Return the corners of a box that lie in the body, of which it has pieces."""
        if not self.closed:
            return np.empty((0, 3))
        box = corners(low, high)
        # A little further in: a corner on a face of the body is inside only if the
        # body goes on from there into the box.
        size = np.subtract(high, low)
        by = np.where(size > 2 * TOUCH, TOUCH, 0.0)
        inner = corners(tuple(np.add(low, by)), tuple(np.subtract(high, by)))
        # A box that is far from the body holds none of it and need not be asked.
        lows, highs = once(self._known, "bounds", self._bounds)
        near = ((inner >= lows) & (inner <= highs)).all(axis=1)
        box, inner = box[near], inner[near]
        if not len(inner):
            return box
        # Where no surface passes through a box all of it is inside, or all outside.
        asked = inner if len(pieces) else inner[:1]
        held: Points = box[np.broadcast_to(self.holds(asked), len(box))]
        return held

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""
        return self.vertices, self.faces


def _at_a_side(pieces: Points, low: Triple, high: Triple) -> NDArray[np.bool_]:
    """Tell which pieces, shape (n, 3, 3), lie within contact of one side of a box."""
    thick = np.subtract(high, low) > 2 * TOUCH
    a, b, c = pieces.transpose(1, 0, 2)
    near, far = np.add(low, TOUCH), np.subtract(high, TOUCH)
    lows = (a <= near) & (b <= near) & (c <= near)
    highs = (a >= far) & (b >= far) & (c >= far)
    return ~all_three(~((lows | highs) & thick))


def _edges(triangles: Points) -> Points:
    """Return the sides of triangles, shape (3 n, 2, 3)."""
    return np.concatenate([triangles[:, [i, (i + 1) % 3]] for i in range(3)])
