"""A scan of very many triangles in a frame: of each box only what is near it is cut.

To turn all of ten million triangles into the frame of each thing that is asked about
takes seconds and a gigabyte each time; what is near a box is found by strips.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from model3d.geometry.bodies.clipping import corners, meeting
from model3d.geometry.bodies.extents import turned_over
from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.extents import Extents
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.intervals import Interval

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


_MANY: Final = 8
"""So small a share of all is most of them already: the others are passed in order."""


class Strips(NamedTuple):
    """Triangles in the order of where they begin along an axis of the world.

    Attributes:
        axis: Along which they lie widest.
        order: Numbers of the triangles.
        starts: Where each of them begins, rising.
        ends: Where the farthest of them and all before it ends, rising.
    """

    axis: int
    order: NDArray[np.int32]
    starts: Points
    ends: Points

    @staticmethod
    def of(points: Points, faces: Faces) -> Strips:
        """Sort triangles."""
        used = points[:, :2]
        axis = int(np.argmax(np.ptp(used, axis=0)))
        a, b, c = (points[:, axis][faces[:, corner]] for corner in range(3))
        starts = np.minimum(np.minimum(a, b), c)
        ends = np.maximum(np.maximum(a, b), c)
        order = np.argsort(starts, kind="stable").astype(np.int32)
        return Strips(axis, order, starts[order], np.maximum.accumulate(ends[order]))

    def near(self, low: Triple, high: Triple) -> NDArray[np.int32]:
        """Return the triangles that may meet a box of the world, and others."""
        first = np.searchsorted(self.ends, low[self.axis])
        last = np.searchsorted(self.starts, high[self.axis], side="right")
        return self.order[first:last]


@dataclass(frozen=True, slots=True, eq=False)
class ScanView:
    """An open mesh of very many triangles in a frame.

    Attributes:
        vertices: World points, shape (n, 3), metres.
        faces: Corners of the triangles, shape (m, 3).
        bounds: Its lowest and highest corner in the world.
        strips: Its triangles, sorted.
        frame: The frame.
    """

    vertices: Points
    faces: Faces
    bounds: Extents
    strips: Strips
    frame: Frame

    @property
    def closed(self) -> bool:
        """Never: what is closed is seen whole."""
        return False

    def _near(self, low: Triple, high: Triple) -> TriangleView:
        """Return in the frame all triangles that meet a box of it."""
        # A box may have no end; of the scan nothing is farther than it is wide.
        around = self.frame.local(corners(*self.bounds))
        first, last = around.min(axis=0) - TOUCH, around.max(axis=0) + TOUCH
        start = np.clip(np.subtract(low, TOUCH), first, last)
        end = np.clip(np.add(high, TOUCH), first, last)
        box = self.frame.bounds(tuple(start.tolist()), tuple(end.tolist()))
        found = self.faces[self.meeting(*box)]
        used, places = _numbered(found, len(self.vertices))
        local = self.frame.local(self.vertices[used])
        faces = turned_over(places, self.frame)
        return TriangleView(local, faces, local[faces], closed=False)

    def meeting(self, low: Triple, high: Triple) -> NDArray[np.int32]:
        """Return the triangles whose bounds meet a box of the world, rising."""
        found = self.strips.near(low, high)
        if _MANY * len(found) > len(self.faces):
            # Of most of them it is quicker to look once at each corner, in its order.
            return meeting(self.vertices, self.faces, low, high).astype(np.int32)
        for axis, (start, end) in enumerate(zip(low, high, strict=True)):
            at = self.vertices[:, axis]
            a, b, c = (at[corner] for corner in self.faces[found].T)
            near = (a <= end) | (b <= end) | (c <= end)
            near &= (a >= start) | (b >= start) | (c >= start)
            found = found[near]
        return np.sort(found)

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        near = self._near(low, high)
        return near.extents(low, high) if len(near.faces) else None

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""
        return self._near(low, high).shadow(low, high, axis)

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame, shape (n, 3)."""
        return self._near(low, high).points(low, high)

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box, from above, shape (n, 2, 2)."""
        return self._near(low, high).plan_edges(low, high)

    def outlook(self, low: Triple, high: Triple) -> Points:
        """Return what hides it from in front: its triangles."""
        return self._near(low, high).outlook(low, high)

    def pieces(self, low: Triple, high: Triple) -> Points:
        """Return what of its triangles lies in a box, shape (n, 3, 3)."""
        return self._near(low, high).pieces(low, high)

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""
        return self.frame.local(self.vertices), turned_over(self.faces, self.frame)


def _numbered(faces: Faces, count: int) -> tuple[NDArray[np.int64], Faces]:
    """Return which of so many points faces use, rising, and the faces with these."""
    if _MANY * len(faces) < count:
        used, places = np.unique(faces, return_inverse=True)
        return used, places.reshape(-1, 3)
    marked = np.zeros(count, dtype=bool)
    marked[faces] = True
    place = np.cumsum(marked) - 1
    return np.flatnonzero(marked), place[faces]
