"""Bodies as somebody sees them: right, out and up of that person's frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeVar

import numpy as np

from model3d.geometry.bodies.clipping import BOX_FACES, all_three, corners, cut, winding
from model3d.geometry.frame import Frame, Triple
from model3d.geometry.intervals import Interval, merged, merged_all
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

Extents = tuple[Triple, Triple]
Found = TypeVar("Found")

_MOST_KNOWN: Final = 128
"""So many answers are kept; a room that is judged again asks for far fewer."""
_LARGE: Final = 500
"""Triangles. What is seen of more is worked out again, for that fills memory."""


def once(
    known: dict[Hashable, Any],
    key: Hashable,
    work: Callable[[], Found],
    most: int = _MOST_KNOWN,
) -> Found:
    """Return what work finds, which is done once and remembered.

    Args:
        known: What was found already; where it is full it is forgotten.
        key: What is asked.
        work: Finds the answer; it depends on nothing that may change.
        most: So many answers are kept.
    """
    if key not in known:
        found = work()
        if len(known) >= most:
            known.clear()
        known[key] = found
    kept: Found = known[key]
    return kept


class Seen(Protocol):
    """A body in somebody's frame: right, out, up."""

    @property
    def closed(self) -> bool:
        """Whether it is a closed volume."""

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None.

        What touches the box without reaching into it may give extents of no
        thickness, or none.
        """

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame, shape (n, 3)."""

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box, from above, shape (n, 2, 2)."""

    def outlook(self, low: Triple, high: Triple) -> Points:
        """Return what hides it from in front: polygons of right and up.

        Shape (n, k, 2): together they are the silhouette of what lies in a box.
        """

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""


@dataclass(frozen=True, slots=True)
class BoxView:
    """A box whose faces are parallel to the frame's planes."""

    low: Triple
    high: Triple

    @property
    def closed(self) -> bool:
        """Always: a box is a closed volume."""
        return True

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        (a, b, c), (d, e, f) = self.low, self.high
        (g, h, i), (j, k, m) = low, high
        lows = (max(a, g), max(b, h), max(c, i))
        highs = (min(d, j), min(e, k), min(f, m))
        if lows[0] > highs[0] or lows[1] > highs[1] or lows[2] > highs[2]:
            return None
        return lows, highs

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis."""
        found = self.extents(low, high)
        return [] if found is None else [(found[0][axis], found[1][axis])]

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame."""
        found = self.extents(low, high)
        return np.empty((0, 3)) if found is None else corners(*found)

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box, from above: a rectangle's."""
        found = self.extents(low, high)
        if found is None:
            return np.empty((0, 2, 2))
        (a, b, _), (c, d, _) = found
        corners = [(a, b), (c, b), (c, d), (a, d)]
        return np.array(list(zip(corners, corners[1:] + corners[:1], strict=True)))

    def outlook(self, low: Triple, high: Triple) -> Points:
        """Return what hides it from in front: one rectangle."""
        found = self.extents(low, high)
        if found is None:
            return np.empty((0, 4, 2))
        (a, _, b), (c, _, d) = found
        return np.array([[(a, b), (c, b), (c, d), (a, d)]])

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""
        return corners(self.low, self.high), BOX_FACES


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
        return TriangleView(local, outwards, local[outwards], closed)

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        # What is far away is common, and told without being cut.
        lows, highs = once(self._known, "bounds", self._bounds)
        if any(a > d for a, d in zip(lows, high, strict=True)) or any(
            b < c for b, c in zip(highs, low, strict=True)
        ):
            return None
        # A room in which one thing is moved about is asked most of it again.
        return once(self._known, (low, high), lambda: self._extents(low, high))

    def _bounds(self) -> Extents:
        return bounds_of(self.triangles.reshape(-1, 3))

    def _extents(self, low: Triple, high: Triple) -> Extents | None:
        points = self.points(low, high)
        return bounds_of(points) if len(points) else None

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""
        pieces = cut(self.triangles, low, high)
        a, b, c = pieces[:, :, axis].T
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
        pieces = cut(self.triangles, low, high)
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
        return cut(self.triangles, low, high)

    def outlook(self, low: Triple, high: Triple) -> Points:
        """Return what hides it from in front: its triangles."""
        if len(self.faces) > _LARGE:
            return cut(self.triangles, low, high)[:, :, ::2]
        key = ("outlook", low, high)
        return once(self._known, key, lambda: cut(self.triangles, low, high)[:, :, ::2])

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box; a lone corner is one of no length."""
        pieces = cut(self.triangles, low, high)
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


def reaching(view: Seen, low: Triple, high: Triple) -> Extents | None:
    """Return the extents of what reaches into a box, or None where it only touches.

    A closed body reaches in where the shared part is thicker than the tolerance every
    way; an open mesh has no thickness, so it reaches in where any of it comes further
    inside than the tolerance.
    """
    found = view.extents(low, high)
    if found is None:
        return None
    # Of an open mesh what only touches is left out already.
    return None if view.closed and thin(found) else found


def comes_from(view: Seen, start: float, low: Triple, high: Triple) -> bool:
    """Tell whether a body comes from before a plane that a box begins at, not from it.

    Args:
        view: The body.
        start: Where the plane is, metres ahead.
        low: Lowest corner of what reaches in there.
        high: Highest corner of the same.
    """
    behind = start - 3 * TOUCH
    return (
        reaching(view, (low[0], behind, low[2]), (high[0], start, high[2])) is not None
    )


def past_contact(low: Triple, high: Triple) -> Extents:
    """Return a box without what is next to its sides: what reaches in has bounds there.

    Of a long row of things on one wall each only touches what is before the others.
    """
    by = [
        TOUCH / 4 if b - a > 2 * TOUCH else 0.0 for a, b in zip(low, high, strict=True)
    ]
    return (
        (low[0] + by[0], low[1] + by[1], low[2] + by[2]),
        (high[0] - by[0], high[1] - by[1], high[2] - by[2]),
    )


def thin(found: Extents) -> bool:
    """Tell whether extents are no thicker than the tolerance somewhere: contact."""
    (a, b, c), (d, e, f) = found
    return d - a <= TOUCH or e - b <= TOUCH or f - c <= TOUCH


def bounds_of(points: Points) -> Extents:
    """Return the lowest and the highest corner of points, shape (n, 3)."""
    # Column by column: a reduction along all rows at once takes ten times as long.
    x, y, z = points.T
    return (
        (float(x.min()), float(y.min()), float(z.min())),
        (float(x.max()), float(y.max()), float(z.max())),
    )


def turned_over(faces: Faces, frame: Frame) -> Faces:
    """Return faces that look outwards on the other side of a change of frame."""
    return faces[:, ::-1] if frame.mirrors else faces


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
