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
    _, shapes, tree = floor.features
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
    kept = ~is_bare(away, widths) & (widths > TOUCH)
    kept[kept] = _are_gates(ends[kept], pairs[kept], near[1][kept], floor, leaves, hung)
    pairs, ends, widths = pairs[kept], ends[kept], widths[kept]
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


def _are_gates(
    ends: Points,
    pairs: Numbers,
    near: Numbers,
    floor: Floor,
    leaves: Sequence[LeafAjar],
    hung: Numbers,
) -> Flags:
    """Tell which lines from a leaf to another body are gates.

    Args:
        ends: Of the lines, shape (n, 2, 2).
        pairs: The leaf and the other body of each, by number.
        near: The body that is nearest to the middle of each.
        floor: With the leaves on it.
        leaves: Of equipment.
        hung: For each body of the floor which of the leaves it is; -1 where none.
    """
    names, shapes, tree = floor.features
    own = [leaves[n] for n in hung[pairs[:, 0]].tolist()]
    facing = hung[pairs[:, 1]] >= 0
    same = np.array(names)[near] == np.array(names)[pairs[:, 1]]
    behind = flat.shortest_line(flat.points(ends.mean(axis=1)), shapes[near])
    spots = flat.get_coordinates(behind).reshape(-1, 2, 2)[:, 1]
    gates = facing | (_are_across(spots, own) & ~same)
    # The pocket between two leaves of one front, or beside a wall, ends at no jamb.
    pocket = flat.distance(flat.points(ends[:, 1]), shapes[near]) <= TOUCH
    pocket |= (hung[near] >= 0) & (
        _turned(leaves, hung[pairs[:, 0]], hung[near]) > -FACING
    )
    to_jambs = _lead_to_walls(ends, pairs, floor, hung, leaves) & ~pocket
    return np.asarray(gates & (_are_seen(ends, pairs, tree, hung) | to_jambs))


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


def _are_seen(ends: Points, pairs: Numbers, tree: flat.STRtree, hung: Numbers) -> Flags:
    """Tell which lines between two bodies come through no other, nor touch one.

    What is touched stands there: of leaves as wide as each other the edge of the nearer
    one ends the line, wherever rounding has put it. Between two leaves that face each
    other more leaves may stand: they only make the gate narrower.
    """
    line, body = _others_on(ends, pairs, tree)
    one, other = hung[pairs].T
    facing = (one >= 0) & (other >= 0)
    seen = np.ones(len(ends), dtype=bool)
    seen[line[~facing[line] | (hung[body] < 0)]] = False
    return seen


def _lead_to_walls(
    ends: Points,
    pairs: Numbers,
    floor: Floor,
    hung: Numbers,
    leaves: Sequence[LeafAjar],
) -> Flags:
    """Tell which lines lead from a leaf to a wall past nothing but leaves that face it.

    What meets a wall where the line ends at that, a doorway at its jamb, bars nothing.
    In a wider aisle the leaves that face it are out of the line.
    """
    lead = pairs[:, 1] >= len(floor.bodies.standing)
    _, _, tree = floor.features
    line, body = _others_on(_short_of_walls(ends), pairs, tree)
    hides = _turned(leaves, hung[pairs[line, 0]], hung[body]) >= FACING
    lead[line[(hung[body] < 0) | hides]] = False
    return lead


def _others_on(
    ends: Points, pairs: Numbers, tree: flat.STRtree
) -> tuple[Numbers, Numbers]:
    """Return the lines on which another body stands than the two that they join."""
    found = tree.query(flat.linestrings(ends), predicate="dwithin", distance=TOUCH)
    line, body = found
    third = (body[:, None] != pairs[line]).all(axis=1)
    return line[third], body[third]


def _short_of_walls(ends: Points) -> Points:
    """Return lines that end twice the contact before what they lead to."""
    step = ends[:, 1] - ends[:, 0]
    long = np.hypot(*step.T)
    part = np.where(long > 2 * TOUCH, 2 * TOUCH / np.maximum(long, TOUCH), 0.0)
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
