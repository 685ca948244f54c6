"""Points with one way out: what was found of one of them holds for all.

Rings of necks are closed lines. Whether such a line goes round a point changes only
where it is crossed, so that two points have the same way out if no neck comes between
them, nor any that is wider than that way: those are in no ring that narrows it. Rules
ask about many points close together; each is a walk along all necks of the floor, and
this saves most of them. Of points that are asked about together one after another along
a line, a front say, each is compared with the one before it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_KEPT: Final = 128
"""Points that are remembered, the latest ones: who asks is mostly near to those."""

_NEAR: Final = 1.0
"""Metres. Points that are further apart are hardly ever in one hollow."""

_BESIDE: Final = 0.05
"""Metres. Points that are asked about one after another and are as near to each other
as this are nearly always in one hollow."""


class Hollows:
    """Remembers the ways out of the points that were asked about last."""

    def __init__(self, lines: Points, widths: Points) -> None:
        """Take the lines of the necks, shape (n, points, 2), and how wide each is."""
        self._tree = flat.STRtree(flat.linestrings(lines) if len(lines) else [])
        self._across = widths
        self._spots: Points = np.zeros((0, 2))
        self._widths: Points = np.zeros(0)

    def each(self, spots: Points, work: Callable[[Points], Points]) -> Points:
        """Return the ways out of points, of which as few are worked out as may be.

        Args:
            spots: Shape (n, 2).
            work: Returns the ways out of some points.
        """
        least = self._least_between(spots)
        found = np.full(len(spots), np.nan)
        # The first of each line of points, then the first of what that does not tell.
        asked = np.flatnonzero(np.isnan(least))
        while len(asked):
            found[asked] = self._one_by_one(spots[asked], work)
            while len(asked):
                asked = asked[asked < len(spots) - 1]
                before, after = found[asked], least[asked + 1]
                same = ((before < after) | np.isinf(after)) & np.isnan(found[asked + 1])
                asked = asked[same] + 1
                found[asked] = before[same]
            open_ones = np.isnan(found)
            asked = np.flatnonzero(open_ones[1:] & ~open_ones[:-1]) + 1
        return found

    def _least_between(self, spots: Points) -> Points:
        """Return the least width of the necks between each point and that before it.

        Infinite where there is none; no number where the one before it is not near.
        """
        found = np.full(len(spots), np.nan)
        step = spots[1:] - spots[:-1]
        near = np.flatnonzero(np.hypot(*step.T) <= _BESIDE) + 1
        if len(near):
            found[near] = self._least_across(spots[near - 1], spots[near])
        return found

    def _one_by_one(self, spots: Points, work: Callable[[Points], Points]) -> Points:
        """Return the ways out of points, of those that are remembered without work."""
        found = self._known(spots)
        asked = np.flatnonzero(np.isnan(found))
        if len(asked):
            found[asked] = work(spots[asked])
            self._spots = np.concatenate([self._spots, spots[asked]])[-_KEPT:]
            self._widths = np.concatenate([self._widths, found[asked]])[-_KEPT:]
        return found

    def _known(self, spots: Points) -> Points:
        """Return the widths of the ways out of points; no number where none is known.

        Args:
            spots: Shape (n, 2).
        """
        found = np.full(len(spots), np.nan)
        if not len(self._spots):
            return found
        step = spots[:, None] - self._spots[None]
        away = np.einsum("ijk,ijk->ij", step, step)
        nearest = away.argmin(axis=1)
        near = np.flatnonzero(away[np.arange(len(spots)), nearest] <= _NEAR**2)
        if not len(near):
            return found
        before = nearest[near]
        least = self._least_across(spots[near], self._spots[before])
        known = self._widths[before]
        same = (known < least) | np.isinf(least)
        found[near[same]] = known[same]
        return found

    def _least_across(self, spots: Points, others: Points) -> Points:
        """Return the least width of the necks between points, pair by pair.

        Infinite where there is none.
        """
        found = np.full(len(spots), np.inf)
        ways = flat.linestrings(np.stack([others, spots], axis=1))
        way, crossed = self._tree.query(ways, predicate="intersects")
        np.minimum.at(found, way, self._across[crossed])
        return found
