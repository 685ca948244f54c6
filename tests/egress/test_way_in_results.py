"""The way as the results carry it, in millimetres.

Source: requirements.md, results; issue text on the way that is carried. Of the second
way out: NEC 110.26(C)(2), 610 mm (24 in) at each end.
"""

from __future__ import annotations

import json

import pytest

from model3d import Judgement, Scene, check
from model3d.egress.doors.exits import BODY
from model3d.judging.results import Way
from tests.egress.small_rooms import box, door, room, square


def test_the_way_is_in_the_document() -> None:
    situation = room(square(6, 4), doors=[door(2, 1, 0.9)])
    report = check(situation.scene)
    (found,) = report.of("LP1", "entrance")
    assert isinstance(found.way, Way)
    plain = json.loads(report.json())["judgements"]
    (one,) = [j for j in plain if j["requirement"] == "entrance"]
    assert one["way"]["door"] == "D2"
    assert one["way"]["narrowest"] == 900
    assert one["way"]["at"] == [6000, 2550]
    assert one["way"]["points"][0] == pytest.approx([1000, 650])
    assert one["way"]["points"][-1] == pytest.approx([6900, 2550], abs=0.2)


def test_without_a_way_there_is_none_in_the_document() -> None:
    situation = room(square(6, 4), box("A", 3, 2, 0.2, 4), doors=[door(2, 1, 0.9)])
    plain = check(situation.scene).document()["judgements"]
    (one,) = [j for j in plain if j["requirement"] == "entrance"]
    assert one["verdict"] == "not-met"
    assert "way" not in one


BOARD = {
    "id": "SB1",
    "kind": "switchboard",
    "size": [3000, 600, 2150],
    "place": {"wall": "north", "along": 2500},
    "supply": {"system": "208Y/120", "amps": 1600},
    "door": "bolted",
    "rear": "bolted",
}
"""A large board in a passage that its working space fills, from 2500 to 5500 from the
west wall: whoever is at one end passes before the board to leave at the other."""

PARTITION = {
    "id": "W1",
    "kind": "wall",
    "size": [100, 1500, 3000],
    "place": {"at": [1500, 750]},
}


def second(*widths: int, across: bool = False) -> Judgement:
    """Judge the second way out of the board; a door in the west and in the east wall.

    Args:
        widths: Of the doors, millimetres; 0 where there is none.
        across: Whether a partition stands between the board and the west door.
    """
    walls = zip(("D1", "D2"), ("west", "east"), widths, strict=True)
    doors = [
        {"id": name, "wall": wall, "along": 0 if wall == "west" else 900 - width}
        | {"width": width, "height": 2100, "opens": "out", "hinge": "left"}
        for name, wall, width in walls
        if width
    ]
    plain = {
        "title": "Passage",
        "units": "mm",
        "rules": "nec-2020",
        "room": {"size": [8000, 1500], "height": 3000, "doors": doors},
        "items": [BOARD, *([PARTITION] if across else ())],
    }
    (judged,) = check(Scene.model_validate(plain)).of("SB1", "second-entrance")
    return judged


def test_the_way_from_the_end_that_has_none_leads_along_the_front() -> None:
    judged = second(900, 0)
    assert judged.verdict == "open"
    assert judged.way is not None
    assert judged.way.door == "D1"
    (start, _), *_, (end, _) = judged.way.points
    assert 5.5 - 0.61 < start < 5.5
    assert end < 0
    assert judged.way.narrowest == pytest.approx(0.9)


def test_the_narrow_way_at_one_end_is_told_with_its_width() -> None:
    """600 mm: 610 are asked for, and they are what is provided."""
    for widths, name, beyond in (((900, 600), "D2", 1), ((600, 900), "D1", -1)):
        judged = second(*widths)
        assert judged.verdict == "open"
        assert judged.way is not None
        assert judged.way.door == name
        assert judged.way.between == (name,)
        assert judged.way.narrowest == pytest.approx(judged.provided["width"])
        assert judged.way.narrowest == pytest.approx(0.6)
        assert (judged.way.points[-1][0] - 4) * beyond > 4


def test_a_way_at_each_end_needs_no_drawing() -> None:
    judged = second(900, 900)
    assert judged.verdict == "met"
    assert judged.way is None


def test_without_any_way_the_second_tells_how_far_one_gets() -> None:
    """The partition's east face is at 1550: whoever stands there is half as wide."""
    judged = second(900, 0, across=True)
    assert judged.verdict == "not-met"
    assert judged.way is None
    assert judged.dead_end is not None
    assert judged.dead_end.door == "D1"
    assert judged.dead_end.points[-1][0] == pytest.approx(1.55 + BODY / 2, abs=1e-3)
