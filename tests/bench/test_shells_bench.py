"""Checking a mesh of many shells costs some times what reading it costs."""

from __future__ import annotations

import pytest

from tests.bench.shells import apart, measure, overlapping


@pytest.mark.bench
@pytest.mark.long
def test_a_heap_of_many_shells_is_checked_in_some_times_of_reading_it() -> None:
    # Measured 5.2; before wide slivers were counted it did not end in a minute.
    assert measure(1000, overlapping(1000)).ratio < 15
    # Measured 1.5.
    assert measure(1000, apart(1000)).ratio < 5
