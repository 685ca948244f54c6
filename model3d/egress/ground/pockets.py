"""Which narrow places beside open leaves are pockets, and no passages."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]

    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.floor import Floor

_FEW: Final = 64
"""Points that are looked through sooner than a hull is drawn about them."""

_LEVEL: Final = 0.1
"""Sine of the angle to the front up to which a neck beside a leaf runs along it."""


def pockets(floor: Floor, leaves: Sequence[LeafAjar], hung: Numbers) -> Flags:
    """Tell which necks of a floor are those of pockets beside leaves: no passages.

    They are between two leaves that hang the same way, and along a front between a leaf
    and what stands beside it and reaches back behind that front, in one piece or in
    several that touch.

    Args:
        floor: With the leaves on it.
        leaves: Of equipment.
        hung: For each body of the floor which of the leaves it is; -1 where none.
    """
    found, alone, leaf, ends = _suspected(floor, leaves, hung)
    found[alone] = _have_beside(floor, leaves, touching(floor, hung), leaf, ends)
    return found & (floor.necks.widths > TOUCH)


def suspected(
    floor: Floor, leaves: Sequence[LeafAjar], hung: Numbers, reach: flat.Geometry
) -> Flags:
    """Tell which necks are pockets, or may be with something more in an area.

    Whether one beside a leaf is a pocket hangs on what stands at its end, and on what
    that hangs together with: where nothing of it touches the area it stays what it is.

    Args:
        floor: With the leaves on it.
        leaves: Of equipment.
        hung: For each body of the floor which of the leaves it is; -1 where none.
        reach: The area.
    """
    found, alone, leaf, ends = _suspected(floor, leaves, hung)
    whole, loose = touching(floor, hung), len(floor.bodies.standing)
    found[alone] = _have_beside(floor, leaves, whole, leaf, ends)
    _, _, tree = floor.features
    near = tree.query(reach, predicate="dwithin", distance=2 * TOUCH)
    points = flat.points(ends)
    at, body = tree.query(points, predicate="dwithin", distance=2 * TOUCH)
    joins = np.isin(whole[body], whole[near[near < loose]])
    found[alone[at[joins]]] = True
    found[alone[flat.dwithin(points, reach, 2 * TOUCH)]] = True
    return found & (floor.necks.widths > TOUCH)


def _suspected(
    floor: Floor, leaves: Sequence[LeafAjar], hung: Numbers
) -> tuple[Flags, Numbers, Numbers, Points]:
    """Tell which necks are pockets between leaves, and which may be beside one.

    Returns:
        The first, one for each neck; of the others their numbers, the leaf of each and
        the end that is not at the leaf.
    """
    necks = floor.necks
    one, other = hung[necks.pairs].T
    outs = np.array([leaf.frame.out for leaf in leaves]).reshape(-1, 2)
    found = np.zeros(len(necks.widths), dtype=bool)
    both = np.flatnonzero((one >= 0) & (other >= 0))
    found[both] = (outs[one[both]] * outs[other[both]]).sum(axis=1) > 1.0 - _LEVEL
    alone = np.flatnonzero((one >= 0) != (other >= 0))
    leaf = np.maximum(one, other)[alone]
    step = necks.lines[alone, 2] - necks.lines[alone, 1]
    ahead = np.abs((step * outs[leaf]).sum(axis=1))
    along = ahead <= _LEVEL * np.hypot(step[:, 0], step[:, 1])
    alone, leaf = alone[along], leaf[along]
    far = np.where(one[alone] >= 0, 2, 1)
    return found, alone, leaf, necks.lines[alone, far]


def hung_in(floor: Floor, leaves: Sequence[LeafAjar]) -> Numbers:
    """Return for each body of a floor which of the leaves it is; -1 where none."""
    _, shapes, _ = floor.features
    plans = flat.to_wkb([leaf.plan for leaf in leaves])
    known = {text: number for number, text in enumerate(plans.tolist())}
    return np.array([known.get(text, -1) for text in flat.to_wkb(shapes).tolist()])


def _have_beside(
    floor: Floor,
    leaves: Sequence[LeafAjar],
    whole: Numbers,
    hung: Numbers,
    ends: Points,
) -> Flags:
    """Tell where what stands at a point reaches back behind the front of a leaf.

    Args:
        floor: With the leaves on it.
        leaves: Of equipment.
        whole: For each body of the floor what it hangs together with, by number.
        hung: For each point the leaf, by number.
        ends: The points, shape (n, 2).
    """
    _, shapes, tree = floor.features
    order = np.argsort(whole, kind="stable")
    corners, of = flat.get_coordinates(shapes[order], return_index=True)
    # Those of whatever hangs together are one after another.
    names = whole[order][of]
    # A door's jamb is the end of a wall.
    at, body = tree.query(flat.points(ends), predicate="dwithin", distance=TOUCH)
    asked = np.unique(np.stack([at, whole[body]], axis=1), axis=0)
    hulls: dict[int, Points] = {}
    known: dict[tuple[int, int], bool] = {}
    found = np.zeros(len(ends), dtype=bool)
    for number, name in asked.tolist():
        leaf = int(hung[number])
        if (leaf, name) not in known:
            if name not in hulls:
                first, last = np.searchsorted(names, (name, name + 1))
                hulls[name] = _hull(corners[first:last])
            known[leaf, name] = _is_beside(leaves[leaf], hulls[name])
        found[number] |= known[leaf, name]
    return found


def _hull(points: Points) -> Points:
    """Return of some points the outermost, whichever way."""
    if len(points) <= _FEW:
        return points
    hull: Points = flat.get_coordinates(flat.convex_hull(flat.multipoints(points)))
    return hull


def _is_beside(leaf: LeafAjar, points: Points) -> bool:
    """Tell whether something reaches back behind the front on which a leaf hangs."""
    step = points - (leaf.frame.x, leaf.frame.y)
    return bool((step * leaf.frame.out).sum(axis=1).min() <= TOUCH)


def touching(floor: Floor, hung: Numbers) -> Numbers:
    """Return for each shape that stands on a floor the least number that it touches.

    Whatever hangs together has the same. Walls are apart: all of them hang together
    somewhere. So are leaves: what stops one does not hang on its front for that.

    Args:
        floor: With the leaves on it.
        hung: For each body of the floor which of the leaves it is; -1 where none.
    """
    names, _, _ = floor.features
    necks, loose = floor.necks, len(floor.bodies.standing)
    last = np.searchsorted(necks.widths, TOUCH, side="right")
    joined = necks.pairs[:last]
    fixed = (joined < loose) & (hung[joined] < 0)
    one, other = joined[fixed.all(axis=1)].T
    found = np.arange(len(names))
    while True:
        least = np.minimum(found[one], found[other])
        before = found.copy()
        np.minimum.at(found, one, least)
        np.minimum.at(found, other, least)
        # What one was joined to may have been joined to another.
        found = found[found]
        if (found == before).all():
            return found
