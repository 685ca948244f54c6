"""Ways out are drawn where they are too narrow or in question, and only there."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from tests.scenes import examples
from viewer.sheet.meanings import meanings
from viewer.stage.layers import WAYS
from viewer.stage.ways import across

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
        s for s in sizes if made.judgements[s.judgement].requirement == "entrance"
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
