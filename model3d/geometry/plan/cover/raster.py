"""What the triangles of a scan cover on the floor: the cells that any of them touches.

Millions of ragged triangles are put together as polygons in minutes; cells are counted
in seconds. What a cell covers beyond its triangles is less than its diagonal.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.plan.union import covered

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Cells = NDArray[np.bool_]

CELL: Final = 0.002
"""Metres: less than 3 mm about a triangle are covered too."""
_TILE: Final = 512
"""Cells on a side of what is counted at once."""
_WIDEST: Final = 0.25
"""Metres. Triangles that are wider are few, and put together as they are."""
_GAP: Final = 25
"""Cells: half of the side of a square. Where none fits between, nobody does."""
_FINE: Final = 0.0005
"""Metres by which corners are smoothed; so much more is covered."""
_CHUNK: Final = 2**18
"""Triangles that are looked at together."""


def parted(plan: Points) -> tuple[Points, Points]:
    """Return the small ones of triangles in plan, (n, 3, 2), and the wide ones."""
    is_fine = (np.ptp(plan, axis=1) <= _WIDEST).all(axis=1)
    return plan[is_fine], plan[~is_fine]


def cells_under(plan: Points) -> shapely.Geometry:
    """Return what triangles cover in plan, less than 4 mm more, and no narrow gaps.

    Args:
        plan: Corners of triangles in plan, shape (n, 3, 2), metres, none wider than a
            tile.
    """
    found = [_boxes(_grown(tile), place * _TILE - _GAP) for place, tile in _tiles(plan)]
    if not found:
        return shapely.MultiPolygon()
    west, south, east, north = np.concatenate(found).T * CELL
    grown = covered(shapely.box(west, south, east, north))
    closed = grown.buffer(_FINE - _GAP * CELL, join_style="mitre")
    return closed.simplify(_FINE)


def _tiles(plan: Points) -> Iterator[tuple[Numbers, Cells]]:
    """Yield the place of each tile that any triangle touches, and its cells."""
    plan = plan / CELL
    low = np.floor(plan.min(axis=1) / _TILE).astype(np.int64)
    high = np.floor(plan.max(axis=1) / _TILE).astype(np.int64)
    # A small triangle touches four tiles at most.
    owners, places = [], []
    for right in (0, 1):
        for up in (0, 1):
            place = low + np.array((right, up))
            (touching,) = np.nonzero((place <= high).all(axis=1))
            owners.append(touching)
            places.append(place[touching])
    owner, place = np.concatenate(owners), np.concatenate(places)
    if not len(owner):
        return
    order = np.lexsort((place[:, 1], place[:, 0]))
    owner, place = owner[order], place[order]
    ends = np.flatnonzero((np.diff(place, axis=0) != 0).any(axis=1)) + 1
    for few in np.split(np.arange(len(owner)), ends):
        corner = place[few[0]]
        yield corner, _marked(plan[owner[few]] - corner * _TILE)


def _marked(plan: Points) -> Cells:
    """Return which cells of a tile triangles touch; theirs are counted in cells."""
    steps = np.zeros((_TILE, _TILE + 1), dtype=np.int32)
    for start in range(0, len(plan), _CHUNK):
        few = plan[start : start + _CHUNK]
        first = np.clip(np.floor(few[:, :, 1].min(axis=1)), 0, _TILE - 1)
        last = np.clip(np.floor(few[:, :, 1].max(axis=1)), 0, _TILE - 1)
        count = (last - first).astype(np.int64) + 1
        owner = np.repeat(np.arange(len(few)), count)
        row = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
        row += first.astype(np.int64)[owner]
        left, right = _span(few[owner], row.astype(np.float64))
        is_in = (right >= 0) & (left < _TILE)
        west = np.clip(np.floor(left[is_in]), 0, _TILE - 1).astype(np.int64)
        east = np.clip(np.floor(right[is_in]), 0, _TILE - 1).astype(np.int64)
        line = row[is_in] * (_TILE + 1)
        size = steps.size
        steps += np.bincount(line + west, minlength=size).reshape(steps.shape)
        steps -= np.bincount(line + east + 1, minlength=size).reshape(steps.shape)
    return np.asarray(np.cumsum(steps[:, :-1], axis=1) > 0)


def _span(plan: Points, row: Points) -> tuple[Points, Points]:
    """Return from where to where triangles reach in a row of cells, shape (n,)."""
    left, right = np.full(len(row), np.inf), np.full(len(row), -np.inf)
    for one, other in ((0, 1), (1, 2), (2, 0)):
        (ax, ay), (bx, by) = plan[:, one].T, plan[:, other].T
        # An edge is walked from its lower end, so that both its triangles agree.
        flip = ay > by
        ax, bx = np.where(flip, bx, ax), np.where(flip, ax, bx)
        ay, by = np.where(flip, by, ay), np.where(flip, ay, by)
        rise = by - ay
        slope = np.divide(bx - ax, rise, out=np.zeros_like(rise), where=rise > 0)
        enter = ax + slope * np.clip(row - ay, 0.0, rise)
        leave = np.where(rise > 0, ax + slope * np.clip(row + 1 - ay, 0.0, rise), bx)
        meets = (ay <= row + 1) & (by >= row)
        near, far = np.minimum(enter, leave), np.maximum(enter, leave)
        left = np.where(meets, np.minimum(left, near), left)
        right = np.where(meets, np.maximum(right, far), right)
    return left, right


def _grown(cells: Cells) -> Cells:
    """Return all cells that are no farther from one than the gap, two gaps wider."""
    return _along(_along(cells).T).T


def _along(cells: Cells) -> Cells:
    counted = np.cumsum(np.pad(cells, ((0, 0), (2 * _GAP + 1, 2 * _GAP))), axis=1)
    return np.asarray(counted[:, 2 * _GAP + 1 :] > counted[:, : -2 * _GAP - 1])


def _boxes(cells: Cells, corner: Numbers) -> NDArray[np.int64]:
    """Return rectangles of cells, shape (n, 4): left, bottom, right, top, in cells.

    Runs of a row that lie on such of the row below are one with those.
    """
    edges = np.diff(np.pad(cells, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    row, west = np.nonzero(edges == 1)
    _, east = np.nonzero(edges == -1)
    order = np.lexsort((row, east, west))
    row, west, east = row[order], west[order], east[order]
    follows = (np.diff(row) == 1) & (np.diff(west) == 0) & (np.diff(east) == 0)
    starts = np.flatnonzero(np.append(True, ~follows)[: len(row)])
    ends = np.append(starts[1:], len(row))[: len(starts)] - 1
    found = np.column_stack([west[starts], row[starts], east[starts], row[ends] + 1])
    return found + np.tile(corner, 2)
