"""What must hold of the measurements of maps: a ratio within one run."""

from __future__ import annotations

import pytest

from tests.bench.mending import map_against_checks


@pytest.mark.bench
def test_a_map_is_far_quicker_than_checking_places_one_by_one() -> None:
    # Measured 319 times; the aim is 100.
    assert map_against_checks(1000, tried=1).ratio > 100
