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
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.necks.forest import Forest

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]

_AT_ONCE: Final = 64
"""Points that are asked about together: a bit of a number each."""

_Bits: Final = np.uint64
_BIT: Final = _Bits(1) << np.arange(_AT_ONCE, dtype=_Bits)
_FIRST: Final = np.append(_Bits(0), np.cumsum(_BIT, dtype=_Bits))
"""By how many: all bits of so many points."""

_FEW: Final = 256
"""Necks that are measured sooner than looked up."""

_SOME: Final = 16384
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

    def nearest(self, way: flat.LineString, first: int, last: int) -> int:
        """Return which of the necks from one number to before another is nearest.

        Of equally near ones the first.

        Args:
            way: From which it is looked.
            first: The first of the necks; there is one.
            last: The one that is none of them any more.
        """
        lines, tree = self._between(int(first), int(last))
        near = np.arange(len(lines))
        if len(lines) > _FEW:
            # In a hall very many are equally wide, and few of them are near a way.
            legs = flat.legs(way)
            _, away = tree.query_nearest(legs, return_distance=True)
            far = float(away.min()) + TOUCH
            _, found = tree.query(legs, predicate="dwithin", distance=far)
            near = np.unique(found)
        return int(first + near[flat.distance(lines[near], way).argmin()])

    def _between(
        self, first: int, last: int
    ) -> tuple[NDArray[np.object_], flat.STRtree]:
        """Return the necks from one number to before another, and a tree of them.

        Those that were asked about last are kept: ways of one width follow each other.
        """
        if (first, last) not in self._last:
            lines = flat.linestrings(self.lines[first:last, 1:3])
            self._last.clear()
            self._last[first, last] = lines, flat.STRtree(lines)
        return self._last[first, last]

    @cached_property
    def _last(self) -> dict[tuple[int, int], tuple[NDArray[np.object_], flat.STRtree]]:
        return {}

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
        order = np.lexsort(spots.T)
        crossed = self._crossed(spots[order])
        # Odd or even is all that counts, so that a bit a point is enough.
        walked = np.zeros(len(forest.tour) + 1, dtype=_Bits)
        np.bitwise_xor.accumulate(crossed[forest.tour], out=walked[1:])
        found = np.full(len(spots), -1)
        left = _FIRST[len(spots)]
        for first in range(0, len(forest.rest), _SOME):
            some = slice(first, first + _SOME)
            one, other = forest.ends[some].T
            about = walked[one] ^ walked[other] ^ crossed[forest.rest[some]]
            closed = np.bitwise_or.reduce(about) & left
            for bit in np.flatnonzero(_BIT & closed).tolist():
                found[order[bit]] = first + (about & _BIT[bit] != 0).argmax()
            left &= ~closed
            if not left:
                break
        return found

    def _crossed(self, spots: Points) -> NDArray[np.uint64]:
        """Tell which necks a ray eastwards from each point crosses an odd time.

        Args:
            spots: Points that are equally far north one after another, from west to
                east.

        Returns:
            By neck, with a bit a point.
        """
        places, starts = np.unique(spots[:, 1], return_index=True)
        place, side = self._rows.at(places)
        y, (_, ay, _, by) = places[place], self._sides[:, side]
        passed = (ay > y) != (by > y)
        place, side, y = place[passed], side[passed], y[passed]
        ax, ay, bx, by = self._sides[:, side]
        across = ax + (y - ay) * (bx - ax) / (by - ay)
        rays = np.empty(len(side), dtype=_Bits)
        ends = [*starts[1:].tolist(), len(spots)]
        firsts = np.searchsorted(place, np.arange(len(places) + 1)).tolist()
        for number, (start, end) in enumerate(zip(starts.tolist(), ends, strict=True)):
            here = slice(firsts[number], firsts[number + 1])
            # Whoever is west of where a side is passed looks through it.
            west = np.searchsorted(spots[start:end, 0], across[here])
            rays[here] = _FIRST[west] << _Bits(start)
        found = np.zeros((len(self.lines), self.lines.shape[1] - 1), dtype=_Bits)
        # A ray is told of a side once, so that to add is to set its bit.
        np.add.at(found.reshape(-1), side, rays)
        odd: NDArray[np.uint64] = np.bitwise_xor.reduce(found, axis=1)
        return odd

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
