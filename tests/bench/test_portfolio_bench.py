"""A small run of the measurements of many rooms, with room for a busy machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.bench.portfolio import cost, halves, write_halls

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.bench


def test_two_jobs_cost_no_more_than_two_halves_at_once(tmp_path: Path) -> None:
    write_halls(tmp_path / "rooms", 60, 150)
    one, two = tmp_path / "1.jsonl", tmp_path / "2.jsonl"
    alone = cost(tmp_path / "rooms", one)
    pair = cost(tmp_path / "rooms", two, "--jobs", "2")
    assert one.read_bytes() == two.read_bytes()
    # Two programs at once share caches and threads of the processor as two jobs do, so
    # they are the yardstick: 0.90 to 0.96 of it was measured.
    assert pair.processor < 1.3 * halves(tmp_path / "rooms", two).processor
    again = cost(tmp_path / "rooms", two, "--changed-since", str(one))
    assert one.read_bytes() == two.read_bytes()
    assert again.processor < alone.processor / 2
