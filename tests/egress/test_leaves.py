"""Equipment doors where they stand open, and who is shut in by them.

Source: trigonometry, worked out beside each check.
"""

from __future__ import annotations

import math

import pytest

from model3d.egress.doors.open_leaves import open_leaves
from model3d.egress.ways import ways_of
from tests.egress.small_rooms import GEAR, box, door, room, square


def test_a_leaf_stands_at_a_right_angle() -> None:
    # The panel's front looks north from (0.6, 0.2) to (1.4, 0.2); a person who faces it
    # has its left end at the east.
    leaf = {"hinge": "left", "width": 0.5, "sill": 0.3, "height": 1.5}
    situation = room(square(6, 4), GEAR | {"id": "X", "door": None, "doors": [leaf]})
    found = [one for one in open_leaves(situation) if one.item == "X"]
    (plate,) = found
    west, south, east, north = plate.plan.bounds
    assert (west, east) == pytest.approx((1.4, 1.4), abs=1e-4)
    assert (south, north) == pytest.approx((0.2, 0.7))
    assert (plate.bottom, plate.top) == pytest.approx((0.3, 1.8))
    assert not plate.assumed


def test_a_leaf_stands_where_something_stops_it() -> None:
    # The near side of a box is 0.3 ahead of the front, half the leaf's width: the
    # leaf's tip comes there at 30 degrees, 0.52 beside the hinge.
    leaf = {"hinge": "left", "width": 0.6}
    panel = GEAR | {"id": "X", "door": None, "doors": [leaf]}
    situation = room(square(6, 4), panel, box("A", 0.9, 0.6, 0.4, 0.2))
    (plate,) = [one for one in open_leaves(situation) if one.item == "X"]
    reach = 0.6 * math.sin(math.radians(30))
    assert plate.plan.bounds[3] == pytest.approx(0.2 + reach, abs=1e-4)


def test_a_leaf_wider_than_the_floor_ahead_closes_it() -> None:
    leaf = {"hinge": "left", "width": 0.6}
    panel = GEAR | {"id": "X", "door": None, "doors": [leaf]}
    situation = room(square(6, 4), panel, box("A", 2.5, 1.0, 3.0, 0.6))
    (plate,) = [one for one in open_leaves(situation) if one.item == "X"]
    assert plate.tip == pytest.approx((0.0, 0.5), abs=1e-6)


def test_where_nothing_is_said_both_hinges_are_taken() -> None:
    situation = room(square(6, 4), GEAR | {"id": "X", "door": None})
    found = [one for one in open_leaves(situation) if one.item == "X"]
    assert [one.assumed for one in found] == [True, True]
    assert {round(one.plan.centroid.x, 3) for one in found} == {0.6, 1.4}


@pytest.mark.parametrize("word", ["bolted", "none"])
def test_a_bolted_cover_is_no_leaf(word: str) -> None:
    situation = room(square(6, 4), GEAR | {"id": "X", "door": word})
    assert not [one for one in open_leaves(situation) if one.item == "X"]


def test_open_leaves_stand_on_the_floor_only_where_they_are_met() -> None:
    low = {"hinge": "left", "width": 0.5, "height": 0.15}
    high = {"hinge": "left", "width": 0.5, "sill": 0.3, "height": 1.5}
    panel = GEAR | {"id": "X", "door": None, "doors": [low]}
    ways = ways_of(room(square(6, 4), panel, doors=[door(2, 1, 0.9)]))
    assert ways.floor(2.0, "stated") is ways.floor(2.0)
    panel = GEAR | {"id": "X", "door": None, "doors": [high]}
    ways = ways_of(room(square(6, 4), panel, doors=[door(2, 1, 0.9)]))
    names = [name for name, _ in ways.floor(2.0, "stated").obstacles]
    assert "the door of X" in names
