"""A small run of the measurements of many rooms, with room for a busy machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.bench.portfolio import cost, write_halls

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.bench


def test_two_jobs_do_the_work_of_one_and_little_more(tmp_path: Path) -> None:
    write_halls(tmp_path / "rooms", 40, 150)
    one, two = tmp_path / "1.jsonl", tmp_path / "2.jsonl"
    alone = cost(tmp_path / "rooms", one)
    pair = cost(tmp_path / "rooms", two, "--jobs", "2")
    assert one.read_bytes() == two.read_bytes()
    # What two processes load that one does not is a second or two of each.
    assert pair.processor < 1.5 * alone.processor
    again = cost(tmp_path / "rooms", two, "--changed-since", str(one))
    assert one.read_bytes() == two.read_bytes()
    assert again.processor < alone.processor / 2
