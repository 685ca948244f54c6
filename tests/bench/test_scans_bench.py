"""A query of a scan costs little beside reading it."""

from __future__ import annotations

import pytest

from tests.bench.scans import measure


@pytest.mark.bench
def test_cutting_a_scan_costs_little_beside_reading_it() -> None:
    found = measure(200_000, 200_000)
    # Measured: a fiftieth; and finding which points count, 15 times reading them.
    assert found.cutting < 0.2
    assert found.sifting < 60
