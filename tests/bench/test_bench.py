"""A small run of the measurements, with room to spare for a busy machine."""

from __future__ import annotations

import subprocess
import sys
from functools import partial
from typing import TYPE_CHECKING, Final

import pytest

from model3d import check
from model3d.egress.route import together
from tests.bench.halls import hall
from tests.bench.least import by_turns
from tests.bench.measures import (
    PROGRAM,
    ROOT,
    SCENE,
    LeastWork,
    engine_against_all_pairs,
    engine_against_floor,
    process_times,
)

if TYPE_CHECKING:
    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.together import Room, RoomAsked

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
    scenes = [hall(boxes, door=True, crowded=False) for boxes in (200, 800)]
    small, large = by_turns(2, *(partial(check, scene) for scene in scenes))
    # Measured 2.9 to 4.5 for four times the boxes.
    assert large / small < 4 * 2


def test_widest_ways_are_searched_for_side_by_side(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Counted, not timed: in a crowded hall every working space has a search of its own.
    ask = together._rooms  # noqa: SLF001 - what all searches go through
    sizes: list[int] = []

    def counted(floor: Floor, asked: dict[int, RoomAsked]) -> dict[int, Room]:
        sizes.append(len(asked))
        return ask(floor, asked)

    monkeypatch.setattr(together, "_rooms", counted)
    check(hall(400, door=True))
    at_once = [size for size in sizes if size]
    # Measured 272 in 42 times; one by one it is as many times as questions.
    assert sum(at_once) > 3 * len(at_once)


def test_narrow_places_among_very_many_bodies_need_no_scipy() -> None:
    # It and its map of distances took 70 MB, which is 7 kB a box of ten thousand.
    words = [sys.executable, "-c", _MANY_BODIES]
    ran = subprocess.run(words, cwd=ROOT, capture_output=True, check=True, text=True)  # noqa: S603 - this Python
    maps, loaded = ran.stdout.split()
    assert (maps, loaded) == ("1", "False")


_MANY_BODIES: Final = """
import sys
import numpy as np
import shapely
from model3d.egress.ground.necks import near
drawn, map_of = [], near._map_of
near._map_of = lambda shapes: drawn.append(1) or map_of(shapes)
x, y = np.meshgrid(np.arange(40.0), np.arange(40.0))
bodies = shapely.box(x, y, x + 0.4, y + 0.3).ravel()
near.pairs_near(bodies, np.arange(len(bodies)), shapely.STRtree(bodies), 3.0)
print(len(drawn), "scipy" in sys.modules)
"""
"""Asks of so many bodies which are near which that a map of corners is drawn."""
