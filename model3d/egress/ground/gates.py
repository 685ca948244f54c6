"""Gates past the edge of an open leaf over a pocket that is shallower than wide.

Whoever stands at a front before which a leaf of other gear stands open comes out past
its edge: between it and another leaf that faces it, or what else stands out. Where the
front is nearer to the middle of that gate than both are, it is no neck: nobody as wide
as the gate finds room behind it. That is the worst case, and never a reason to pass:
the gate counts all the same. In a wider aisle there is more room behind it, and it
would be a neck; a wider aisle must not be worse.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.necks.bare import is_bare
from model3d.egress.ground.necks.necks import Necks
from model3d.geometry.plan import flat
from model3d.geometry.plan.convex.closest import shortest_lines
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.floor import Floor

    Flags = NDArray[np.bool_]
    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]

FACING: Final = -0.9
"""Cosine between the ways that two fronts face, below which they face each other."""


def with_gates(
    necks: Necks, floor: Floor, leaves: Sequence[LeafAjar], hung: Numbers
) -> Necks:
    """Return some necks of a floor and the gates past the edges of leaves.

    Args:
        necks: Of the floor, all or some.
        floor: With the leaves on it.
        leaves: Of equipment.
        hung: For each body of the floor which of the leaves it is; -1 where none.
    """
    names, shapes, tree = floor.features
    # No way is wider than the widest door that it may lead to.
    widest = min(max((door.width for door in floor.exits), default=0.0), WIDEST)
    one, other = _pairs(shapes, tree, leaves, hung, widest)
    if not len(one):
        return necks
    pair, ends = shortest_lines(shapes, one, other)
    pairs = np.stack([one[pair], other[pair]], axis=1)
    widths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    middles = flat.points(ends.mean(axis=1))
    near, away = tree.query_nearest(middles, return_distance=True, all_matches=False)
    gates = ~is_bare(away, widths) & (widths > TOUCH)
    gates[gates] = _are_seen(ends[gates], pairs[gates], floor, hung, leaves)
    behind = flat.shortest_line(middles[gates], shapes[near[1][gates]])
    spots = flat.get_coordinates(behind).reshape(-1, 2, 2)[:, 1]
    same = np.array(names)[near[1][gates]] == np.array(names)[pairs[gates, 1]]
    same |= flat.distance(flat.points(ends[gates, 1]), shapes[near[1][gates]]) <= TOUCH
    facing = hung[pairs[gates, 1]] >= 0
    across = _are_across(spots, [leaves[n] for n in hung[pairs[gates, 0]].tolist()])
    beside = _hang_alike(leaves, hung[pairs[gates, 0]], hung[near[1][gates]])
    gates[gates] = facing | (across & ~same & ~beside)
    pairs, ends, widths = pairs[gates], ends[gates], widths[gates]
    first, last = flat.get_coordinates(flat.centroid(shapes[pairs.T])).reshape(2, -1, 2)
    lines = np.stack([first, ends[:, 0], ends[:, 1], last], axis=1)
    widths = np.concatenate([necks.widths, widths])
    order = np.argsort(widths, kind="stable")
    return Necks(
        necks.bodies,
        np.concatenate([necks.pairs, pairs])[order],
        np.concatenate([necks.lines, lines])[order],
        widths[order],
    )


def _pairs(
    shapes: NDArray[np.object_],
    tree: flat.STRtree,
    leaves: Sequence[LeafAjar],
    hung: Numbers,
    widest: float,
) -> tuple[Numbers, Numbers]:
    """Return each leaf with what is near it: bodies, and leaves that face it."""
    bodies = np.flatnonzero(hung >= 0)
    found = tree.query(shapes[bodies], predicate="dwithin", distance=widest)
    one, other = bodies[found[0]], found[1]
    is_leaf = hung[other] >= 0
    facing = _turned(leaves, hung[one], hung[other]) < FACING
    kept = ~is_leaf | (facing & (one < other))
    return one[kept], other[kept]


def _turned(leaves: Sequence[LeafAjar], one: Numbers, other: Numbers) -> Points:
    """Return the cosine between the ways that the fronts of two leaves face, by pair.

    A number below zero stands for some leaf: what is said of it counts for nothing.
    """
    outs = np.array([leaf.frame.out for leaf in leaves]).reshape(-1, 2)
    return np.asarray((outs[one] * outs[other]).sum(axis=1))


def _hang_alike(leaves: Sequence[LeafAjar], one: Numbers, other: Numbers) -> Flags:
    """Tell which bodies are leaves that hang the same way: the pocket is between both.

    Args:
        leaves: Of equipment.
        one: Of each pair the leaf, by number.
        other: Of each pair the body: which leaf it is, -1 where none.
    """
    return (other >= 0) & (_turned(leaves, one, other) > -FACING)


def _are_seen(
    ends: Points,
    pairs: Numbers,
    floor: Floor,
    hung: Numbers,
    leaves: Sequence[LeafAjar],
) -> Flags:
    """Tell which lines between two bodies come through no other, nor touch one.

    What is touched stands there: of leaves as wide as each other the edge of the nearer
    one ends the line, wherever rounding has put it. What meets a wall where the line
    ends at that, a doorway at its jamb, bars nothing. Between two leaves that face each
    other more leaves may stand, and between a leaf and a wall those that face it: they
    only make the gate narrower.
    """
    seen = np.ones(len(ends), dtype=bool)
    at_wall = pairs[:, 1] >= len(floor.standing)
    lines = flat.linestrings(_short_of_walls(ends, at_wall))
    _, _, tree = floor.features
    line, body = tree.query(lines, predicate="dwithin", distance=TOUCH)
    one, other = hung[pairs].T
    facing = (one >= 0) & (other >= 0)
    hides = _turned(leaves, hung[pairs[line, 0]], hung[body]) >= FACING
    bars = (hung[body] < 0) | (~facing[line] & (hides | ~at_wall[line]))
    seen[line[bars & (body[:, None] != pairs[line]).all(axis=1)]] = False
    return seen


def _short_of_walls(ends: Points, walls: Flags) -> Points:
    """Return lines that end twice the contact before what they lead to, if a wall."""
    step = ends[:, 1] - ends[:, 0]
    long = np.hypot(*step.T)
    part = np.where(walls & (long > 2 * TOUCH), 2 * TOUCH / np.maximum(long, TOUCH), 0)
    return np.stack([ends[:, 0], ends[:, 1] - part[:, None] * step], axis=1)


def _are_across(spots: Points, leaves: Sequence[LeafAjar]) -> Flags:
    """Tell which points are no nearer to the front of a leaf than its edge is."""
    return np.array(
        [
            leaf.frame.to_frame(x, y)[1] >= leaf.tip[1] - TOUCH
            for leaf, (x, y) in zip(leaves, spots.tolist(), strict=True)
        ],
        dtype=bool,
    )
