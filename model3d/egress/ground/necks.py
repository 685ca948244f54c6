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

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.hollows import Hollows
from model3d.geometry.plan import flat
from model3d.geometry.plan.closest import away_from, shortest_lines

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

_MANY: Final = 500
"""From so many necks on it pays to leave out first what a corner alone rules out."""


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
        found = self._across.query(way, predicate="intersects")
        return np.sort(found[(found >= first) & (found < last)])

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
            about = self._rings_about(self._crossed(spots[first : first + _AT_ONCE]))
            closed = about.any(axis=1)
            here = first + np.flatnonzero(closed)
            found[here] = rings[about[closed].argmax(axis=1)]
        return found

    def _rings_about(self, crossed: Flags) -> Flags:
        """Tell which of the rings go round each point, shape (points, rings)."""
        forest = self._forest
        # Odd or even is all that counts, so that a byte is enough.
        walked = np.zeros((len(crossed), len(forest.tour) + 1), dtype=np.uint8)
        np.cumsum(crossed[:, forest.tour], axis=1, dtype=np.uint8, out=walked[:, 1:])
        one, other = forest.ends.T
        total = walked[:, one] + walked[:, other] + crossed[:, forest.rest]
        return np.asarray(total % 2 == 1)

    def _crossed(self, spots: Points) -> Flags:
        """Tell which necks a ray eastwards from each point crosses an odd time.

        Shape (points, necks).
        """
        _, low, _, high = self._sides
        spot, side = np.nonzero((low > spots[:, 1:]) != (high > spots[:, 1:]))
        (x, y), (ax, ay, bx, by) = spots[spot].T, self._sides[:, side]
        east = x < ax + (y - ay) * (bx - ax) / (by - ay)
        shape = len(spots), len(self.lines)
        neck = side // (self.lines.shape[1] - 1)
        at = np.ravel_multi_index((spot[east], neck[east]), shape)
        times = np.bincount(at, minlength=math.prod(shape)).reshape(shape)
        return np.asarray(times % 2 == 1)

    @cached_property
    def _sides(self) -> Points:
        """Both ends of each side of each neck: x, y, x, y, shape (4, sides)."""
        ends = np.concatenate([self.lines[:, :-1], self.lines[:, 1:]], axis=2)
        return np.ascontiguousarray(ends.reshape(-1, 4).T)

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
    pairs, lines, widths = _bare(shapes, tree, *_near(shapes, tree, widest))
    order = np.argsort(widths, kind="stable")
    return Necks(len(shapes), pairs[order], lines[order], widths[order])


def necks_with(
    known: Necks,
    shapes: NDArray[np.object_],
    tree: flat.STRtree,
    widest: float,
    added: slice,
) -> Necks:
    """Return the same, where the necks without some of the bodies are known.

    What comes between two bodies takes their neck away; nothing else does, and new
    necks are only at what was added.

    Args:
        known: The necks between all other bodies.
        shapes: All bodies in plan, convex each.
        tree: Of the same.
        widest: What is wider is no neck, metres.
        added: Which of them were added.
    """
    first, count = added.start, added.stop - added.start
    new = shapes[added]
    kept = np.arange(len(known.widths))
    if len(kept):
        middles = flat.points(known.lines[:, 1:3].mean(axis=1))
        near, away = flat.STRtree(new).query_nearest(
            middles, return_distance=True, all_matches=False
        )
        is_bare = away > known.widths[near[0]] / 2 - _ROUNDING
        kept = near[0][is_bare | (known.widths[near[0]] <= 2 * _ROUNDING)]
    old = known.pairs[kept]
    old = np.where(old >= first, old + count, old)
    one, other = tree.query(new, predicate="dwithin", distance=widest)
    one = one + first
    # Of two that were both added each is found by the other one too.
    once = (one < other) | (other < first)
    one, other = np.minimum(one, other)[once], np.maximum(one, other)[once]
    pairs, lines, widths = _bare(shapes, tree, one, other)
    pairs = np.concatenate([old, pairs])
    lines = np.concatenate([known.lines[kept], lines])
    widths = np.concatenate([known.widths[kept], widths])
    # Of equal ones the same comes first as where all are found anew.
    order = np.lexsort([_turns(shapes, tree, widest, pairs), widths])
    return Necks(len(shapes), pairs[order], lines[order], widths[order])


def _turns(
    shapes: NDArray[np.object_], tree: flat.STRtree, widest: float, pairs: Numbers
) -> Numbers:
    """Return when each of some pairs is come upon where a tree is asked for all."""
    one, other = tree.query(_around(shapes, widest))
    keys = one * len(shapes) + other
    rising = np.argsort(keys)
    asked = pairs[:, 0] * len(shapes) + pairs[:, 1]
    return np.asarray(rising[np.searchsorted(keys[rising], asked)])


def _around(shapes: NDArray[np.object_], away: float) -> NDArray[np.object_]:
    ends = flat.bounds(shapes) + np.array([-away, -away, away, away])
    return np.asarray(flat.box(*ends.T))


def _bare(
    shapes: NDArray[np.object_], tree: flat.STRtree, one: Numbers, other: Numbers
) -> tuple[Numbers, Points, Points]:
    """Return the necks between pairs of bodies that nothing comes between.

    Returns:
        Pairs, lines and widths, as ``Necks`` has them.
    """
    if not len(one):
        return np.zeros((0, 2), dtype=np.int64), np.zeros((0, 4, 2)), np.zeros(0)
    pair, ends = shortest_lines(shapes, one, other)
    pairs = np.stack([one[pair], other[pair]], axis=1)
    widths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    left = np.flatnonzero(~_beside_corners(shapes, ends.mean(axis=1), widths))
    pairs, ends, widths = pairs[left], ends[left], widths[left]
    # What is nearest tells as much as all that is near, which may be very much.
    middles = flat.points(ends.mean(axis=1))
    _, away = tree.query_nearest(middles, return_distance=True, all_matches=False)
    is_bare = away > widths / 2 - _ROUNDING
    kept = is_bare | (widths <= 2 * _ROUNDING)
    pairs, ends, widths = pairs[kept], ends[kept], widths[kept]
    inner = flat.get_coordinates(flat.centroid(shapes))
    lines = np.stack([inner[pairs[:, 0]], ends[:, 0], ends[:, 1], inner[pairs[:, 1]]])
    return pairs, lines.transpose(1, 0, 2), widths


def _near(
    shapes: NDArray[np.object_], tree: flat.STRtree, widest: float
) -> tuple[Numbers, Numbers]:
    """Return the pairs of bodies that are no further apart than a width, each once.

    The tree alone would measure each pair twice, and each body against itself.
    """
    if not len(shapes):
        none = np.zeros(0, dtype=np.int64)
        return none, none
    one, other = tree.query(_around(shapes, widest))
    one, other = one[one < other], other[one < other]
    flat.prepare(shapes)
    near = flat.dwithin(shapes[one], shapes[other], widest)
    # Of two that overlap, where they are nearest is told otherwise of what is prepared.
    flat.destroy_prepared(shapes)
    return one[near], other[near]


def _beside_corners(
    shapes: NDArray[np.object_], middles: Points, widths: Points
) -> Flags:
    """Tell of which necks a corner of a body is nearer to the middle than its two ends.

    That is quick, and spares most of a search where a round has very many sides.
    """
    if len(middles) < _MANY:
        return np.zeros(len(middles), dtype=bool)
    away = away_from(middles, flat.get_coordinates(shapes))
    return np.asarray(away < widths / 2 - 2 * _ROUNDING)


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
