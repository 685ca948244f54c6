"""Squares in plan that a closed body surely covers: what lies in them is not looked at.

A sheet of its surface, what of it lies above a level say, winds in plan about a place
as its rim does. Where no piece of the rim passes through a square, it winds about all
places there alike; where that is not nothing, the sheet covers each of them, however
rough it is. The rim of a sheet of a million triangles has some thousand sides.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np
import shapely

from model3d.geometry.bodies.clipping import all_three
from model3d.geometry.bodies.extents import bounds_of, used_of
from model3d.geometry.plan.cover.marked import all_marked

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.edges import Edges

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Numbers = NDArray[np.int64]
    Told = NDArray[np.bool_]

_FEWEST: Final = 128
_MOST: Final = 512
"""Squares along the longer side of a body: about half as many as triangles there.

Of a rough body what lies beside the squares is put together triangle by triangle, which
takes far longer than many squares do.
"""


class SureSquares(NamedTuple):
    """Squares of a grid in plan, and which of them are covered wholly.

    Attributes:
        corner: Where the grid begins, shape (2,), metres.
        side: Of a square, metres.
        sure: Which are covered, by place along x and along y.
    """

    corner: Points
    side: float
    sure: Told

    def hide(self, plan: Points) -> Told:
        """Tell which triangles in plan, shape (n, 3, 2), lie in covered squares."""
        a, b, c = plan.transpose(1, 0, 2)
        first = self.squares_of(np.minimum(np.minimum(a, b), c))
        last = self.squares_of(np.maximum(np.maximum(a, b), c))
        return all_marked(self.sure, first, last)

    def squares_of(self, places: Points) -> Numbers:
        """Return the squares that places are in, shape (n, 2)."""
        found = ((places - self.corner) / self.side).astype(np.int64)
        return np.clip(found, 0, np.subtract(self.sure.shape, 1))

    @property
    def boxes(self) -> NDArray[np.object_]:
        """What is covered, a rectangle for each run of squares along y."""
        turns = np.diff(np.pad(self.sure, ((0, 0), (1, 1))).astype(np.int8), axis=1)
        column, south = np.nonzero(turns == 1)
        _, north = np.nonzero(turns == -1)
        x, y = self.corner
        return np.asarray(
            shapely.box(
                x + column * self.side,
                y + south * self.side,
                x + (column + 1) * self.side,
                y + north * self.side,
            )
        )


def sure_squares(
    points: Points, faces: Faces, edges: Edges, counts: Told, level: float
) -> SureSquares:
    """Return squares that what is above a level covers, or what is below it.

    Args:
        points: World points, shape (n, 3), metres.
        faces: Corners of the triangles of a closed body, shape (m, 3).
        edges: Their edges.
        counts: Which of the triangles are asked for.
        level: A world height, metres.
    """
    plan = points[:, :2]
    lowest, highest = bounds_of(used_of(points, np.compress(counts, faces, axis=0)))
    low, high = np.array(lowest[:2]), np.array(highest[:2])
    along = min(max(math.isqrt(int(counts.sum())) // 2, _FEWEST), _MOST)
    side = float((high - low).max()) / along
    shape = ((high - low) / side).astype(np.int64) + 1
    found = SureSquares(low, side, np.zeros(shape, dtype=bool))
    for sheet in (points[:, 2] >= level, points[:, 2] <= level):
        found.sure[:] |= _covered(found, plan, faces, edges, counts, sheet)
    return found


def _covered(
    grid: SureSquares,
    plan: Points,
    faces: Faces,
    edges: Edges,
    counts: Told,
    sheet: Told,
) -> Told:
    is_in = np.repeat(all_three(sheet[faces]) & counts, 3)
    partner = np.maximum(edges.partner, 0)
    sides = np.flatnonzero(is_in & ~((edges.partner >= 0) & is_in[partner]))
    face, corner = np.divmod(sides, 3)
    starts = plan[faces[face, corner]]
    ends = plan[faces[face, (corner + 1) % 3]]
    winds = _windings(grid, starts, ends)
    return np.asarray((winds != 0) & ~_passed(grid, starts, ends))


def _windings(grid: SureSquares, starts: Points, ends: Points) -> Numbers:
    """Return how often lines wind about the middle of each square."""
    size = grid.sure.shape
    # In squares, counted from the middle of the first.
    a, b = ((each - grid.corner) / grid.side - 0.5 for each in (starts, ends))
    low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    # A line crosses the rows from the lower end, which counts, to the upper.
    first = np.ceil(low).astype(np.int64)
    count = np.ceil(high).astype(np.int64) - first
    owner = np.repeat(np.arange(len(a)), count)
    row = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    row += first[owner]
    (ax, ay), (bx, by) = a[owner].T, b[owner].T
    at = ax + (bx - ax) * ((row - ay) / (by - ay))
    # East of a line that goes up nothing is gained, west of it all is.
    column = np.ceil(at).astype(np.int64)
    is_here = (row >= 0) & (row < size[1]) & (column > 0)
    steps = np.zeros((size[0] + 1, size[1]), dtype=np.int64)
    where = np.minimum(column[is_here], size[0]), row[is_here]
    np.add.at(steps, where, np.where(by > ay, 1, -1)[is_here])
    return np.asarray(np.cumsum(steps[::-1], axis=0)[::-1][1:])


def _passed(grid: SureSquares, starts: Points, ends: Points) -> Told:
    """Tell which squares lines may pass through, those beside them with them."""
    size = grid.sure.shape
    first = np.maximum(grid.squares_of(np.minimum(starts, ends)) - 1, 0)
    last = np.minimum(grid.squares_of(np.maximum(starts, ends)) + 2, size)
    steps = np.zeros((size[0] + 1, size[1] + 1), dtype=np.int64)
    (west, south), (east, north) = first.T, last.T
    np.add.at(steps, (west, south), 1)
    np.add.at(steps, (east, north), 1)
    np.add.at(steps, (west, north), -1)
    np.add.at(steps, (east, south), -1)
    whole = np.cumsum(np.cumsum(steps, axis=0), axis=1)
    return np.asarray(whole[:-1, :-1] > 0)
