"""Between which bodies nothing is nearer than they are: whether a line is a neck."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.plan.convex.closest import shortest_lines
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]

_ROUNDING: Final = 1e-7
"""Metres. What is no wider touches."""

_AS_NEAR: Final = TOUCH
"""Metres. Something as near to the middle of a neck as this is not nearer than the two
bodies themselves: a leaf, say, that is a plate as thick, before one of the two."""

_AT_ONCE: Final = 20_000
"""Pairs that are looked at together, which bounds the memory that takes: each needs a
kilobyte, and of a scan of very many small bodies there are tens of millions."""

_FEW: Final = 500
"""Lines. Of fewer it takes less time to look for what is nearest to each of them."""

_SQUARE: Final = 0.5
"""Metres. Side of the squares by which corners are looked up."""

_FAR: Final = 1e6
"""Squares from west to east; two that are further apart may pass for one."""

_ABOUT: Final = _SQUARE * np.array(
    [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)]
)
"""From a place to the squares about it, its own first, metres."""


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
    if len(pairs) > _AT_ONCE:
        parts = range(0, len(pairs), _AT_ONCE)
        found = [bare_between(shapes, tree, pairs[at : at + _AT_ONCE]) for at in parts]
        numbers, ways, wide = zip(*found, strict=True)
        return np.concatenate(numbers), np.concatenate(ways), np.concatenate(wide)
    used, named = np.unique(pairs, return_inverse=True)
    bodies, named = shapes[used], named.reshape(-1, 2)
    pair, ends = shortest_lines(bodies, *named.T)
    named = named[pair]
    widths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    if len(ends) > _FEW:
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
    return np.asarray((away > widths / 2 - _AS_NEAR) | (widths <= 2 * _ROUNDING))


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
        found[left[away < widths[left] / 2 - 2 * _AS_NEAR]] = True
        left = np.flatnonzero(~found)
    return found


def _squares(places: Points) -> Points:
    """Return a number for the square that each place is in."""
    x, y = np.floor(places / _SQUARE).T
    return np.asarray(x * _FAR + y)
