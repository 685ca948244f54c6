"""Points with one way out: what was found of one of them holds for all.

Rings of necks are closed lines. Whether such a line goes round a point changes only
where it is crossed, so that two points have the same way out if no neck comes between
them, nor any that is wider than that way: those are in no ring that narrows it. Rules
ask about many points close together; each is a walk along all necks of the floor, and
this saves most of them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_KEPT: Final = 128
"""Points that are remembered, the latest ones: who asks is mostly near to those."""


class Hollows:
    """Remembers the ways out of the points that were asked about last."""

    def __init__(self, lines: Points, widths: Points) -> None:
        """Take the lines of the necks, shape (n, points, 2), and how wide each is."""
        self._tree = flat.STRtree(flat.linestrings(lines) if len(lines) else [])
        self._across = widths
        self._spots: Points = np.zeros((0, 2))
        self._widths: Points = np.zeros(0)

    def known(self, spots: Points) -> Points:
        """Return the widths of the ways out of points; no number where none is known.

        Args:
            spots: Shape (n, 2).
        """
        found = np.full(len(spots), np.nan)
        if not len(self._spots):
            return found
        step = spots[:, None] - self._spots[None]
        nearest = np.einsum("ijk,ijk->ij", step, step).argmin(axis=1)
        ways = np.stack([spots, self._spots[nearest]], axis=1)
        spot, crossed = self._tree.query(flat.linestrings(ways), predicate="intersects")
        least = np.full(len(spots), np.inf)
        np.minimum.at(least, spot, self._across[crossed])
        known = self._widths[nearest]
        same = known < least
        same[~np.isin(np.arange(len(spots)), spot)] = True
        found[same] = known[same]
        return found

    def keep(self, spots: Points, widths: Points) -> None:
        """Remember the ways out of points."""
        self._spots = np.concatenate([self._spots, spots])[-_KEPT:]
        self._widths = np.concatenate([self._widths, widths])[-_KEPT:]
