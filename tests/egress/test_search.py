"""The widest way against the search for any one width."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import Scene, check, read_scene
from model3d.check import situate
from model3d.egress.doors.exits import WIDEST
from model3d.egress.route import search
from model3d.egress.route.room import standing
from model3d.egress.route.search import passes, passes_each, widest_way
from model3d.egress.ways import ways_of
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.changes import apply_change
from tests.independent.random_rooms import random_room
from tests.paths import SCENES

if TYPE_CHECKING:
    from model3d.judging.situation import Situation

WIDER = 0.001
HEIGHT = 1.9


def room_with_a_door(seed: int) -> Situation:
    """Return a random room with a door in its north wall."""
    scene = random_room(seed)
    door = {"id": "D1", "wall": "north", "along": 300, "width": 900, "height": 1900}
    scene["room"] |= {
        "height": max(scene["room"]["height"], 2100),
        "doors": [door | {"opens": "out", "hinge": "left"}],
    }
    return situate(Scene.model_validate(scene))


def test_a_place_that_only_rounding_leaves_is_none() -> None:
    situation = situate(read_scene(SCENES / "angled-room.yaml"))
    floor = ways_of(situation).floor(HEIGHT)
    for item in situation.live:
        stand = ways_of(situation).stand(item)
        path = widest_way(floor, stand.standing(floor), stand.middle, asked=0.61)
        # The door is the narrowest place: nothing else in the room is less than 0.9 m.
        assert path is not None
        assert path.way.narrowest == pytest.approx(0.9)
        assert path.neck.between == ("D1",)


@pytest.mark.long
def test_who_is_asked_about_together_passes_as_each_does() -> None:
    answers = set()
    for seed in range(6):
        situation = room_with_a_door(seed)
        ways = ways_of(situation)
        floor = ways.floor(HEIGHT)
        areas = [ways.standing(ways.stand(one), floor) for one in situation.live]
        for width in (0.3, 0.6, 1.2):
            found = passes_each(floor, np.array(areas, dtype=object), width)
            assert found == [passes(floor, area, width) for area in areas]
            answers |= {*found}
    assert answers == {True, False}


@pytest.mark.long
@pytest.mark.parametrize("seed", [*range(8), 14, 41, 80, 282, 356])
def test_nobody_passes_who_is_wider_than_the_widest_way(seed: int) -> None:
    situation = room_with_a_door(seed)
    floor = ways_of(situation).floor(HEIGHT)
    for item in situation.live:
        stand = ways_of(situation).stand(item)
        area = stand.standing(floor)
        path = widest_way(floor, area, stand.middle, asked=0.61)
        if path is None:
            assert not passes(floor, area, 0.2 + WIDER)
        elif path.way.narrowest < WIDEST - WIDER:
            assert passes(floor, area, path.way.narrowest - WIDER)
            assert not passes(floor, area, path.way.narrowest + WIDER)


@pytest.mark.parametrize("seed", range(12))
def test_who_passes_easily_is_found_by_the_whole_search_too(seed: int) -> None:
    situation = room_with_a_door(seed)
    floor = ways_of(situation).floor(HEIGHT)
    for item in situation.live:
        area = ways_of(situation).stand(item).standing(floor)
        for width in (0.2, 0.4, 0.61, 0.8, 0.9):
            easily = search._passes_easily(floor, area, width)  # noqa: SLF001
            assert not easily or standing(floor, area, width)


def test_nobody_stands_in_a_splinter() -> None:
    # Rounding leaves a splinter of 3e-31 square metres at a corner of this space, out
    # of which there seemed to be a way of any width.
    scene = read_scene(SCENES / "angled-room.yaml")
    change = MoveItem(move="LP1", by=(-90, 0, 0))
    (judged,) = check(apply_change(scene, change)).of("LP1", "entrance")
    assert judged.verdict == "met"
    assert judged.way is not None
    assert judged.way.narrowest == pytest.approx(0.9)
