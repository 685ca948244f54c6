"""Ways out are drawn where they are too narrow or in question, and only there."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely

from model3d import Scene, check
from model3d.egress.doors.exits import BODY
from tests.scenes import examples
from viewer.sheet.meanings import meanings
from viewer.stage import build_stage
from viewer.stage.bodies.ways import across, way_shapes
from viewer.stage.layers import WAYS
from viewer.stage.looking.about import about, short_sizes
from viewer.stage.looking.sights import narrow_places, screens
from viewer.stage.looking.views import view_of_place

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


def test_nothing_of_a_ribbon_lies_on_another_part_of_it() -> None:
    """It is translucent: its triangles together are as large as what they cover."""
    (judged,) = examples.report("one-way-out").of("SB1", "second-entrance")
    assert judged.way is not None
    assert len(judged.way.points) > 3, "it turns, to either side"
    (ribbon,) = way_shapes(judged, "second")
    parts = shapely.polygons(ribbon.vertices[ribbon.faces][..., :2])
    whole = shapely.union_all(parts)
    assert shapely.area(parts).sum() == pytest.approx(whole.area, abs=1e-6)
    band = shapely.LineString(judged.way.points).buffer(0.305, quad_segs=64)
    assert whole.symmetric_difference(band).area < 0.01


def test_a_ribbon_that_turns_back_is_whole() -> None:
    """Its pieces are too short to be cut back where it turns: there it lies double."""
    points = ((0.0, 0.0), (1.0, 0.0), (1.0, 0.1), (0.0, 0.1), (0.0, 0.1))
    (judged,) = examples.report("one-way-out").of("SB1", "second-entrance")
    assert judged.way is not None
    back = replace(judged, way=replace(judged.way, points=points))
    (ribbon,) = way_shapes(back, "second")
    whole = shapely.union_all(shapely.polygons(ribbon.vertices[ribbon.faces][..., :2]))
    band = shapely.LineString(points).buffer(0.305, quad_segs=64)
    assert whole.symmetric_difference(band).area < 0.01


def test_sections_of_one_piece_share_their_way_and_its_size() -> None:
    """Five ribbons on one another would be dark, five sizes in one place a heap."""
    sections = [
        {"id": f"S{n}", "kind": "switchboard", "size": [1000, 600, 2150]}
        | {"place": {"wall": "north", "along": 1500 + 1000 * n}, "line_up": "A"}
        | {"supply": {"system": "208Y/120", "amps": 1600}}
        | {"door": "left", "rear": "bolted"}
        for n in (1, 2, 3)
    ]
    doors = [
        {"id": name, "wall": wall, "along": along, "width": width, "height": 2100}
        | {"opens": "out", "hinge": "left"}
        for name, wall, along, width in (
            ("D1", "west", 0, 900),
            ("D2", "east", 300, 600),
        )
    ]
    scene = Scene.model_validate(
        {
            "title": "Passage",
            "units": "mm",
            "rules": "nec-2017",
            "room": {"size": [8000, 1500], "height": 3000, "doors": doors},
            "items": sections,
        }
    )
    report = check(scene)
    made = build_stage(scene, report)
    found = [row.requirement for row in made.judgements].count("second-entrance")
    assert found == len(sections)
    (ribbon,) = (one for one in made.shapes if one.layer == WAYS)
    assert [made.judgements[n].subject for n in ribbon.judgements] == ["S1", "S2", "S3"]
    own = [one for one in made.dimensions if one.short]
    assert [one.item for one in own] == ["S1", "S2", "S3"]
    assert [one.item for one in short_sizes(made)] == ["S1"]
    assert [one.item for one in short_sizes(made, "S2")] == ["S2"]
    # Each of them has it in its own picture.
    for item in ("S1", "S2", "S3"):
        picture = about(made, item)
        assert sum(one.layer == WAYS for one in picture.shapes) == 1
        assert [one.item for one in picture.dimensions if one.short] == [item]


def test_leaves_stay_shut_where_a_second_way_alone_is_missing() -> None:
    """It is asked for with all of them shut, the first one with all of them open."""
    for name, shown in (("one-way-out", 90.0), ("alone", 0.0)):
        report = examples.report("one-way-out")
        if name == "alone":
            kept = [one for one in report.judgements if one.requirement != "entrance"]
            report = replace(report, judgements=tuple(kept))
        assert any(one.verdict == "not-met" and one.way for one in report.judgements)
        made = build_stage(examples.scene("one-way-out"), report)
        leaves = [
            one for one in made.shapes if one.role == "leaf" and one.item == "SB1"
        ]
        assert len(leaves) == 3
        for leaf in leaves:
            assert leaf.pivot is not None
            assert abs(leaf.pivot.shown) == pytest.approx(shown)


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


def test_a_way_that_is_too_low_has_a_height_where_it_is_lowest() -> None:
    """The duct AD1 hangs with its underside at 4 ft 5 in; D1 is 4 ft 6 in high.

    NEC 110.26(C)(2) prints 6 1/2 ft: 1981.2 mm.
    """
    made = examples.stage("crawl-space")
    assert made.rules == "nec-2014"
    found = {
        one.item: one
        for one in made.dimensions
        if one.name == "height"
        and one.judgement is not None
        and made.judgements[one.judgement].requirement == "entrance"
    }
    assert set(found) == {"LP1", "LP2", "DS1"}
    duct = next(s for s in made.shapes if s.item == "AD1" and s.role == "solid")
    for item, inches in (("LP1", 54.0), ("LP2", 53.0), ("DS1", 54.0)):
        size = found[item]
        assert size.short
        assert size.start[:2] == size.end[:2] == size.reached_end[:2]
        assert size.end[2] - size.start[2] == pytest.approx(1.9812)
        there = size.reached_end[2] - size.reached_start[2]
        assert there == pytest.approx(inches * 0.0254)
        assert size.aside[2] == 0.0
        assert math.hypot(*size.aside) == pytest.approx(1.0)
        under = (duct.vertices[:, :2].min(axis=0) <= size.start[:2]).all()
        under &= (duct.vertices[:, :2].max(axis=0) >= size.start[:2]).all()
        assert bool(under) == (item == "LP2")
        assert size.start[2] == 0.0
    assert found["LP1"].start[1] == pytest.approx(0.0), "in the door of the south wall"
    # A way that is high enough has none.
    high = examples.stage(NAME)
    of_ways = {
        n for n, one in enumerate(high.judgements) if one.requirement == "entrance"
    }
    sizes = [one for one in high.dimensions if one.judgement in of_ways]
    assert {one.name for one in sizes} == {"width"}


def test_a_way_on_a_platform_is_measured_from_there() -> None:
    """A platform 150 mm high, a beam 2050 mm above the floor: 1900 mm by arithmetic."""
    panel = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 1000],
        "place": {"wall": "north", "along": 1500, "bottom": 1050},
        "supply": {"system": "208Y/120", "amps": 225},
        "door": "left",
    }
    beam = {
        "id": "BM1",
        "kind": "beam",
        "size": [4000, 200, 200],
        "place": {"at": [2000, 1200], "facing": "north", "bottom": 2050},
    }
    platform = {
        "id": "PF1",
        "kind": "platform",
        "size": [4000, 3000, 150],
        "place": {"at": [2000, 1500], "facing": "north"},
    }
    door = {"id": "D1", "wall": "south", "along": 1500, "width": 900, "height": 2300}
    scene = Scene.model_validate(
        {
            "title": "Gallery",
            "units": "mm",
            "rules": "nec-2023",
            "room": {"size": [4000, 3000], "height": 3000, "doors": [door]},
            "items": [panel, beam, platform],
        }
    )
    made = build_stage(scene, check(scene))
    (size,) = (
        one
        for one in made.dimensions
        if one.name == "height"
        and one.judgement is not None
        and made.judgements[one.judgement].requirement == "entrance"
    )
    assert size.start[2] == pytest.approx(0.150)
    assert size.reached_end[2] == pytest.approx(2.050)


def test_a_width_across_lies_across() -> None:
    judged = next(
        one for one in examples.report(NAME).judgements if one.way is not None
    )
    assert judged.way is not None
    start, end, onwards = across(judged.way, judged.way.at, 0.5)
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


def test_a_room_is_seen_from_where_narrow_ways_are_not_hidden() -> None:
    """They lay behind a bench, and their sizes seemed to be sizes of it."""
    made = examples.stage(NAME)
    view = view_of_place(made, 1.3)
    places = [*narrow_places(made)]
    assert {one.item for one in places} == {"LP1", "MCC1"}
    for one in places:
        middle = (np.array(one.reached_start) + np.array(one.reached_end)) / 2
        # A little above the floor, which is no body that hides its own surface.
        middle[2] = 0.02
        assert not screens(made.shapes).before(middle[None], np.array(view.eye)).any()
