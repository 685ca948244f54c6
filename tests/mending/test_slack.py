"""Slack: worked out by hand, and by moving a thing just so far and a little further."""

from __future__ import annotations

from model3d import Scene, check
from model3d.mending.proof.sketch import changed
from model3d.mending.slack import slacks, to_measure
from model3d.scene.parts.lesson import MoveItem
from tests.mending.test_places import box, room, switch


def _annex(tolerance: float = 0) -> Scene:
    # The front is 200 off the north wall; the crate's near side 1200 ahead of that.
    crate = box("S1", [800, 400, 900], {"at": [2000, 1400]}, kind="furniture")
    scene = room(switch({"wall": "north", "along": 1750, "bottom": 900}), crate)
    return Scene.model_validate({**scene.written(), "survey_tolerance": tolerance})


def test_a_crate_may_come_as_near_as_the_depth() -> None:
    # 900 mm, condition 1 of NEC 2023 Table 110.26(A)(1): furniture is not grounded.
    scene = _annex()
    (found,) = [one for one in slacks(scene) if one.requirement == "working-space"]
    assert (found.subject, found.thing) == ("DS1", "S1")
    assert round(found.distance, 4) == 0.3
    for by, met in ((299, True), (301, False)):
        after = changed(scene, [MoveItem(move="S1", by=(0, by, 0))])
        assert after is not None
        (judged,) = check(after).of("DS1", "working-space")
        assert (judged.verdict == "met") is met


def test_what_is_tighter_than_the_survey_is_to_be_measured_again() -> None:
    again = to_measure(_annex(), slacks(_annex()))
    assert again is None
    close = _annex(350)
    found = slacks(close)
    told = to_measure(close, found)
    assert told is not None
    assert told.thing == "S1"


def test_sections_that_touch_in_one_row_are_nothing_to_watch() -> None:
    # Nobody pushes one section of a row into the next.
    row = [
        {**switch({"wall": "north", "along": along, "bottom": 900}), "id": name}
        for name, along in (("A1", 1000), ("A2", 1500))
    ]
    scene = room(*row)
    assert not slacks(scene)
