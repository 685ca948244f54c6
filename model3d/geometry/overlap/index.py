"""Which bodies may touch a box: an rtree over their bounds."""

from __future__ import annotations

from copy import copy
from functools import cached_property
from typing import TYPE_CHECKING, Final, Self

import numpy as np
import shapely
from rtree import index

from model3d.geometry.bodies.solid import Box

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.frame import Corner, Frame, Triple


_MOST_ELSEWHERE: Final = 32
"""Bodies looked at one by one; to load all again is dearer than a few of these."""

_ROUNDING: Final = 1e-6
"""Metres. By how much further than it is a body is taken to reach where its bounds are
looked at from a turned frame: a country's grid leaves that much."""


class SolidIndex:
    """Finds the bodies whose bounds meet a box."""

    def __init__(self, solids: Sequence[Solid]) -> None:
        """Load all bodies at once; they are known by their place in the sequence."""
        bounds = np.array([solid.bounds for solid in solids]).reshape(-1, 2, 3)
        self._solids = list(solids)
        self._index: index.Index | None = None
        self._load(bounds)

    def moved(self, solids: Mapping[int, Solid]) -> Self:
        """Return the index with some bodies in place of those that are there.

        Args:
            solids: The bodies, by the places of those.
        """
        found = copy(self)
        # What is worked out of the places of all is worked out anew.
        vars(found).pop("_pairs", None)
        bounds, found._solids = self._bounds.copy(), self._solids.copy()  # noqa: SLF001
        corners = vars(found).get("_corners")
        if corners is not None:
            found._corners = corners = corners.copy()  # noqa: SLF001
        for place, solid in solids.items():
            bounds[place] = solid.bounds
            found._solids[place] = solid  # noqa: SLF001
            if corners is not None:
                corners[place] = _corners_of(solid)
        elsewhere = self._elsewhere | solids.keys()
        if len(elsewhere) > _MOST_ELSEWHERE:
            found._load(bounds)  # noqa: SLF001 - another one of these
        else:
            found._place(bounds, frozenset(elsewhere))  # noqa: SLF001
        return found

    def _load(self, bounds: NDArray[np.float64]) -> None:
        self._place(bounds, frozenset())
        if len(bounds):
            self._index = index.Index(
                (np.arange(len(bounds)), bounds[:, 0], bounds[:, 1]),
                properties=index.Property(dimension=3),
            )

    def _place(self, bounds: NDArray[np.float64], elsewhere: frozenset[int]) -> None:
        """Take where bodies are, and which of them are not where they were loaded."""
        self._bounds, self._elsewhere = bounds, elsewhere
        self.low: Triple = (0.0, 0.0, 0.0)
        self.high: Triple = (0.0, 0.0, 0.0)
        if len(bounds):
            low, high = bounds[:, 0].min(axis=0), bounds[:, 1].max(axis=0)
            self.low = (float(low[0]), float(low[1]), float(low[2]))
            self.high = (float(high[0]), float(high[1]), float(high[2]))

    def touching(self, low: Triple, high: Triple) -> list[int]:
        """Return the places of all bodies whose bounds meet a box, rising."""
        if self._index is None:
            return []
        loaded = self._index.intersection((*low, *high))
        if not self._elsewhere:
            return sorted(loaded)
        found = [place for place in loaded if place not in self._elsewhere]
        for place in self._elsewhere:
            lowest, highest = self._bounds[place]
            if (lowest <= high).all() and (highest >= low).all():
                found.append(place)
        return sorted(found)

    def near(self, frame: Frame, low: Triple, high: Triple) -> list[int]:
        """Return the places of all bodies whose bounds meet a box of a frame, rising.

        What only lies about a box that is turned is left out: a long one's bounds hold
        very much that is nowhere near it, and so do a turned body's own.
        """
        places = self.touching(*frame.bounds(low, high))
        if not places or 0.0 in frame.right:
            return places
        corners = self._corners[places] - (frame.x, frame.y)
        meet = np.ones(len(places), dtype=bool)
        for axis, *ends in zip((frame.right, frame.out), low, high, strict=False):
            at = corners @ axis
            meet &= at.max(axis=1) >= min(ends) - _ROUNDING
            meet &= at.min(axis=1) <= max(ends) + _ROUNDING
        return [
            place for place, near in zip(places, meet.tolist(), strict=True) if near
        ]

    @cached_property
    def _corners(self) -> NDArray[np.float64]:
        """Four corners in plan that hold each body, shape (n, 4, 2)."""
        return np.array([_corners_of(one) for one in self._solids]).reshape(-1, 4, 2)

    def beside(self, place: int) -> list[int]:
        """Return the places of all bodies whose bounds meet those of a body, rising.

        The first time it is found out for all bodies at once.
        """
        others, starts = self._pairs
        found: list[int] = others[starts[place] : starts[place + 1]].tolist()
        return found

    @cached_property
    def _pairs(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """All that meet, one body's after the other's, and where each one's begin."""
        (low, high), count = self._bounds.transpose(1, 0, 2), len(self._bounds)
        plans = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
        one, other = shapely.STRtree(plans).query(plans)
        meet = (low[one, 2] <= high[other, 2]) & (low[other, 2] <= high[one, 2])
        one, other = one[meet], other[meet]
        order = np.lexsort([other, one])
        starts = np.searchsorted(one[order], np.arange(count + 1))
        return other[order], starts


def _corners_of(solid: Solid) -> list[Corner]:
    """Return four corners in plan that hold a body: a box's own, or of its bounds."""
    if isinstance(solid, Box):
        wide, deep = solid.width, solid.depth
        ends = ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))
        return [solid.frame.to_plan(*end) for end in ends]
    (left, south, _), (right, north, _) = solid.bounds
    return [(left, south), (right, south), (right, north), (left, north)]
