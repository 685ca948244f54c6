"""Intervals on a line: what they cover and where a window fits between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

Interval = tuple[float, float]


def merged(intervals: Iterable[Interval]) -> list[Interval]:
    """Return the union as disjoint intervals in rising order.

    >>> merged([(3, 4), (0, 1), (1, 2)])
    [(0, 2), (3, 4)]
    """
    result: list[Interval] = []
    for low, high in sorted(intervals):
        if result and low <= result[-1][1]:
            result[-1] = (result[-1][0], max(result[-1][1], high))
        else:
            result.append((low, high))
    return result


def merged_all(lows: NDArray[np.float64], highs: NDArray[np.float64]) -> list[Interval]:
    """Return the same of very many intervals, from their ends.

    >>> merged_all(np.array([3.0, 0.0, 1.0]), np.array([4.0, 1.0, 2.0]))
    [(0.0, 2.0), (3.0, 4.0)]
    """
    if not len(lows):
        return []
    order = np.argsort(lows, kind="stable")
    rising, ends = lows[order], np.maximum.accumulate(highs[order])
    parted = np.flatnonzero(rising[1:] > ends[:-1]) + 1
    first, last = np.append(0, parted), np.append(parted, len(lows)) - 1
    return list(zip(rising[first].tolist(), ends[last].tolist(), strict=True))


def free_window(
    blocked: Iterable[Interval], width: float, first: float, last: float, wanted: float
) -> float | None:
    """Return the left end of a window that touches nothing, nearest to ``wanted``.

    The window's left end may lie anywhere from ``first`` to ``last``; it may share
    an end with a blocked interval. None where no such place exists. The answer is
    exact: only the ends of what is blocked can be ends of the answer.

    >>> free_window([(0.0, 1.0)], 2.0, 0.0, 3.0, 0.5)
    1.0
    >>> free_window([(0.0, 1.0), (2.0, 4.0)], 2.0, 0.0, 3.0, 0.5) is None
    True
    """
    # Not merged: where two of them only touch, a window fits exactly.
    shut = [(low - width, high) for low, high in blocked]

    def is_free(place: float) -> bool:
        return not any(low < place < high for low, high in shut)

    wanted = min(max(wanted, first), last)
    places = [wanted, first, last, *(end for pair in shut for end in pair)]
    free = [p for p in places if first <= p <= last and is_free(p)]
    return min(free, key=lambda p: (abs(p - wanted), p), default=None)


def widest_gap(blocked: Iterable[Interval], low: float, high: float) -> Interval:
    """Return the widest part between ``low`` and ``high`` that nothing blocks.

    Of equal ones the first; of no width where all is blocked.

    >>> widest_gap([(1, 2), (5, 9)], 0, 6)
    (2, 5)
    """
    best, here = (low, low), low
    for start, end in [*merged(blocked), (high, high)]:
        stop = min(max(start, low), high)
        if stop - here > best[1] - best[0]:
            best = (here, stop)
        here = max(here, min(end, high))
    return best


def clear_run(blocked: Iterable[Interval], low: float, high: float) -> Interval | None:
    """Return the widest interval around ``low`` to ``high`` that nothing blocks.

    An end without a blocked interval is infinite; None where the middle is blocked.
    An overlap with the middle of no more than the tolerance is contact.

    >>> clear_run([(0, 1), (5, 6)], 2, 3)
    (1, 5)
    """
    left, right = -float("inf"), float("inf")
    for start, end in blocked:
        if end <= low + TOUCH:
            left = max(left, min(end, low))
        elif start >= high - TOUCH:
            right = min(right, max(start, high))
        else:
            return None
    return left, right
