"""What the page must be quick at, as ratios, with room for a busy machine.

What needs a browser is in tests/viewer/page/test_page_speed.py.
"""

from __future__ import annotations

import statistics
from typing import TYPE_CHECKING

import pytest

from model3d import check
from tests.bench.halls import hall
from tests.bench.least import least
from tests.bench.live import move_time
from tests.bench.page import crowd, pump_station_page
from viewer.page.html import page
from viewer.stage import build_stage
from viewer.stage.kept import Kept

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Report, Scene

pytestmark = pytest.mark.bench

LARGEST_PAGE = 1_000_000
"""Bytes of the page of the pump station: the product's own contract."""


def test_the_pump_station_s_page_is_small(tmp_path: Path) -> None:
    assert pump_station_page(tmp_path).stat().st_size < LARGEST_PAGE


def test_a_move_costs_a_part_of_a_whole_check() -> None:
    told = move_time(100, 9)
    assert statistics.median(told.each) < told.whole / 4


def test_a_move_costs_little_more_in_a_larger_hall() -> None:
    small, large = (statistics.median(move_time(n, 7).each) for n in (50, 200))
    # Four times the boxes: a check of them all takes four times as long and more.
    assert large < 4 * small


def test_a_box_more_is_less_than_a_kilobyte_more() -> None:
    few, many = (len(page(crowd(boxes))) for boxes in (200, 1200))
    assert (many - few) / 1000 < 1000


def test_what_stays_of_a_stage_costs_little_to_show_again() -> None:
    scene = hall(1_000, crowded=False)
    report = check(scene)
    # Measured 28 to 39; 18 where each row asked four times whether it stays. Other work
    # on the machine may spoil a round, not all of them.
    assert any(_times_quicker(scene, report) > 20 for _ in range(4))


def _times_quicker(scene: Scene, report: Report) -> float:
    """Return how many times longer a stage takes at first than again."""
    kept = Kept()
    anew = least(lambda: build_stage(scene, report, kept=kept), 1)
    return anew / least(lambda: build_stage(scene, report, kept=kept), 5)
