"""Which points of a scan count: no doubles, no scanner, no strays."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds.faults import PointFileError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Spot = tuple[float, float]

CELL: Final = 0.1
"""Metres. Points in one cube of it, or in cubes that touch, belong together: a scan of
a room has several points on the side of one."""
FEWEST: Final = 5
"""Points. Fewer that belong together are strays: of the boxes of a working space's size
in two real room scans one in twenty held 1 to 4 of them."""
_MOST_CELLS: Final = 2**20
"""Along each axis: three such numbers fit into one of 64 bits."""


@dataclass(frozen=True, slots=True, eq=False)
class Sifted:
    """What counts of a cloud, and how much was left out.

    Attributes:
        points: What counts, metres, in the order of the file; shape (n, 3).
        read: Points of the file.
        doubles: Left out: the very same as one before.
        near: Left out: at the scanner.
        strays: Left out: too few that belong together.
        in_a_cell: Points that count in a cube of 100 mm that holds any, the middle one
            of all; 0 where none count.
    """

    points: Points
    read: int
    doubles: int
    near: int
    strays: int
    in_a_cell: float


def sift(points: Points, scanner: Spot | None = None, radius: float = 0.0) -> Sifted:
    """Leave out what a scan holds twice, the scanner itself, and stray points.

    Args:
        points: Metres, shape (n, 3).
        scanner: Where it stood in plan, in the points' own frame; None where nobody
            says.
        radius: Up to which distance from there in plan points are the scanner's own or
            of what carries it, metres.

    Raises:
        PointFileError: The points lie too far apart.
    """
    different = points[_firsts(points)]
    kept = different
    if scanner is not None:
        away = np.linalg.norm(different[:, :2] - np.array(scanner), axis=1)
        kept = different[away > radius]
    counts, cell_of = _cells(kept) if len(kept) else (np.zeros(0, np.int64),) * 2
    groups = _groups(counts) if len(kept) else np.zeros(0, np.int64)
    sizes = np.bincount(cell_of, minlength=len(groups))
    is_group = np.bincount(groups, weights=sizes) >= FEWEST
    in_group = is_group[groups] if len(groups) else np.zeros(0, bool)
    found = kept[in_group[cell_of]]
    held = sizes[in_group]
    return Sifted(
        points=found,
        read=len(points),
        doubles=len(points) - len(different),
        near=len(different) - len(kept),
        strays=len(kept) - len(found),
        in_a_cell=float(np.median(held)) if len(held) else 0.0,
    )


def _firsts(points: Points) -> Numbers:
    """Return the rows that are the first of their like, in order."""
    # Zero and minus zero are one place. One number is told for each point: to sort by
    # it takes a tenth of the time that sorting by three takes.
    plain = points + 0.0
    bits = np.ascontiguousarray(plain).view(np.uint64)
    marks = np.array(
        [0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9], np.uint64
    )
    mixed = (bits ^ (bits >> np.uint64(29))) * marks
    told = mixed[:, 0] ^ (mixed[:, 1] >> np.uint64(1)) ^ mixed[:, 2]
    told = (told ^ (told >> np.uint64(32))) * marks[0]
    order = np.argsort(told, kind="stable")
    alike = np.zeros(len(points), dtype=bool)
    alike[1:] = (plain[order[1:]] == plain[order[:-1]]).all(axis=1)
    return np.sort(order[~alike])


def _cells(points: Points) -> tuple[Numbers, Numbers]:
    """Return the numbers of the cells with points, sorted, and each point's cell."""
    low = points.min(axis=0)
    if ((points.max(axis=0) - low) / CELL >= _MOST_CELLS - 2).any():
        msg = f"points that lie more than {_MOST_CELLS * CELL / 1000:.0f} km apart"
        raise PointFileError(msg)
    x, y, z = (np.floor((points - low) / CELL).astype(np.int64) + 1).T
    return np.unique((x * _MOST_CELLS + y) * _MOST_CELLS + z, return_inverse=True)


def _groups(cells: Numbers) -> Numbers:
    """Return for each cell the number of the group of touching cells that it is in."""
    from scipy.sparse import coo_array  # noqa: PLC0415 - takes a tenth of a second
    from scipy.sparse.csgraph import connected_components  # noqa: PLC0415

    steps = [
        (i * _MOST_CELLS + j) * _MOST_CELLS + k
        for i in (-1, 0, 1)
        for j in (-1, 0, 1)
        for k in (-1, 0, 1)
    ]
    starts, ends = [], []
    for step in (one for one in steps if one > 0):
        place = np.searchsorted(cells, cells + step)
        place[place == len(cells)] = 0
        (start,) = np.nonzero(cells[place] == cells + step)
        starts.append(start)
        ends.append(place[start])
    one, other = np.concatenate(starts), np.concatenate(ends)
    shape = (len(cells), len(cells))
    linked = coo_array((np.ones(len(one), bool), (one, other)), shape=shape)
    return np.asarray(connected_components(linked, directed=False)[1], dtype=np.int64)
