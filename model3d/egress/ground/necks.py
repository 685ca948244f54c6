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

from model3d.egress.ground.hollows import Hollows
from model3d.egress.ground.rows import Rows
from model3d.geometry.plan import flat
from model3d.geometry.plan.closest import shortest_lines

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]

_ROUNDING: Final = 1e-7
"""Metres. Something as near to the middle of a neck as this is not nearer than the two
bodies themselves."""

_AT_ONCE: Final = 64
"""Points that are asked about together, which bounds the memory that takes."""

_SOME: Final = 2048
"""Rings that are looked at together, the narrowest first."""

_SQUARE: Final = 0.5
"""Metres. Side of the squares by which corners are looked up."""

_FAR: Final = 1e6
"""Squares from west to east; two that are further apart may pass for one."""

_ABOUT: Final = _SQUARE * np.array(
    [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)]
)
"""From a place to the squares about it, its own first, metres."""


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
        # Leg by leg: about a whole way there are very many that it does not cross.
        _, found = self._across.query(flat.legs(way), predicate="intersects")
        return np.unique(found[(found >= first) & (found < last)])

    @cached_property
    def _across(self) -> flat.STRtree:
        """From body to body, to be found by where they are."""
        return flat.STRtree(flat.linestrings(self.lines[:, 1:3]))

    def middle(self, number: int) -> tuple[float, float]:
        """Return the point of a neck where nothing is nearer than its two bodies."""
        x, y = self.lines[number, 1:3].mean(axis=0).tolist()
        return x, y

    def ways_out(self, points: Sequence[tuple[float, float]] | Points) -> Points:
        """Return how wide the way out of some points is, metres.

        Infinite where no ring of necks is about a point.
        """
        spots = np.array(points, dtype=float).reshape(-1, 2)
        found = self._hollows.known(spots)
        asked = np.flatnonzero(np.isnan(found))
        if len(asked):
            found[asked] = self._ways_out(spots[asked])
            self._hollows.keep(spots[asked], found[asked])
        return found

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
        return Hollows(self.lines)

    @cached_property
    def _forest(self) -> _Forest:
        return _grown(self.bodies, self.pairs)


@dataclass(frozen=True, eq=False)
class _Forest:
    """The necks that join bodies which no narrower ones join, and those left over.

    Attributes:
        tour: The necks of the forest in the order of a walk round all of it, each
            there and back.
        rest: The necks that are left over, the narrowest first.
        ends: For both bodies of each of those how many steps of the walk come before,
            shape (n, 2).
    """

    tour: Numbers
    rest: Numbers
    ends: Numbers


def necks_among(
    shapes: NDArray[np.object_], tree: flat.STRtree, widest: float
) -> Necks:
    """Return the necks between convex bodies.

    Args:
        shapes: The bodies in plan, convex each.
        tree: Of the same.
        widest: What is wider is no neck, metres.
    """
    pairs = tree.query(shapes, predicate="dwithin", distance=widest).T
    pairs, lines, widths = bare_between(shapes, tree, pairs[pairs[:, 0] < pairs[:, 1]])
    order = np.argsort(widths, kind="stable")
    return Necks(len(shapes), pairs[order], lines[order], widths[order])


def bare_between(
    shapes: NDArray[np.object_], tree: flat.STRtree, pairs: Numbers
) -> tuple[Numbers, Points, Points]:
    """Return where some pairs of bodies are nearest, and nothing else is as near.

    Args:
        shapes: All bodies in plan, convex each.
        tree: Of the same.
        pairs: The two bodies of each pair, by number, shape (n, 2).

    Returns:
        The pairs, lines and widths as ``Necks`` has them, in the order of the pairs.
    """
    if not len(pairs):
        return np.zeros((0, 2), dtype=np.int64), np.zeros((0, 4, 2)), np.zeros(0)
    used, named = np.unique(pairs, return_inverse=True)
    bodies, named = shapes[used], named.reshape(-1, 2)
    pair, ends = shortest_lines(bodies, *named.T)
    named = named[pair]
    widths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    left = np.flatnonzero(~_beside_corners(bodies, ends.mean(axis=1), widths))
    named, ends, widths = named[left], ends[left], widths[left]
    # What is nearest tells as much as all that is near, which may be very much.
    middles = flat.points(ends.mean(axis=1))
    _, away = tree.query_nearest(middles, return_distance=True, all_matches=False)
    kept = np.flatnonzero(is_bare(away, widths))
    named, ends, widths = named[kept], ends[kept], widths[kept]
    inner = flat.get_coordinates(flat.centroid(bodies))
    lines = np.stack([inner[named[:, 0]], ends[:, 0], ends[:, 1], inner[named[:, 1]]])
    return used[named], lines.transpose(1, 0, 2), widths


def is_bare(away: Points, widths: Points) -> Flags:
    """Tell of which necks nothing is nearer to the middle than its two bodies.

    Args:
        away: How far from the middle of each the nearest body is, metres.
        widths: Metres. What touches is a neck whatever is about it.
    """
    return np.asarray((away > widths / 2 - _ROUNDING) | (widths <= 2 * _ROUNDING))


def _beside_corners(
    shapes: NDArray[np.object_], middles: Points, widths: Points
) -> Flags:
    """Tell of some necks that a corner of a body is nearer to the middle than its ends.

    That is quick, and spares most of a search where a round has very many sides: what
    is told here ``is_bare`` would tell as well, which goes by the nearest of all
    bodies. So it may miss any; only one corner of each square about a middle is looked
    at, so that the time grows with the necks alone.
    """
    corners = flat.get_coordinates(shapes)
    squares, first = np.unique(_squares(corners), return_index=True)
    found = np.zeros(len(middles), dtype=bool)
    left = np.arange(len(middles))
    for step in _ABOUT:
        at = np.searchsorted(squares, _squares(middles[left] + step))
        corner = corners[first[at.clip(max=len(squares) - 1)]]
        away = np.hypot(*(middles[left] - corner).T)
        found[left[away < widths[left] / 2 - 2 * _ROUNDING]] = True
        left = np.flatnonzero(~found)
    return found


def _squares(places: Points) -> Points:
    """Return a number for the square that each place is in."""
    x, y = np.floor(places / _SQUARE).T
    return np.asarray(x * _FAR + y)


def _grown(bodies: int, pairs: Numbers) -> _Forest:
    """Join bodies by the narrowest necks first, and walk round what that gives."""
    root = _roots(bodies)
    beside: list[list[tuple[int, int]]] = [[] for _ in range(bodies)]
    rest: list[int] = []
    for number, (a, b) in enumerate(pairs.tolist()):
        if root(a, b):
            beside[a].append((number, b))
            beside[b].append((number, a))
        else:
            rest.append(number)
    tour: list[int] = []
    reached = [-1] * bodies
    for start in range(bodies):
        if reached[start] < 0:
            _walk(start, beside, tour, reached)
    left = np.array(rest, dtype=np.int64)
    ends = np.array(reached, dtype=np.int64)[pairs[left]]
    return _Forest(np.array(tour, dtype=np.int64), left, ends)


def _roots(bodies: int) -> Callable[[int, int], bool]:
    """Return what joins two bodies, and tells whether they were apart before."""
    above = list(range(bodies))

    def top(one: int) -> int:
        while above[one] != one:
            above[one] = above[above[one]]
            one = above[one]
        return one

    def join(one: int, other: int) -> bool:
        first, second = top(one), top(other)
        above[first] = second
        return first != second

    return join


def _walk(
    start: int, beside: list[list[tuple[int, int]]], tour: list[int], reached: list[int]
) -> None:
    reached[start] = len(tour)
    open_ones = [(start, -1, iter(beside[start]))]
    while open_ones:
        _, back, others = open_ones[-1]
        for number, body in others:
            if number != back:
                tour.append(number)
                reached[body] = len(tour)
                open_ones.append((body, number, iter(beside[body])))
                break
        else:
            open_ones.pop()
            if back >= 0:
                tour.append(back)
