"""The necks of a floor on which a little more stands than on one whose necks are known.

A neck is where nothing else is as near as its two bodies. So of the necks there were,
those go whose middle is nearer to something new; what is added are those of which one
body is new. Nothing else can change, which makes the work that of the place where
something was put, not that of the room.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.necks.bare import bare_between, is_bare
from model3d.egress.ground.necks.near import pairs_near
from model3d.egress.ground.necks.necks import Necks
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Numbers = NDArray[np.int64]
    Shapes = NDArray[np.object_]

_EVERYWHERE: Final = 1e12
"""Metres. Nothing is as far away."""


def necks_with(
    necks: Necks, shapes: Shapes, tree: flat.STRtree, new: range, widest: float
) -> Necks:
    """Return the same as ``necks_among``, from the necks that were there without some.

    Args:
        necks: Of the bodies without the new ones.
        shapes: All bodies in plan, convex each.
        tree: Of the same.
        new: Which of them are new, by number.
        widest: What is wider is no neck, metres.
    """
    added = shapes[new.start : new.stop]
    those = flat.STRtree(added)
    kept = _kept(necks, added, those, widest)
    were = necks.pairs[kept]
    were = np.where(were < new.start, were, were + len(new))
    pairs, lines, widths = bare_between(
        shapes, tree, _pairs(shapes, tree, those, new, widest)
    )
    pairs = np.concatenate([were, pairs])
    lines = np.concatenate([necks.lines[kept], lines])
    widths = np.concatenate([necks.widths[kept], widths])
    # Of equally narrow ones the first body counts, then the place of the other in the
    # tree; both necks of one pair are in their order already.
    places = np.empty(len(shapes), dtype=np.int64)
    places[tree.query(_WORLD)] = np.arange(len(shapes))
    order = np.lexsort((places[pairs[:, 1]], pairs[:, 0], widths))
    return Necks(len(shapes), pairs[order], lines[order], widths[order])


_WORLD: Final = flat.box(-_EVERYWHERE, -_EVERYWHERE, _EVERYWHERE, _EVERYWHERE)


def _kept(necks: Necks, added: Shapes, those: flat.STRtree, widest: float) -> Flags:
    """Tell which necks are none the less bare where something is added."""
    middles = necks.lines[:, 1:3].mean(axis=1)
    west, south, east, north = flat.total_bounds(added).tolist()
    # The middle of a neck is no further than half of it from what is in between.
    low, high = np.array([west, south]) - widest, np.array([east, north]) + widest
    near = np.flatnonzero(((middles >= low) & (middles <= high)).all(axis=1))
    kept = np.ones(len(middles), dtype=bool)
    if len(near):
        # Nearly all have nothing new so near that it need be measured.
        at, reach = flat.points(middles[near]), necks.widths[near] / 2
        found = np.unique(those.query(at, predicate="dwithin", distance=reach)[0])
        near = near[found]
    if len(near):
        _, away = those.query_nearest(
            at[found], return_distance=True, all_matches=False
        )
        kept[near] = is_bare(away, necks.widths[near])
    return kept


def _pairs(
    shapes: Shapes, tree: flat.STRtree, those: flat.STRtree, new: range, widest: float
) -> Numbers:
    """Return the pairs of bodies near each other of which one is new, shape (n, 2).

    Each is asked from its first body, as all are by ``necks_among``.
    """
    added = shapes[new.start : new.stop]
    west, south, east, north = flat.bounds(added).T
    # Whatever stands in a box about one may be near: it is measured below.
    about = flat.box(west - widest, south - widest, east + widest, north + widest)
    near = tree.query(about)[1]
    before = np.unique(near[near < new.start])
    first, second = pairs_near(shapes, before, those, widest)
    from_old = np.stack([before[first], second + new.start], axis=1)
    one, other = pairs_near(shapes, np.arange(new.start, new.stop), tree, widest)
    one = one + new.start
    from_new = np.stack([one, other], axis=1)[one < other]
    return np.concatenate([from_old, from_new])
