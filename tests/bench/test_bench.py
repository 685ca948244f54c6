"""A small run of the measurements, with room to spare for a busy machine."""

from __future__ import annotations

import subprocess
import sys

import pytest

from model3d import check
from tests.bench.halls import hall
from tests.bench.measures import (
    PROGRAM,
    ROOT,
    SCENE,
    LeastWork,
    check_time,
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
    # Nothing that the room does not need is loaded: measured 1.0.
    this, loading = process_times(3)
    assert this / loading < 2


def test_the_check_of_a_plain_room_loads_no_mesh_library() -> None:
    words = [sys.executable, "-X", "importtime", "-c", PROGRAM, "check", str(SCENE)]
    ran = subprocess.run(words, cwd=ROOT, capture_output=True, check=False)  # noqa: S603 - this Python
    loaded = ran.stderr.decode()
    assert "shapely" in loaded
    assert "trimesh" not in loaded
    assert "scipy" not in loaded


def test_ways_out_grow_with_the_hall() -> None:
    small, large = (check_time(boxes, door=True, crowded=False) for boxes in (200, 800))
    # Measured 2.9 to 4.5 for four times the boxes.
    assert large / small < 4 * 2
