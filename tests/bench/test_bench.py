"""A small run of the measurements, with room to spare for a busy machine."""

from __future__ import annotations

import pytest

from model3d import check
from tests.bench.halls import hall
from tests.bench.measures import (
    LeastWork,
    engine_against_all_pairs,
    engine_against_floor,
    process_times,
)

pytestmark = pytest.mark.bench


def test_the_hall_has_what_it_says() -> None:
    report = check(hall(100))
    gear = {one.subject for one in report.judgements} - {"room"}
    assert len(gear) == 10
    hits = sum(
        len(one.intrusions)
        for one in report.judgements
        if one.requirement == "working-space"
    )
    assert hits == 30
    work = LeastWork(report)
    volumes = sum(
        one.volume or 0.0
        for judgement in report.judgements
        for one in judgement.intrusions
    )
    assert work.done() == pytest.approx(volumes, rel=1e-3)


def test_the_engine_against_the_least_work() -> None:
    assert engine_against_floor(1_000, repeats=2).ratio < 4


def test_the_engine_s_time_grows_with_the_hall() -> None:
    small, large = (engine_against_floor(boxes) for boxes in (500, 2_000))
    assert large.engine / small.engine < 4 * 3


def test_the_engine_against_all_pairs() -> None:
    assert engine_against_all_pairs(1_000, tried=50, repeats=2).ratio > 30


def test_a_whole_process_against_loading_the_libraries() -> None:
    this, loading = process_times(3)
    assert this / loading < 4
