"""Spans of a line by where they are: which may hold a place, without looking at all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Values = NDArray[np.float64]

_WIDE: Final = 0.5
"""Metres. How wide a row is at least."""

_MOST: Final = 4096
"""Rows, at most: a plan without bounds takes no more memory than that."""


class Rows:
    """Puts spans into rows; a span is in each row of which it has any part."""

    def __init__(self, one: Values, other: Values) -> None:
        """Take both ends of each span, metres, in any order."""
        low, high = np.minimum(one, other), np.maximum(one, other)
        self._first = float(low.min(initial=0.0))
        far = float(high.max(initial=0.0)) - self._first
        self._wide = max(_WIDE, far / _MOST)
        begin, end = self._row(low), self._row(high)
        counts = end - begin + 1
        span = np.repeat(np.arange(len(low)), counts)
        row = np.arange(len(span)) - np.repeat(np.cumsum(counts) - counts, counts)
        row += begin[span]
        order = np.argsort(row, kind="stable")
        self._spans = span[order]
        # One row where there is no span: it is empty.
        rows = int(row.max(initial=0)) + 1
        self._starts = np.searchsorted(row[order], np.arange(rows + 1))

    def _row(self, places: Values) -> Numbers:
        return np.floor((places - self._first) / self._wide).astype(np.int64)

    def at(self, places: Values) -> tuple[Numbers, Numbers]:
        """Return for places the spans in their rows: all that hold them, and more.

        Returns:
            The place of each by number, rising, and the span.
        """
        row = self._row(places)
        inside = (row >= 0) & (row < len(self._starts) - 1)
        row = np.where(inside, row, 0)
        starts = self._starts[row]
        counts = np.where(inside, self._starts[row + 1] - starts, 0)
        place = np.repeat(np.arange(len(places)), counts)
        number = np.arange(len(place)) - np.repeat(np.cumsum(counts) - counts, counts)
        return place, self._spans[starts[place] + number]
