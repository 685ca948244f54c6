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
_TURNS: Final = (32, 8, 1)
"""Each so many-th of what is left is looked at, and then again."""


def parted(plan: Points) -> tuple[Points, Points]:
    """Return those of triangles in plan, (n, 3, 2), that are counted, and the others.

    Few that are wide are put together as they are.
    """
    low, high = _bounds(_columns(plan))
    wide, deep = high - low
    is_fine = (wide <= _WIDEST) & (deep <= _WIDEST)
    count = len(plan) - int(is_fine.sum())
    if not count or count > _FEW:
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
    """Yield the place of each tile that any triangle may touch, and its cells.

    In a crowd some cells are left out, that only triangles touch which lie between
    others with no gap that counts: what is covered with the gaps is the same.
    """
    corners = _columns(plan) / CELL
    low, high = _bounds(corners)
    start = np.floor(low / _TILE).astype(np.int64)
    size = np.floor(high / _TILE).astype(np.int64) - start + 1
    packed: dict[tuple[int, int], NDArray[np.uint8]] = {}
    none = np.packbits(np.zeros((_TILE, _TILE), dtype=bool))
    for begin, end in pairwise(_shares(np.cumsum(size[0] * size[1]))):
        owner, place = _places(start[:, begin:end], size[:, begin:end])
        ends = np.flatnonzero((np.diff(place) != 0).any(axis=0)) + 1
        for first, last in pairwise([0, *ends.tolist(), len(owner)]):
            key = int(place[0, first]), int(place[1, first])
            few, by = begin + owner[first:last], _TILE * np.array(key)[:, None]
            cells = _unpacked(packed.get(key, none))
            _mark(cells, (corners, few, by), low[:, few] - by, high[:, few] - by)
            packed[key] = np.packbits(cells)
    for key in sorted(packed):
        yield np.array(key), _unpacked(packed[key])


def _columns(plan: Points) -> Points:
    """Return each coordinate of each corner side by side in memory, (3, 2, n)."""
    return np.ascontiguousarray(plan.transpose(1, 2, 0))


def _unpacked(cells: NDArray[np.uint8]) -> Cells:
    return np.unpackbits(cells).reshape(_TILE, _TILE).astype(bool)


def _places(low: Numbers, size: Numbers) -> tuple[Numbers, Numbers]:
    """Return the tiles of triangles, tile by tile: the triangle, and where that is."""
    wide, deep = size
    count = wide * deep
    owner = np.repeat(np.arange(len(count)), count)
    across, along = low[:, owner]
    if len(owner) > len(count):
        step = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
        across, along = across + step // deep[owner], along + step % deep[owner]
    order = np.lexsort((along, across))
    return owner[order], np.stack([across[order], along[order]])


def _bounds(corners: Points) -> tuple[Points, Points]:
    """Return the lowest and the highest corner about each triangle, shape (2, n)."""
    a, b, c = corners
    return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)


def _mark(
    cells: Cells, whole: tuple[Points, Numbers, Numbers], low: Points, high: Points
) -> None:
    """Mark which cells of a tile triangles touch; theirs are counted in cells.

    Of very many some are marked first: most of the others then lie where nothing is
    left to be covered.

    Args:
        cells: Of the tile.
        whole: Corners of all triangles, which of them are asked about, and where the
            tile is.
        low: Lowest corners about those that are asked about, in the tile.
        high: Highest corners about them.
    """
    corners, few, by = whole
    first = np.clip(np.floor(low), 0, _TILE - 1).astype(np.int64)
    last = np.clip(np.floor(high), 0, _TILE - 1).astype(np.int64)
    left = np.arange(len(few))
    for turn in _TURNS if len(few) > _CROWD else (1,):
        if len(few) > _CROWD and cells.any():
            filled = _grown(cells).T
            is_done = all_marked(filled, first[:, left].T, last[:, left].T + 2 * _GAP)
            left = left[~is_done]
        some, left = left[::turn], np.delete(left, np.s_[::turn])
        # Rows are walked along the longer side, where there are fewer of them.
        is_lying = np.subtract(*(last - first)[:, some]) >= 0
        for which, marks, x, y in ((is_lying, cells, 0, 1), (~is_lying, cells.T, 1, 0)):
            asked = some[which]
            if len(asked):
                plan = corners[:, :, few[asked]] - by
                _rows(marks, plan[:, [x, y]], first[[x, y]][:, asked], last[y, asked])


def _rows(cells: Cells, plan: Points, first: Numbers, last: Numbers) -> None:
    """Mark which cells triangles touch, each of which is walked row by row.

    Args:
        cells: To be marked, by row and column.
        plan: Corners of the triangles, shape (3, 2, n).
        first: The first column and row of each.
        last: The last row of each.
    """
    # Only about the triangles is anything counted.
    west, south = first.min(axis=1).tolist()
    marks = cells[south : int(last.max()) + 1, west:]
    deep, wide = marks.shape
    steps = np.zeros((deep, wide + 1), dtype=np.int32)
    size, count = steps.size, last - first[1] + 1
    ends = np.cumsum(count)
    for start, end in pairwise(_shares(ends)):
        each = count[start:end]
        owner = np.repeat(np.arange(start, end), each)
        row = np.arange(len(owner)) - np.repeat(np.cumsum(each) - each, each)
        row += first[1, owner]
        reach = _span(plan[:, :, start:end], owner - start, row.astype(np.float64))
        left, right = reach
        is_in = (right >= 0) & (left < _TILE)
        near = np.clip(np.floor(left[is_in]), west, _TILE - 1).astype(np.int64) - west
        far = np.clip(np.floor(right[is_in]), west, _TILE - 1).astype(np.int64) - west
        line = (row[is_in] - south) * (wide + 1)
        steps += np.bincount(line + near, minlength=size).reshape(steps.shape)
        steps -= np.bincount(line + far + 1, minlength=size).reshape(steps.shape)
    marks |= np.cumsum(steps[:, :-1], axis=1) > 0


def _shares(ends: Numbers) -> list[int]:
    """Return where to part triangles whose rows are counted up to each, with ends."""
    if not len(ends):
        return [0]
    whole = np.arange(0, ends[-1], _AT_ONCE)
    return [*np.unique(np.searchsorted(ends, whole, side="right")).tolist(), len(ends)]


def _span(plan: Points, owner: Numbers, row: Points) -> tuple[Points, Points]:
    """Return from where to where triangles reach in a row of cells, shape (n,).

    Args:
        plan: Corners of the triangles, shape (3, 2, n).
        owner: Of which of them each row is asked, by number.
        row: The rows.
    """
    left, right = np.full(len(row), np.inf), np.full(len(row), -np.inf)
    for one, other in ((0, 1), (1, 2), (2, 0)):
        (ax, ay), (bx, by) = plan[one], plan[other]
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
    """Return what is marked in a column no more than the gap off, two gaps longer."""
    deep, wide = cells.shape
    found = np.zeros((deep + 2 * _GAP, wide), dtype=bool)
    found[:deep] = cells
    # Each time what is marked reaches as far again.
    reach = 0
    while reach < 2 * _GAP:
        step = min(reach + 1, 2 * _GAP - reach)
        found[step:] |= found[:-step].copy()
        reach += step
    return found


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
