"""Ways out are drawn where they are too narrow or in question, and only there."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from model3d import Scene, check
from model3d.egress.doors.exits import BODY
from tests.scenes import examples
from viewer.sheet.meanings import meanings
from viewer.stage import build_stage
from viewer.stage.bodies.ways import across
from viewer.stage.layers import WAYS

NAME = "around-the-corner"


def test_every_way_that_is_not_met_or_open_has_a_ribbon() -> None:
    judged = [
        one
        for one in examples.report(NAME).judgements
        if one.way is not None and one.verdict != "met"
    ]
    ribbons = [one for one in examples.stage(NAME).shapes if one.layer == WAYS]
    assert judged
    assert len(ribbons) == len(judged)
    for one in ribbons:
        assert len(one.faces)
        assert (one.vertices[:, 2] < 0.01).all()


def test_a_ribbon_is_as_wide_as_the_way_must_be() -> None:
    """610 mm: NEC 110.26(C)(2); the ribbon keeps half of it to either side."""
    judged = next(
        one
        for one in examples.report(NAME).judgements
        if one.way is not None and one.verdict == "not-met"
    )
    assert judged.way is not None
    made = examples.stage(NAME)
    ribbon = next(
        s for s in made.shapes if s.layer == WAYS and s.item == judged.subject
    )
    half = judged.required["width"] / 2
    points = np.array(judged.way.points)
    for corner in ribbon.vertices[:, :2]:
        away = min(_away(corner, one, other) for one, other in pairwise(points))
        assert away <= half + 1e-6


def _away(at: np.ndarray, one: np.ndarray, other: np.ndarray) -> float:
    step = other - one
    share = min(max(float(np.dot(at - one, step) / np.dot(step, step)), 0.0), 1.0)
    return float(np.hypot(*(one + share * step - at)))


def test_its_narrowest_place_has_a_size() -> None:
    made = examples.stage(NAME)
    sizes = [one for one in made.dimensions if one.item == "MCC1" and one.short]
    (size,) = (
        s
        for s in sizes
        if s.judgement is not None
        and made.judgements[s.judgement].requirement == "entrance"
    )
    assert math.dist(size.start, size.end) == pytest.approx(0.610)
    assert math.dist(size.reached_start, size.reached_end) == pytest.approx(0.600)


def test_a_width_across_lies_across() -> None:
    judged = next(
        one for one in examples.report(NAME).judgements if one.way is not None
    )
    assert judged.way is not None
    start, end, onwards = across(judged.way, 0.5)
    assert math.dist(start, end) == pytest.approx(0.5)
    along = np.subtract(end, start)
    assert float(np.dot(along, onwards)) == pytest.approx(0.0)


def test_the_legend_tells_of_ways_where_there_are_any() -> None:
    assert "way" in dict(meanings(examples.stage(NAME)))
    assert "way" not in dict(meanings(examples.stage("clean-small-room")))


def test_where_no_way_leads_out_it_is_drawn_how_far_one_gets() -> None:
    """A partition from wall to wall, 1500 mm before the board: nobody gets past it."""
    board = {
        "id": "SB1",
        "kind": "switchboard",
        "size": [1000, 500, 2000],
        "place": {"wall": "north", "along": 500},
        "supply": {"system": "208Y/120", "amps": 400},
        "door": "bolted",
        "rear": "bolted",
    }
    partition = {
        "id": "W1",
        "kind": "wall",
        "size": [4000, 100, 2700],
        "place": {"at": [2000, 1400], "facing": "north"},
    }
    door = {
        "id": "D1",
        "wall": "south",
        "along": 3000,
        "width": 900,
        "height": 2100,
        "opens": "out",
        "hinge": "left",
    }
    scene = Scene.model_validate(
        {
            "title": "Shut in",
            "units": "mm",
            "rules": "nec-2023",
            "room": {"size": [4000, 4000], "height": 2700, "doors": [door]},
            "items": [board, partition],
        }
    )
    report = check(scene)
    (judged,) = report.of("SB1", "entrance")
    assert judged.verdict == "not-met"
    end = judged.dead_end
    assert judged.way is None
    assert end is not None
    assert end.door == "D1"
    # The partition's front is at 1450; whoever stands there is half as wide before it.
    assert end.points[-1][1] == pytest.approx(1.45 + BODY / 2, abs=1e-3)
    assert end.points[0][1] > 2.0
    # As near to the door as it goes: that is 100 to 1000 mm from the west wall.
    assert 0.1 < end.points[-1][0] < 1.0
    shapes = [one for one in build_stage(scene, report).shapes if one.layer == WAYS]
    assert [len(one.faces) > 0 for one in shapes] == [True, False]
    ribbon, bar = shapes
    assert ribbon.vertices[:, 1].min() == pytest.approx(1.45, abs=2e-3)
    assert bar.edges[..., 1].mean() == pytest.approx(end.points[-1][1])
    assert "towards D1" in bar.about
    assert ("way", "no way out: how far one gets") in [
        *meanings(build_stage(scene, report))
    ]
