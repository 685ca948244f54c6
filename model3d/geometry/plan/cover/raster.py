"""What the triangles of a scan cover on the floor: the cells that any of them touches.

Millions of ragged triangles are put together as polygons in minutes; cells are counted
in seconds. What a cell covers beyond its triangles is less than its diagonal.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.plan.cover.marked import all_marked
from model3d.geometry.plan.union import covered_within

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
"""Metres. Triangles that are wider are put together as they are, where they are few."""
_FEW: Final = 1000
"""Triangles. Of more that lie over one another each side crosses most others."""
_GAP: Final = 25
"""Cells: half of the side of a square. Where none fits between, nobody does."""
_FINE: Final = 0.0005
"""Metres by which corners are smoothed; so much more is covered."""
_AT_ONCE: Final = 2**20
"""Rows of triangles, or tiles of them, that are held in memory."""
_CROWD: Final = 4000
"""Triangles in a tile: of more some are looked at first."""
_TURNS: Final = (64, 16, 4, 1)
"""Each so many-th of what is left is looked at, and then again."""


def parted(plan: Points) -> tuple[Points, Points]:
    """Return those of triangles in plan, (n, 3, 2), that are counted, and the others.

    Few that are wide are put together as they are.
    """
    is_fine = (-_least(-plan) - _least(plan) <= _WIDEST).all(axis=1)
    if len(plan) - int(is_fine.sum()) > _FEW:
        return plan, plan[:0]
    return plan[is_fine], plan[~is_fine]


def cells_under(plan: Points) -> shapely.Geometry:
    """Return what triangles cover in plan, less than 4 mm more, and no narrow gaps.

    Args:
        plan: Corners of triangles in plan, shape (n, 3, 2), metres.
    """
    found = [_boxes(_grown(tile), place * _TILE - _GAP) for place, tile in tiles(plan)]
    if not found:
        return shapely.MultiPolygon()
    west, south, east, north = np.concatenate(found).T * CELL
    grown = shapely.box(west, south, east, north)
    return covered_within(grown, _GAP * CELL - _FINE).simplify(_FINE)


def tiles(plan: Points) -> Iterator[tuple[Numbers, Cells]]:
    """Yield the place of each tile that any triangle may touch, and its cells."""
    plan = plan / CELL
    low = np.floor(_least(plan) / _TILE).astype(np.int64)
    size = np.floor(-_least(-plan) / _TILE).astype(np.int64) - low + 1
    packed: dict[tuple[int, int], NDArray[np.uint8]] = {}
    none = np.packbits(np.zeros((_TILE, _TILE), dtype=bool))
    for start, end in pairwise(_shares(np.cumsum(size.prod(axis=1)))):
        owner, place = _places(low[start:end], size[start:end])
        ends = np.flatnonzero((np.diff(place, axis=0) != 0).any(axis=1)) + 1
        for few in np.split(np.arange(len(owner)), ends):
            corner = place[few[0]]
            key = int(corner[0]), int(corner[1])
            cells = _unpacked(packed.get(key, none))
            _mark(cells, plan[start + owner[few]] - corner * _TILE)
            packed[key] = np.packbits(cells)
    for key in sorted(packed):
        yield np.array(key), _unpacked(packed[key])


def _unpacked(cells: NDArray[np.uint8]) -> Cells:
    return np.unpackbits(cells).reshape(_TILE, _TILE).astype(bool)


def _places(low: Numbers, size: Numbers) -> tuple[Numbers, Numbers]:
    """Return the tiles of triangles, tile by tile: the triangle, and where that is."""
    count, deep = size.prod(axis=1), size[:, 1]
    owner = np.repeat(np.arange(len(low)), count)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    across, along = low[owner].T
    across, along = across + step // deep[owner], along + step % deep[owner]
    order = np.lexsort((along, across))
    return owner[order], np.column_stack([across, along])[order]


def _least(plan: Points) -> Points:
    """Return the lowest corner about each triangle, sooner than ``min`` finds it."""
    a, b, c = plan.transpose(1, 0, 2)
    return np.asarray(np.minimum(np.minimum(a, b), c))


def _mark(cells: Cells, plan: Points) -> None:
    """Mark which cells of a tile triangles touch; theirs are counted in cells.

    Of very many some are marked first: most of the others then touch nothing new.
    """
    first = np.clip(np.floor(_least(plan)), 0, _TILE - 1).astype(np.int64)
    last = np.clip(np.floor(-_least(-plan)), 0, _TILE - 1).astype(np.int64)
    left = np.arange(len(plan))
    turns = _TURNS if len(plan) > _CROWD else (1,)
    for turn in turns:
        left = (
            left[~all_marked(cells.T, first[left], last[left])] if cells.any() else left
        )
        few, left = left[::turn], np.delete(left, np.s_[::turn])
        # Rows are walked along the longer side, where there are fewer of them.
        lies = (np.subtract(*(last - first)[few].T) >= 0).nonzero()[0]
        stands = np.delete(few, lies)
        cells |= _rows(plan[few[lies]], first[few[lies], 1], last[few[lies], 1])
        turned = plan[stands][:, :, ::-1]
        cells |= _rows(turned, first[stands, 0], last[stands, 0]).T


def _rows(plan: Points, first: Numbers, last: Numbers) -> Cells:
    """Return which cells triangles touch, each of which is walked row by row."""
    steps = np.zeros((_TILE, _TILE + 1), dtype=np.int32)
    size, count = steps.size, last - first + 1
    ends = np.cumsum(count)
    for start, end in pairwise(_shares(ends)):
        each = count[start:end]
        owner = np.repeat(np.arange(start, end), each)
        row = np.arange(len(owner)) - np.repeat(np.cumsum(each) - each, each)
        row += first[owner]
        left, right = _span(plan[start:end], owner - start, row.astype(np.float64))
        is_in = (right >= 0) & (left < _TILE)
        west = np.clip(np.floor(left[is_in]), 0, _TILE - 1).astype(np.int64)
        east = np.clip(np.floor(right[is_in]), 0, _TILE - 1).astype(np.int64)
        line = row[is_in] * (_TILE + 1)
        steps += np.bincount(line + west, minlength=size).reshape(steps.shape)
        steps -= np.bincount(line + east + 1, minlength=size).reshape(steps.shape)
    return np.asarray(np.cumsum(steps[:, :-1], axis=1) > 0)


def _shares(ends: Numbers) -> list[int]:
    """Return where to part triangles whose rows are counted up to each, with ends."""
    if not len(ends):
        return [0]
    whole = np.arange(0, ends[-1], _AT_ONCE)
    return [*np.unique(np.searchsorted(ends, whole, side="right")).tolist(), len(ends)]


def _span(plan: Points, owner: Numbers, row: Points) -> tuple[Points, Points]:
    """Return from where to where triangles reach in a row of cells, shape (n,).

    Args:
        plan: Corners of the triangles.
        owner: Of which of them each row is asked, by number.
        row: The rows.
    """
    left, right = np.full(len(row), np.inf), np.full(len(row), -np.inf)
    for one, other in ((0, 1), (1, 2), (2, 0)):
        (ax, ay), (bx, by) = plan[:, one].T, plan[:, other].T
        # An edge is walked from its lower end, so that both its triangles agree.
        flip = ay > by
        ax, bx = np.where(flip, bx, ax), np.where(flip, ax, bx)
        ay, by = np.where(flip, by, ay), np.where(flip, ay, by)
        rise = by - ay
        slope = np.divide(bx - ax, rise, out=np.zeros_like(rise), where=rise > 0)
        ax, ay, bx, by, rise, slope = (
            each[owner] for each in (ax, ay, bx, by, rise, slope)
        )
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
