"""The narrow places of a floor, and how narrow is the way out of any point of it.

A neck is where two bodies stand nearest to each other with nothing else as near between
them. A person who swells at a point as far as the bodies about it let them, moving away
from the nearest, ends in a hollow whose only gates are necks; a way out is as wide as
the narrowest neck that it must pass. So a point is shut in for a width as soon as necks
of less, strung from body to body, close a ring about it: that of all such rings whose
widest neck is least tells how wide the way out is.

Rings are not searched for. The necks, the narrowest first, make a forest of all bodies;
each neck that is left over closes one ring, and every other ring is put together of
those. Whether a ring goes round a point is whether a ray from the point crosses it an
odd number of times.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.necks.bare import bare_between
from model3d.egress.ground.necks.forest import grown
from model3d.egress.ground.necks.hollows import Hollows
from model3d.egress.ground.necks.near import pairs_near
from model3d.egress.ground.necks.spans import Rows
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.necks.forest import Forest

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]

_AT_ONCE: Final = 64
"""Points that are asked about together, which bounds the memory that takes."""

_SOME: Final = 2048
"""Rings that are looked at together, the narrowest first."""


@dataclass(frozen=True, eq=False)
class Necks:
    """The necks of a floor, the narrowest first.

    Attributes:
        bodies: How many bodies there are.
        pairs: The two bodies of each neck, by number, shape (n, 2).
        lines: For each the way from within one body to its nearest point, to that of
            the other and into it, shape (n, 4, 2).
        widths: Metres, rising.
    """

    bodies: int
    pairs: Numbers
    lines: Points
    widths: Points

    def without(self, left_out: Flags) -> Necks:
        """Return the same less some of them."""
        kept = ~left_out
        return Necks(self.bodies, self.pairs[kept], self.lines[kept], self.widths[kept])

    def met(self, way: flat.LineString, first: int, last: int) -> Numbers:
        """Return which of the necks from one number to before another a way crosses."""
        # Of as few as may be: about a whole way there are very many that are wider,
        # and leg by leg: about it there are very many that it does not cross.
        few = 1 << max(int(last) - 1, 0).bit_length()
        if few not in self._trees:
            lines = flat.linestrings(self.lines[:few, 1:3]) if len(self.lines) else []
            self._trees[few] = flat.STRtree(lines)
        _, found = self._trees[few].query(flat.legs(way), predicate="intersects")
        return np.unique(found[(found >= first) & (found < last)])

    @cached_property
    def _trees(self) -> dict[int, flat.STRtree]:
        """By how many: the narrowest, from body to body, to be found by where."""
        return {}

    def middle(self, number: int) -> tuple[float, float]:
        """Return the point of a neck where nothing is nearer than its two bodies."""
        x, y = self.lines[number, 1:3].mean(axis=0).tolist()
        return x, y

    def ways_out(self, points: Sequence[tuple[float, float]] | Points) -> Points:
        """Return how wide the way out of some points is, metres.

        Infinite where no ring of necks is about a point.
        """
        spots = np.array(points, dtype=float).reshape(-1, 2)
        return self._hollows.each(spots, self._ways_out)

    def _ways_out(self, spots: Points) -> Points:
        found = np.full(len(spots), np.inf)
        rings = self.widths[self._forest.rest]
        for first in range(0, len(spots) if len(rings) else 0, _AT_ONCE):
            numbers = self._first_about(spots[first : first + _AT_ONCE])
            closed = np.flatnonzero(numbers >= 0)
            found[first + closed] = rings[numbers[closed]]
        return found

    def _first_about(self, spots: Points) -> Numbers:
        """Return for each point the first ring that goes round it; -1 where none does.

        The narrowest are looked at first, some at a time: mostly that is enough.
        """
        forest = self._forest
        crossed = self._crossed(spots)
        # Odd or even is all that counts, so that a byte is enough.
        walked = np.zeros((len(crossed), len(forest.tour) + 1), dtype=np.uint8)
        np.cumsum(crossed[:, forest.tour], axis=1, dtype=np.uint8, out=walked[:, 1:])
        found = np.full(len(spots), -1)
        left = np.arange(len(spots))
        for first in range(0, len(forest.rest), _SOME):
            some = slice(first, first + _SOME)
            one, other = forest.ends[some].T
            here = left[:, None]
            total = walked[here, one] + walked[here, other]
            about = (total + crossed[here, forest.rest[some]]) % 2 == 1
            closed = about.any(axis=1)
            found[left[closed]] = first + about[closed].argmax(axis=1)
            left = left[~closed]
            if not len(left):
                break
        return found

    def _crossed(self, spots: Points) -> Flags:
        """Tell which necks a ray eastwards from each point crosses an odd time.

        Shape (points, necks).
        """
        spot, side = self._rows.at(spots[:, 1])
        (x, y), (ax, ay, bx, by) = spots[spot].T, self._sides[:, side]
        passed = (ay > y) != (by > y)
        spot, side, x, y = spot[passed], side[passed], x[passed], y[passed]
        ax, ay, bx, by = self._sides[:, side]
        east = x < ax + (y - ay) * (bx - ax) / (by - ay)
        shape = len(spots), len(self.lines)
        neck = side // (self.lines.shape[1] - 1)
        found = np.zeros(shape, dtype=bool)
        np.logical_xor.at(found, (spot[east], neck[east]), True)  # noqa: FBT003 - numpy's
        return found

    @cached_property
    def _sides(self) -> Points:
        """Both ends of each side of each neck: x, y, x, y, shape (4, sides)."""
        ends = np.concatenate([self.lines[:, :-1], self.lines[:, 1:]], axis=2)
        return np.ascontiguousarray(ends.reshape(-1, 4).T)

    @cached_property
    def _rows(self) -> Rows:
        """The sides by how far north they are."""
        return Rows(self._sides[1], self._sides[3])

    @cached_property
    def _hollows(self) -> Hollows:
        return Hollows(self.lines, self.widths)

    @cached_property
    def _forest(self) -> Forest:
        return grown(self.bodies, self.pairs)


def necks_among(
    shapes: NDArray[np.object_], tree: flat.STRtree, widest: float
) -> Necks:
    """Return the necks between convex bodies.

    Args:
        shapes: The bodies in plan, convex each.
        tree: Of the same.
        widest: What is wider is no neck, metres.
    """
    pairs = np.stack(pairs_near(shapes, np.arange(len(shapes)), tree, widest), axis=1)
    pairs, lines, widths = bare_between(shapes, tree, pairs[pairs[:, 0] < pairs[:, 1]])
    order = np.argsort(widths, kind="stable")
    return Necks(len(shapes), pairs[order], lines[order], widths[order])
