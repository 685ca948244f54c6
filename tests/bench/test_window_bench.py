"""What the window must be quick at, as ratios, with room for a busy machine."""

from __future__ import annotations

import pytest

from tests.bench.fields import joining
from tests.bench.window import recheck

pytestmark = pytest.mark.bench


def test_a_moving_thing_costs_a_part_of_a_whole_check() -> None:
    told = recheck(100, repeats=3)
    assert told.judged < told.whole / 8
    assert told.left < told.whole / 2


def test_a_moving_thing_costs_no_more_in_a_larger_hall() -> None:
    small, large = recheck(60, repeats=3), recheck(240, repeats=3)
    # Four times the boxes: a check of them all takes four times as long and more.
    assert large.judged < 4 * small.judged


def test_the_body_in_the_way_follows_within_one_frame() -> None:
    assert recheck(100, repeats=3).follows


def test_joining_ten_times_the_boxes_takes_ten_times_as_long() -> None:
    few = min(joining(2_000) for _ in range(3))
    assert joining(20_000) < 30 * few
