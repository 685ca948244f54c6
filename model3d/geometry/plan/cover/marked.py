"""Marks on a grid, asked about by whole rectangles."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Told = NDArray[np.bool_]


def all_marked(marks: Told, first: Numbers, last: Numbers) -> Told:
    """Tell in which rectangles of a grid every place is marked.

    Args:
        marks: By place along both sides of the grid.
        first: The first place of each rectangle, shape (n, 2).
        last: The last one, that counts too.
    """
    sums = np.zeros(np.add(marks.shape, 1), dtype=np.int32)
    np.cumsum(np.cumsum(marks, axis=0, dtype=np.int32), axis=1, out=sums[1:, 1:])
    (west, south), (east, north) = first.T, last.T + 1
    found = sums[east, north] - sums[west, north] - sums[east, south]
    found += sums[west, south]
    return np.asarray(found == (east - west) * (north - south))
