"""The way as the results carry it, in millimetres.

Source: requirements.md, results; issue text on the way that is carried.
"""

from __future__ import annotations

import json

import pytest

from model3d import check
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
