"""A pit is a hole: it goes down from the floor unless something else is said."""

from __future__ import annotations

import pytest

from model3d import read_text
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.arrangement import arrange
from model3d.standing.changes import apply_change

PLACE = "{at: [2000, 2000]}"
SCENE = """
title: T
units: mm
rules: nec-2023
room: {size: [6000, 4000], height: 3000}
items: [{id: P, kind: pit, size: [600, 400, 700], place: PLACE}]
"""


def _levels(place: str, up: float = 0.0) -> tuple[float, float]:
    scene = read_text(SCENE.replace("PLACE", place), "pit.yaml")
    if up:
        scene = apply_change(scene, MoveItem(move="P", by=(0.0, 0.0, up)))
    pit = arrange(scene).items["P"]
    return round(pit.bottom, 9), round(pit.top, 9)


@pytest.mark.parametrize("place", [PLACE, "{wall: north, along: 100}"])
def test_a_pit_goes_down_from_the_floor(place: str) -> None:
    assert _levels(place) == (-0.7, 0.0)


def test_a_pit_may_say_where_it_opens() -> None:
    assert _levels("{at: [2000, 2000], top: 300}") == (-0.4, 0.3)
    assert _levels("{at: [2000, 2000], bottom: -500}") == (-0.5, 0.2)


@pytest.mark.parametrize("place", [PLACE, "{wall: north, along: 100}"])
def test_a_pit_moves_from_the_floor_on(place: str) -> None:
    assert _levels(place, up=300.0) == (-0.4, 0.3)
