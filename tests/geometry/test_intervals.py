"""Intervals against trying every place of a fine grid."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.geometry.intervals import (
    clear_run,
    free_window,
    merged,
    merged_all,
    widest_gap,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

# Whole numbers, so that a place tried at every half is exact.
ENDS = st.integers(-30, 30)
PAIRS = st.lists(
    st.tuples(ENDS, ENDS).map(lambda pair: (min(pair), max(pair))), max_size=8
)
WIDTHS = st.integers(1, 25)


def halves(first: float, last: float) -> list[float]:
    return [first + step / 2 for step in range(int(2 * (last - first)) + 1)]


def covered(pairs: Sequence[tuple[float, float]], place: float) -> bool:
    return any(low <= place <= high for low, high in pairs)


@pytest.mark.long
@given(PAIRS)
def test_a_union_covers_what_its_parts_cover(pairs: list[tuple[int, int]]) -> None:
    union = merged(pairs)
    for place in halves(-31, 31):
        assert covered(union, place) == covered(pairs, place)
    for (_, high), (low, _) in pairwise(union):
        assert high < low


@pytest.mark.long
@given(PAIRS)
def test_many_intervals_are_merged_as_few_are(pairs: list[tuple[int, int]]) -> None:
    lows, highs = np.array(pairs, dtype=float).reshape(-1, 2).T
    assert merged_all(lows, highs) == merged(pairs)


def is_free(pairs: list[tuple[int, int]], place: float, width: float) -> bool:
    return not any(low < place + width and high > place for low, high in pairs)


@pytest.mark.long
@settings(max_examples=300)
@given(PAIRS, WIDTHS, ENDS, st.integers(0, 30), ENDS)
def test_a_free_window_is_the_nearest_there_is(
    pairs: list[tuple[int, int]], width: int, first: int, length: int, wanted: int
) -> None:
    # An interval without length blocks what lies on both sides of it.
    last = first + length
    found = free_window(pairs, width, first, last, wanted)
    tried = [p for p in halves(first, last) if is_free(pairs, p, width)]
    aim = min(max(wanted, first), last)
    if found is None:
        assert not tried
    else:
        assert first <= found <= last
        assert is_free(pairs, found, width)
        assert abs(found - aim) <= min(abs(p - aim) for p in tried)


@pytest.mark.long
@settings(max_examples=300)
@given(PAIRS, ENDS, st.integers(1, 20))
def test_the_widest_gap_is_clear_and_no_other_is_wider(
    pairs: list[tuple[int, int]], low: int, length: int
) -> None:
    high = low + length
    start, end = widest_gap(pairs, low, high)
    assert low <= start <= end <= high
    if start < end:
        assert not any(a < end and b > start for a, b in pairs)
    ends = sorted({low, high, *(x for pair in pairs for x in pair if low < x < high)})
    for n, a in enumerate(ends):
        for b in ends[n + 1 :]:
            if not any(c < b and d > a for c, d in pairs):
                assert b - a <= end - start


@pytest.mark.long
@settings(max_examples=300)
@given(PAIRS, ENDS, st.integers(1, 20))
def test_a_clear_run_holds_the_middle_and_nothing_else(
    pairs: list[tuple[int, int]], low: int, length: int
) -> None:
    high = low + length
    run = clear_run(pairs, low, high)
    inside = any(a < high and b > low for a, b in pairs)
    assert (run is None) == inside
    if run is not None:
        left, right = run
        assert left <= low < high <= right
        assert not any(a < right and b > left for a, b in pairs)
        assert left == max((b for _, b in pairs if b <= low), default=-float("inf"))
        assert right == min((a for a, _ in pairs if a >= high), default=float("inf"))


def test_a_clear_run_takes_contact_for_clear() -> None:
    assert clear_run([(-1.0, 0.00005), (0.99995, 2.0)], 0.0, 1.0) == (0.0, 1.0)
    assert clear_run([(-1.0, 0.0002)], 0.0, 1.0) is None
