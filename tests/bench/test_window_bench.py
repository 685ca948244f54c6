"""What the window must be quick at, as ratios, with room for a busy machine."""

from __future__ import annotations

import pytest

from tests.bench.window import frames, recheck

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


@pytest.mark.screen
def test_ten_times_the_boxes_take_about_ten_times_as_long() -> None:
    few, many = frames(2_000), frames(20_000)
    assert many["joined"] < 30 * few["joined"]
    assert many["motion"] < 30 * few["motion"]
    assert many["pick"] < 60 * few["pick"]
