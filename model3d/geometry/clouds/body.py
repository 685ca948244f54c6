"""A cloud of points as a body: cut exactly, never closed, and without a volume."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.clipping import corners
from model3d.geometry.bodies.extents import Extents, bounds_of
from model3d.geometry.clouds.sifting import CELL
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.clouds.sifting import Sifted
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.intervals import Interval

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

MOST_DRAWN: Final = 3000
"""Points. More that are drawn would hide one another, and make pages slow."""
_DOT: Final = 0.008
"""Metres from the middle of a drawn point to its corners."""
_TETRAHEDRON: Final = np.array([(1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1)])
_SIDES: Final = np.array([(0, 1, 2), (0, 3, 1), (0, 2, 3), (1, 3, 2)])
_FINEST: Final = 0.01
"""Metres. Of points in one cube of it one is drawn, at the most."""


@dataclass(frozen=True, eq=False)
class Cloud:
    """A body of which only points are known.

    Attributes:
        points: Those that count, in the world, metres, shape (n, 3).
        sifted: How many were read, and why the others do not count.
    """

    points: Points
    sifted: Sifted

    @cached_property
    def bounds(self) -> Extents:
        """Lowest and highest corner in the world, metres."""
        return bounds_of(self.points)

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World points, and a triangle without area at each."""
        return self.points, np.arange(len(self.points))[:, None].repeat(3, axis=1)

    @property
    def closed(self) -> bool:
        """Never: what is between points is not known."""
        return False

    @property
    def measurable(self) -> bool:
        """Never: points have no volume."""
        return False

    def seen_from(self, frame: Frame) -> CloudView:
        """Return the cloud in a frame."""
        return CloudView(self, frame)

    def near(self, low: Triple, high: Triple) -> Points:
        """Return the points in a box of the world and some beside it, in their order.

        Of a scan of a hall few are near any gear: they are found by where they stand
        in strips, not one by one.
        """
        order, values, axis = self._strips
        start, end = np.searchsorted(values, (low[axis], high[axis]))
        found = self.points[np.sort(order[start:end])]
        kept = (found >= low) & (found <= high)
        near: Points = found[kept.all(axis=1)]
        return near

    @cached_property
    def _strips(self) -> tuple[NDArray[np.int64], Points, int]:
        """The order of the points along the axis on which they lie widest."""
        axis = int(np.argmax(np.ptp(self.points[:, :2], axis=0)))
        order = np.argsort(self.points[:, axis], kind="stable")
        return order, self.points[order, axis], axis

    @cached_property
    def dots(self) -> tuple[Points, Faces]:
        """What is drawn of it: vertices and faces of a small body at some points."""
        return dots(thinned(self.points))


@dataclass(frozen=True, slots=True, eq=False)
class CloudView:
    """A cloud in a frame.

    Attributes:
        cloud: The cloud.
        frame: The frame.
    """

    cloud: Cloud
    frame: Frame

    def _near(self, low: Triple, high: Triple) -> Points:
        """Return where points are in the frame, all of a box of it among them."""
        # A box may have no end; of the cloud nothing is farther than it is wide.
        around = self.frame.local(corners(*self.cloud.bounds))
        first, last = around.min(axis=0) - TOUCH, around.max(axis=0) + TOUCH
        start = np.clip(np.subtract(low, TOUCH), first, last)
        end = np.clip(np.add(high, TOUCH), first, last)
        bounds = self.frame.bounds(tuple(start.tolist()), tuple(end.tolist()))
        return self.frame.local(self.cloud.near(*bounds))

    @property
    def closed(self) -> bool:
        """Never."""
        return False

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the points in a box of the frame; at a side of it they only touch."""
        size = np.subtract(high, low)
        by = np.where(size > 2 * TOUCH, TOUCH, 0.0)
        places = self._near(low, high)
        kept = (places >= np.add(low, by)) & (places <= np.subtract(high, by))
        kept &= (size <= 2 * TOUCH) | (places > np.add(low, by))
        kept &= (size <= 2 * TOUCH) | (places < np.subtract(high, by))
        found: Points = places[kept.all(axis=1)]
        return found

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of the points in a box of the frame, or None."""
        found = self.points(low, high)
        return bounds_of(found) if len(found) else None

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the points in a box cover on an axis, as disjoint intervals.

        Points that lie no further apart than those that belong together cover what is
        between them too, and a little beside them is contact: that blocks more than
        they do, never less.
        """
        along = np.unique(self.points(low, high)[:, axis])
        if not len(along):
            return []
        gaps = np.flatnonzero(np.diff(along) > CELL)
        starts = along[np.concatenate([[0], gaps + 1])] - 2 * TOUCH
        ends = along[np.concatenate([gaps, [len(along) - 1]])] + 2 * TOUCH
        return list(zip(starts.tolist(), ends.tolist(), strict=True))

    def plan_edges(self, low: Triple, high: Triple) -> Points:
        """Return each point in a box from above, as an edge of no length."""
        places = self._near(low, high)
        inside = ((places >= low) & (places <= high)).all(axis=1)
        plan = places[inside][:, :2]
        return np.stack([plan, plan], axis=1)

    def outlook(self, _low: Triple, _high: Triple) -> Points:
        """Return what hides it from in front: points hide nothing."""
        return np.empty((0, 4, 2))

    def surface(self) -> tuple[Points, Faces]:
        """Return its points in the frame, and a triangle without area at each."""
        places = self.frame.local(self.cloud.points)
        return places, np.arange(len(places))[:, None].repeat(3, axis=1)


def thinned(points: Points, most: int = MOST_DRAWN) -> Points:
    """Return so few of some points that they can be drawn, always the same.

    One in each cube of a grid; the grid is made coarser until they are few enough.
    """
    size = _FINEST
    while True:
        cells = np.floor((points - points.min(axis=0)) / size).astype(np.int64)
        many = cells.max(axis=0) + 1
        key = (cells[:, 0] * many[1] + cells[:, 1]) * many[2] + cells[:, 2]
        first = np.sort(np.unique(key, return_index=True)[1])
        if len(first) <= most:
            return points[first]
        # On a surface there is one in a cube for so much area: not much too coarse.
        size *= max(1.25, 0.9 * math.sqrt(len(first) / most))


def dots(points: Points) -> tuple[Points, Faces]:
    """Return vertices and faces of a small tetrahedron at each point."""
    places = points[:, None] + _TETRAHEDRON * _DOT
    faces = _SIDES + 4 * np.arange(len(points))[:, None, None]
    return places.reshape(-1, 3), faces.reshape(-1, 3)
