"""What points cover on the floor: their cells, and what nobody gets through."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.plan.union import covered

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

CELL: Final = 0.005
"""Metres. On the floor a point covers the square of this side that it is in."""
_GAP: Final = 0.05
"""Metres. Half of the side of a square: where none fits between points, nobody does."""
_FINE: Final = 0.002
"""Metres by which corners are smoothed; so much more is covered."""


def cells_of(points: Points, low: float, high: float) -> shapely.Geometry:
    """Return what points between two heights cover in plan: more, never less.

    Args:
        points: World points, shape (n, 3), metres.
        low: World height, metres.
        high: World height, metres.
    """
    between = points[(points[:, 2] > low) & (points[:, 2] < high)][:, :2]
    if not len(between):
        return shapely.Polygon()
    cells = np.unique(np.floor(between / CELL).astype(np.int64), axis=0)
    # Cells that follow one another in a column are one rectangle.
    follows = (np.diff(cells[:, 0]) == 0) & (np.diff(cells[:, 1]) == 1)
    ends = np.flatnonzero(~np.append(follows, False))
    starts = np.concatenate([[0], ends[:-1] + 1])
    west, south = (cells[starts] * CELL).T
    east, north = ((cells[ends] + 1) * CELL).T
    # Squares, not rounds: of so many points a round about each takes minutes.
    grown = covered(shapely.box(west - _GAP, south - _GAP, east + _GAP, north + _GAP))
    closed = grown.buffer(_FINE - _GAP, join_style="mitre")
    return closed.simplify(_FINE)
