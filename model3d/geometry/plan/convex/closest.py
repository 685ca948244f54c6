"""Where two convex bodies stand nearest: at one place, or all along two sides."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]

_LEVEL: Final = 1e-6
"""Metres. Corners that are as near to a side's line are on it."""


def shortest_lines(
    shapes: NDArray[np.object_], one: Numbers, other: Numbers
) -> tuple[Numbers, Points]:
    """Return the shortest lines between pairs of bodies.

    Where two sides lie opposite, all along a stretch, that at each end of it.

    Args:
        shapes: Convex bodies in plan.
        one: The first of each pair, by number.
        other: The second of each pair.

    Returns:
        The pair of each line by number, rising, and its ends, shape (n, 2, 2).
    """
    across = shapely.shortest_line(shapes[one], shapes[other])
    ends = shapely.get_coordinates(across).reshape(-1, 2, 2)
    step = ends[:, 1] - ends[:, 0]
    width = np.hypot(step[:, 0], step[:, 1])
    towards = step / np.where(width > _LEVEL, width, 1.0)[:, None]
    along = np.stack([-towards[:, 1], towards[:, 0]], axis=1)
    first = _side(shapes, one, ends[:, 0], towards)
    second = _side(shapes, other, ends[:, 1], -towards)
    low = np.maximum(first[0], -second[1])
    high = np.minimum(first[1], -second[0])
    wide = (high - low > _LEVEL) & (width > _LEVEL)
    # At one place the line itself; else one at each end.
    low, high = np.where(wide, low, 0.0), np.where(wide, high, 0.0)
    both = np.stack([low, high], axis=1)[:, :, None, None]
    lines = ends[:, None] + both * along[:, None, None]
    kept = np.stack([np.ones_like(wide), wide], axis=1)
    return np.nonzero(kept)[0], lines[kept]


def _side(
    shapes: NDArray[np.object_], bodies: Numbers, places: Points, out: Points
) -> tuple[Points, Points]:
    """Return from where to where a side goes that faces a way, by distance to a place.

    Args:
        shapes: Convex bodies.
        bodies: Which of them, by number.
        places: A point of each that is furthest that way, shape (n, 2).
        out: The way, unit vectors, shape (n, 2).
    """
    corners, owners = shapely.get_coordinates(shapes, return_index=True)
    first = np.searchsorted(owners, np.arange(len(shapes)))
    counts = np.bincount(owners, minlength=len(shapes))[bodies]
    begin = np.cumsum(counts) - counts
    pair = np.repeat(np.arange(len(bodies)), counts)
    number = np.arange(len(pair)) - begin[pair] + first[bodies][pair]
    step = corners[number] - places[pair]
    ahead = (step * out[pair]).sum(axis=1)
    along = step[:, 1] * out[pair, 0] - step[:, 0] * out[pair, 1]
    on_it = ahead >= -_LEVEL
    low = np.minimum.reduceat(np.where(on_it, along, 0.0), begin)
    high = np.maximum.reduceat(np.where(on_it, along, 0.0), begin)
    return low, high
