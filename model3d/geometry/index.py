"""Which bodies may touch a box: by their bounds, where they are many in an rtree."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely
from rtree import index

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.geometry.frame import Triple
    from model3d.geometry.solid import Solid

_MANY: Final = 500
"""Bodies from which on an rtree pays: fewer are looked through in less time than it
takes to build one, and to ask it."""


class SolidIndex:
    """Finds the bodies whose bounds meet a box."""

    def __init__(self, solids: Sequence[Solid]) -> None:
        """Load all bodies at once; they are known by their place in the sequence."""
        self._index = None
        self.low: Triple = (0.0, 0.0, 0.0)
        self.high: Triple = (0.0, 0.0, 0.0)
        self._bounds = np.array([solid.bounds for solid in solids]).reshape(-1, 2, 3)
        if not solids:
            return
        lows, highs = self._bounds[:, 0], self._bounds[:, 1]
        if len(solids) >= _MANY:
            self._index = index.Index(
                (np.arange(len(solids)), lows, highs),
                properties=index.Property(dimension=3),
            )
        low, high = lows.min(axis=0), highs.max(axis=0)
        self.low = (float(low[0]), float(low[1]), float(low[2]))
        self.high = (float(high[0]), float(high[1]), float(high[2]))

    def touching(self, low: Triple, high: Triple) -> list[int]:
        """Return the places of all bodies whose bounds meet a box, rising."""
        if self._index is not None:
            return sorted(self._index.intersection((*low, *high)))
        meet = (self._bounds[:, 0] <= high) & (self._bounds[:, 1] >= low)
        found: list[int] = np.flatnonzero(meet.all(axis=1)).tolist()
        return found

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
