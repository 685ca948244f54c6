"""Bodies as somebody sees them: right, out and up of that person's frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeVar

import numpy as np

from model3d.geometry.bodies.clipping import BOX_FACES, corners
from model3d.geometry.frame import Triple
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from numpy.typing import NDArray

    from model3d.geometry.frame import Frame
    from model3d.geometry.intervals import Interval

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

Extents = tuple[Triple, Triple]
Found = TypeVar("Found")

_MOST_KNOWN: Final = 128
"""So many answers are kept; a room that is judged again asks for far fewer."""


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


def used_of(points: Points, faces: Faces) -> Points:
    """Return those of some points that are corners of triangles, each once."""
    is_used = np.zeros(len(points), dtype=bool)
    is_used[faces.ravel()] = True
    return np.asarray(np.compress(is_used, points, axis=0))


def turned_over(faces: Faces, frame: Frame) -> Faces:
    """Return faces that look outwards on the other side of a change of frame."""
    return faces[:, ::-1] if frame.mirrors else faces
