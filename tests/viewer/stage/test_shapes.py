"""Spaces, sizes, door leaves and walls of a stage.

The room is invented; what is geometry is worked out by hand beside each check.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import check
from tests.viewer.panel_room import ITEMS, LEFT_BY_CRATE, LP1_DEPTH, scene, stage
from tests.viewer.stage.panel_stage import STAGE, by_role, of_rule
from viewer.stage import build_stage, opened
from viewer.stage.layers import LAYERS, SPACES, SPACES_MET, WORKING_MET

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from viewer.stage import ListedJudgement, Shape, Stage
    from viewer.stage.drawn import Dimension

    Points = NDArray[np.float64]

# Required spaces


def rows_of(shape: Shape, made: Stage = STAGE) -> list[ListedJudgement]:
    return [made.judgements[n] for n in shape.judgements]


def _requirement(stage: Stage, size: Dimension) -> str | None:
    if size.judgement is None:
        return None
    return stage.judgements[size.judgement].requirement


def test_spaces_of_what_is_not_met_or_open_are_shown_in_full() -> None:
    for shape in by_role("space"):
        verdicts = {row.verdict for row in rows_of(shape)}
        assert (shape.layer == SPACES) == (verdicts != {"met"})
    assert {s.item for s in by_role("space") if s.layer == SPACES} == {"LP1", "CP1"}


def test_of_spaces_that_are_met_those_for_work_are_shown_the_others_wait() -> None:
    shown = {layer.id: layer.shown for layer in LAYERS}
    assert (shown[SPACES], shown[WORKING_MET], shown[SPACES_MET]) == (True, True, False)
    asked = {
        layer: {
            row.requirement
            for shape in by_role("space")
            if shape.layer == layer
            for row in rows_of(shape)
        }
        for layer in (WORKING_MET, SPACES_MET)
    }
    assert "working-space" in asked[WORKING_MET]
    assert not {"working-space", "battery-gaps"} & asked[SPACES_MET]
    assert "door-swing" in asked[SPACES_MET]


@pytest.mark.parametrize("role", ["space", "footprint"])
def test_what_is_clear_is_quieter_than_what_is_not(role: str) -> None:
    clear = [s for s in by_role(role) if s.layer in {WORKING_MET, SPACES_MET}]
    strong = [s for s in by_role(role) if s.layer == SPACES]
    assert clear
    assert strong
    assert max(s.opacity for s in clear) < 0.5 * min(s.opacity for s in strong)
    if role == "space":
        widths = [max(s.edge_width for s in some) for some in (clear, strong)]
        assert widths[0] < 0.5 * widths[1]


def test_a_space_that_two_rules_ask_for_is_drawn_once_as_the_worse_one_is() -> None:
    """The floor of a space that is not met is asked for with its working space."""
    for made in (STAGE, stage(of="DS1")):
        places = [
            (s.role, s.item, np.round(s.vertices, 4).tobytes())
            for role in ("space", "footprint")
            for s in by_role(role, made)
        ]
        assert len(set(places)) == len(places)
    shared = [s for s in by_role("space") if len(s.judgements) > 1]
    assert shared
    for shape in shared:
        worst = {row.verdict for row in rows_of(shape)} - {"met"}
        assert (shape.layer == SPACES) == bool(worst)


def test_the_spaces_of_a_chosen_item_are_shown_too() -> None:
    chosen = stage(of="DS1")
    own = [s for s in by_role("space", chosen) if s.item == "DS1"]
    assert own
    assert {s.layer for s in own} == {SPACES}
    layers = {s.layer for s in by_role("space") if s.item == "DS1"}
    assert layers == {WORKING_MET, SPACES_MET}


def test_spaces_are_drawn_a_little_smaller_than_they_are() -> None:
    """4 mm a side: LP1 stands 150 deep, its space is 900 deep, 2000 high."""
    points = of_rule("LP1", "working-space", "space").vertices
    assert points[:, 0].min() == pytest.approx(0.154)
    assert points[:, 0].max() == pytest.approx(0.15 + LP1_DEPTH - 0.004)
    assert points[:, 2].min() == pytest.approx(0.004)
    assert points[:, 2].max() == pytest.approx(1.996)


def test_a_footprint_lies_on_the_floor_under_its_space() -> None:
    space, foot = (
        of_rule("LP1", "working-space", role).vertices
        for role in ("space", "footprint")
    )
    assert np.ptp(foot[:, 2]) == pytest.approx(0.0)
    assert 0 < foot[0, 2] < 0.02
    for axis in (0, 1):
        assert foot[:, axis].min() == pytest.approx(space[:, axis].min())
        assert foot[:, axis].max() == pytest.approx(space[:, axis].max())


def test_spaces_that_several_rules_share_are_drawn_once() -> None:
    places = [
        (s.layer, s.item, s.vertices.round(4).tobytes()) for s in by_role("space")
    ]
    assert len(places) == len(set(places))
    shared = of_rule("DS1", "storage", "space")
    asked = {STAGE.judgements[n].requirement for n in shared.judgements}
    assert "working-space" in asked
    for n in shared.judgements:
        assert shared.id in STAGE.judgements[n].shapes


def test_the_space_of_what_is_open_is_dashed() -> None:
    """A box has twelve edges; dashes are many more, on the same lines."""
    assert len(of_rule("LP1", "working-space", "space").edges) == 12
    dashed = of_rule("CP1", "working-space", "space")
    assert len(dashed.edges) > 100
    for axis in range(3):
        ends = dashed.vertices[:, axis].min(), dashed.vertices[:, axis].max()
        assert dashed.edges[:, :, axis].min() == pytest.approx(ends[0])
        assert dashed.edges[:, :, axis].max() == pytest.approx(ends[1])


def test_what_is_in_the_way_is_the_part_inside_the_space() -> None:
    """The crate from x 400 to 800, all of it within LP1's space up to 1400."""
    shape = of_rule("LP1", "working-space", "intrusion")
    assert shape.item == "CRATE"
    assert shape.vertices.min(axis=0) == pytest.approx([0.4, 1.55, 0.0], abs=1e-6)
    assert shape.vertices.max(axis=0) == pytest.approx([0.8, 1.95, 1.4], abs=1e-6)
    assert shape.through
    assert len(shape.edges) == 12


# Dimension lines


def test_a_dimension_line_says_what_is_required_and_what_is_there() -> None:
    (line,) = (
        d for d in STAGE.dimensions if d.short and d.item == "LP1" and d.name == "depth"
    )
    assert math.dist(line.start, line.end) == pytest.approx(LP1_DEPTH)
    reached = math.dist(line.reached_start, line.reached_end)
    assert reached == pytest.approx(LEFT_BY_CRATE)
    assert line.start == line.reached_start
    assert line.brief == "250 mm of 900 mm"
    assert line.brief_other == "9 13/16 in of 3 ft"
    assert math.hypot(*line.aside) == pytest.approx(1.0)
    along = np.subtract(line.end, line.start)
    assert float(along @ line.aside) == pytest.approx(0.0)


def test_only_the_size_that_decides_counts_as_short() -> None:
    """Before a space that is full to its depth width and height are zero as well."""
    short = [d for d in STAGE.dimensions if d.item == "LP1" and d.short]
    # Past the crate, 250 ahead, one gets out of it no wider than that.
    assert {(_requirement(STAGE, d), d.name) for d in short} == {
        ("working-space", "depth"),
        ("dedicated-space", "height"),
        ("entrance", "width"),
    }


def test_of_a_size_that_does_not_decide_only_what_is_required_is_written() -> None:
    """762 mm (30 in): NEC 2023 110.26(A)(2). 50 of it are left beside the crate."""
    (width,) = (
        d
        for d in STAGE.dimensions
        if (d.item, d.name) == ("LP1", "width")
        and _requirement(STAGE, d) == "working-space"
    )
    assert width.provided == "50 mm (1 15/16 in)"
    assert (width.brief, width.brief_other) == ("762 mm", "30 in")


# Door leaves


def test_a_stopped_leaf_stands_where_it_stops() -> None:
    """The crate's face is 250 ahead of the hinge of a leaf 500 wide: sin 30 = 1/2."""
    pivot = STAGE.shape("LP1/leaf-0").pivot
    assert pivot is not None
    assert pivot.reached == pytest.approx(30.0)
    assert pivot.shown == pivot.reached
    assert pivot.required == 90.0
    free = STAGE.shape("DS1/leaf-0").pivot
    assert free is not None
    assert (free.shown, free.reached) == (0.0, 90.0)


@pytest.mark.parametrize("item", ["LP1", "CP1"])
def test_a_leaf_opens_away_from_its_item(item: str) -> None:
    """Hinged left and hinged right, on opposite walls: both swing into the room."""
    leaf = STAGE.shape(f"{item}/leaf-0")
    wide = opened(leaf, 90.0)
    body = STAGE.shape(item)
    middle = body.vertices.mean(axis=0)
    ahead = np.array(body.ahead)
    reach = ((wide.vertices - middle)[:, :2] @ ahead).max()
    half = ((body.vertices - middle)[:, :2] @ ahead).max()
    width = np.ptp(body.vertices[:, 1])
    assert reach - half == pytest.approx(width, abs=0.02)
    hinge = np.array(leaf.pivot.hinge) if leaf.pivot else np.zeros(3)
    assert np.linalg.norm(wide.vertices - hinge, axis=1).max() == pytest.approx(
        np.linalg.norm(leaf.vertices - hinge, axis=1).max()
    )


def test_a_leaf_can_be_shown_at_any_angle() -> None:
    made = scene()
    shown = build_stage(made, check(made), leaves={("DS1", 0): 45.0, ("D1", 0): 10.0})
    for name, angle in (("DS1/leaf-0", 45.0), ("D1/leaf-0", 10.0)):
        pivot = shown.shape(name).pivot
        assert pivot is not None
        assert pivot.shown == angle


@pytest.mark.long
def test_a_personnel_door_opens_outwards_where_it_says_so() -> None:
    leaf = STAGE.shape("D1/leaf-0")
    assert opened(leaf).vertices[:, 1].min() == pytest.approx(-0.9, abs=0.01)
    inwards = dict(scene().written()["room"]["doors"][0], opens="in")
    room = dict(scene().written()["room"], doors=[inwards])
    leaf = stage(room=room).shape("D1/leaf-0")
    assert opened(leaf).vertices[:, 1].max() == pytest.approx(0.9, abs=0.01)


# The room


def area(shape: Shape) -> float:
    a, b, c = (shape.vertices[shape.faces[:, n]] for n in range(3))
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


def test_walls_look_inwards_and_leave_doors_open() -> None:
    """5.0 x 3.0 less the dark band on top, 35 mm, less a door of 0.9 x 2.1."""
    south, north = STAGE.shape("wall-south"), STAGE.shape("wall-north")
    assert area(north) == pytest.approx(5.0 * 2.965)
    assert area(south) == pytest.approx(5.0 * 2.965 - 0.9 * 2.1)
    for wall, inwards in ((south, 1.0), (north, -1.0)):
        assert wall.one_sided
        assert wall.ahead == (0.0, inwards)
        a, b, c = wall.vertices[wall.faces[0]]
        assert np.sign(np.cross(b - a, c - a)[1]) == inwards


def test_the_dark_band_is_open_at_the_door() -> None:
    """80 mm wide about the room, past both corners, less the door of 0.9."""
    assert area(STAGE.shape("wall-north/cut")) == pytest.approx(5.16 * 0.08)
    assert area(STAGE.shape("wall-south/cut")) == pytest.approx((5.16 - 0.9) * 0.08)


def test_head_height_is_where_the_working_spaces_end() -> None:
    marks = [s for s in STAGE.shapes if s.layer == "head-height"]
    assert len(marks) == 4
    for shape in marks:
        assert np.unique(shape.edges[..., 2]).tolist() == [2.0]


def test_a_place_outdoors_has_ground_and_the_walls_it_needs() -> None:
    yard = stage(use="outdoor", room={"size": [5000, 4000]}, items=ITEMS[:1])
    walls = {s.item for s in yard.shapes if s.kind == "wall" and s.role == "surface"}
    assert walls == {"wall-west"}
    ground = yard.shape("floor").vertices
    assert ground[:, 0].min() == 0.0
    assert ground[:, 0].max() > 5.0
