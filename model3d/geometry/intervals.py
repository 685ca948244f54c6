"""Intervals on a line: what they cover and where a window fits between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

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


def least_window(
    weighted: Sequence[tuple[float, float, float]],
    width: float,
    first: float,
    last: float,
    wanted: float,
) -> float:
    """Return the left end of the window that covers least.

    Each entry is low, high and weight; what a window covers is the sum of weight
    times overlap. That sum is straight between the places where an end of the
    window meets an end of an interval, so the least is at one of those places.
    Of equal places the one nearest to ``wanted`` is taken.

    >>> least_window([(0.0, 1.0, 5.0), (2.5, 3.0, 1.0)], 2.0, 0.0, 1.0, 0.0)
    1.0
    """
    wanted = min(max(wanted, first), last)
    ends = [end for low, high, _ in weighted for end in (low, high)]
    places = [wanted, first, last, *ends, *(end - width for end in ends)]

    def covered(place: float) -> float:
        return sum(
            weight * max(0.0, min(high, place + width) - max(low, place))
            for low, high, weight in weighted
        )

    allowed = [place for place in places if first <= place <= last]
    return min(allowed, key=lambda p: (round(covered(p), 12), abs(p - wanted), p))


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
