"""Which bodies may touch a box: an rtree over their bounds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from rtree import index

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Triple
    from model3d.geometry.solid import Solid


class SolidIndex:
    """Finds the bodies whose bounds meet a box."""

    def __init__(self, solids: Sequence[Solid]) -> None:
        """Load all bodies at once; they are known by their place in the sequence."""
        self._index = None
        self.low: Triple = (0.0, 0.0, 0.0)
        self.high: Triple = (0.0, 0.0, 0.0)
        if not solids:
            return
        bounds = np.array([solid.bounds for solid in solids])
        lows, highs = bounds[:, 0], bounds[:, 1]
        self._index = index.Index(
            (np.arange(len(solids)), lows, highs),
            properties=index.Property(dimension=3),
        )
        low, high = lows.min(axis=0), highs.max(axis=0)
        self.low = (float(low[0]), float(low[1]), float(low[2]))
        self.high = (float(high[0]), float(high[1]), float(high[2]))

    def touching(self, low: Triple, high: Triple) -> list[int]:
        """Return the places of all bodies whose bounds meet a box, rising."""
        if self._index is None:
            return []
        return sorted(self._index.intersection((*low, *high)))
