"""Gates between open leaves that face each other over a pocket shallower than wide.

Whoever stands at a front between two leaves that face each other comes out between
their edges. Where the front is nearer to the middle of that gate than the edges are, it
is no neck: nobody as wide as the gate finds room behind it. That is the worst case, and
never a reason to pass: the gate counts all the same. In a wider aisle there is more
room behind it, and it would be a neck; a wider aisle must not be worse.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.necks.bare import is_bare
from model3d.egress.ground.necks.necks import Necks
from model3d.geometry.plan import flat
from model3d.geometry.plan.convex.closest import shortest_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.floor import Floor

    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]

_FACING: Final = -0.9
"""Cosine between the ways that two fronts face, below which they face each other."""


def with_gates(
    necks: Necks, floor: Floor, leaves: Sequence[LeafAjar], hung: Numbers
) -> Necks:
    """Return some necks of a floor and the gates between leaves that face each other.

    Args:
        necks: Of the floor, all or some.
        floor: With the leaves on it.
        leaves: Of equipment.
        hung: For each body of the floor which of the leaves it is; -1 where none.
    """
    _, shapes, tree = floor.features
    bodies = np.flatnonzero(hung >= 0)
    outs = np.array([leaf.frame.out for leaf in leaves]).reshape(-1, 2)
    near = flat.STRtree(shapes[bodies])
    found = near.query(shapes[bodies], predicate="dwithin", distance=WIDEST)
    one, other = bodies[found[:, found[0] < found[1]]]
    facing = (outs[hung[one]] * outs[hung[other]]).sum(axis=1) < _FACING
    one, other = one[facing], other[facing]
    if not len(one):
        return necks
    pair, ends = shortest_lines(shapes, one, other)
    pairs = np.stack([one[pair], other[pair]], axis=1)
    widths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    middles = flat.points(ends.mean(axis=1))
    _, away = tree.query_nearest(middles, return_distance=True, all_matches=False)
    added = np.flatnonzero(~is_bare(away, widths))
    added = added[_seen(ends[added], pairs[added], tree)]
    pairs, ends, widths = pairs[added], ends[added], widths[added]
    inner = flat.get_coordinates(flat.centroid(shapes))
    lines = np.stack(
        [inner[pairs[:, 0]], ends[:, 0], ends[:, 1], inner[pairs[:, 1]]], axis=1
    )
    widths = np.concatenate([necks.widths, widths])
    order = np.argsort(widths, kind="stable")
    return Necks(
        necks.bodies,
        np.concatenate([necks.pairs, pairs])[order],
        np.concatenate([necks.lines, lines])[order],
        widths[order],
    )


def _seen(ends: Points, pairs: Numbers, tree: flat.STRtree) -> Numbers:
    """Return which lines between two bodies come through no other, by number."""
    if not len(ends):
        return np.zeros(0, dtype=np.int64)
    line, body = tree.query(flat.linestrings(ends), predicate="intersects")
    others = (body[:, None] != pairs[line]).all(axis=1)
    return np.setdiff1d(np.arange(len(ends)), line[others])
