"""Which bodies of a floor may have a neck between them, told quickly.

Of very many bodies nearly all pairs have another one in between. To see that, nobody
need know where the two are nearest: it is somewhere about halfway, and a coarse map
tells of any place what is the farthest that the next corner can be.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]
    Shapes = NDArray[np.object_]

_MANY: Final = 20_000
"""Pairs. Fewer are measured sooner than a map is drawn."""
_CELL: Final = 0.02
"""Metres. Side of a square of the map."""
_CELLS: Final = 1_000_000
"""Squares of a map, at most."""
_SQUARES: Final = 48
"""Squares from a corner across the rows of a map, within which it is told."""
_ROUNDING: Final = 1e-6
"""Metres. Far more than computed distances are off."""


def pairs_near(
    shapes: Shapes, asked: Numbers, tree: flat.STRtree, widest: float
) -> tuple[Numbers, Numbers]:
    """Return which bodies are near which, all between which a neck may be among them.

    In the order of the tree, as it answers each of those that are asked.

    Args:
        shapes: All bodies in plan, convex each.
        asked: From which of them it is looked, by number.
        tree: Of those that are found; numbers are its own.
        widest: What is further apart is not near, metres.
    """
    found = tree.geometries
    west, south, east, north = flat.bounds(shapes[asked]).T
    about = flat.box(west - widest, south - widest, east + widest, north + widest)
    one, other = tree.query(about)
    if len(one) > _MANY:
        kept = _may_be_bare(shapes, shapes[asked], found, one, other)
        one, other = one[kept], other[kept]
    near = flat.dwithin(shapes[asked][one], found[other], widest)
    return one[near], other[near]


def _may_be_bare(
    shapes: Shapes, first: Shapes, second: Shapes, one: Numbers, other: Numbers
) -> Flags:
    """Tell between which pairs there is not surely a corner nearer than they are."""
    distances, low, cell = _map_of(shapes)
    (a, p), (b, q) = _rounds(first), _rounds(second)
    # Coordinate by coordinate: pairs are many, and rows of two are slow to look up.
    (ax, ay), (bx, by) = np.ascontiguousarray(a.T), np.ascontiguousarray(b.T)
    kept = np.empty(len(one), dtype=bool)
    for start in range(0, len(one), _CELLS):
        here = slice(start, start + _CELLS)
        i, j = one[here], other[here]
        u, v, s, t, slack = ax[i], bx[j], ay[i], by[j], (p[i] + q[j]) / 2
        x = (((u + v) / 2 - low[0]) / cell).astype(np.int64)
        y = (((s + t) / 2 - low[1]) / cell).astype(np.int64)
        nearest = distances[x, y] + cell * math.sqrt(2.0) + slack
        apart = np.hypot(u - v, s - t) - 2 * slack
        kept[here] = nearest > apart / 2 - _ROUNDING
    return kept


def _rounds(shapes: Shapes) -> tuple[Points, Points]:
    """Return the middles of rounds about bodies, shape (n, 2), and their radii."""
    bounds = flat.bounds(shapes)
    low, high = bounds[:, :2], bounds[:, 2:]
    return (low + high) / 2, np.hypot(*(high - low).T) / 2


def _map_of(shapes: Shapes) -> tuple[Points, Points, float]:
    """Return a map of how far each square is from the next one with a corner.

    And where it begins, and how wide its squares are, metres. On the map it is infinite
    where no corner is within so many squares.
    """
    corners = flat.get_coordinates(shapes)
    low, high = corners.min(axis=0), corners.max(axis=0)
    cell = max(_CELL, math.sqrt(float(np.prod(high - low)) / _CELLS))
    x, y = ((corners - low) / cell).astype(np.int64).T
    # Along the rows first, then across them, which gives the straight distance.
    row = np.full((int(x.max()) + 1, int(y.max()) + 1), np.inf, dtype=np.float32)
    row[x, y] = 0.0
    for at in range(1, row.shape[1]):
        np.minimum(row[:, at], row[:, at - 1] + 1, out=row[:, at])
    for at in range(row.shape[1] - 2, -1, -1):
        np.minimum(row[:, at], row[:, at + 1] + 1, out=row[:, at])
    np.square(row, out=row)
    found = row.copy()
    for off in range(1, min(_SQUARES, len(row) - 1) + 1):
        np.minimum(found[off:], row[:-off] + off**2, out=found[off:])
        np.minimum(found[:-off], row[off:] + off**2, out=found[:-off])
    return np.sqrt(found, dtype=np.float64) * cell, low, cell
