"""What the window makes of shapes: joined bodies, cut faces, poses of the camera."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.viewer.window.window_rooms import window_state
from viewer.sheet.projection import Projection
from viewer.stage import palette
from viewer.stage.cameras import ASPECT
from viewer.stage.parts import Shape
from viewer.window.batches import face_batches, line_batches
from viewer.window.poses import PLAN_ANGLE, Pose, between, pose_of
from viewer.window.section import AXES, Caps, Section
from viewer.window.shown import PICKED, shapes_shown
from viewer.window.state import Action

CORNERS = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], float)
BOX_FACES = np.array(
    [
        *((0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1)),
        *((2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)),
    ]
)


def _box(name: str, size: tuple[float, float, float], **more: object) -> Shape:
    told = {"layer": "gear", "role": "solid", "kind": "obstacle", "label": name}
    told |= {"colour": "#808080", "edge_colour": palette.EDGE}
    vertices = CORNERS * size
    edges = vertices[np.array([(0, 1), (0, 2), (0, 4)])]
    return Shape(
        id=name,
        item=name,
        vertices=vertices,
        faces=BOX_FACES,
        edges=edges,
        **{**told, **more},  # type: ignore[arg-type]
    )


def _area(shape: Shape) -> float:
    a, b, c = (shape.vertices[shape.faces[:, n]] for n in range(3))
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


def test_many_shapes_of_one_layer_become_one_body() -> None:
    shapes = [_box(f"B{n}", (1, 1, 1 + n)) for n in range(500)]
    (batch,) = face_batches(shapes)
    (lines,) = line_batches(shapes)
    assert len(batch.faces) == len(batch.rgb) == len(batch.item) == 500 * 12
    assert batch.items[batch.item[12 * 321]] == "B321"
    corners = batch.vertices[batch.faces[12 * 321 : 12 * 322]]
    assert corners.reshape(-1, 3).max(axis=0) == pytest.approx([1, 1, 322])
    assert len(lines.ends) == len(lines.rgb) == 1500


def test_each_triangle_keeps_the_colour_of_its_shape() -> None:
    shapes = [_box("A", (1, 1, 1), colour="#112233"), _box("B", (1, 1, 1))]
    (batch,) = face_batches(shapes)
    assert batch.rgb[0].tolist() == [0x11, 0x22, 0x33]
    assert batch.rgb[12].tolist() == [0x80, 0x80, 0x80]


def test_shapes_that_are_drawn_another_way_are_kept_apart() -> None:
    shapes = [_box("A", (1, 1, 1)), _box("B", (1, 1, 1), opacity=0.3)]
    assert len(face_batches(shapes)) == 2
    assert len(face_batches([_box("A", (1, 1, 1), opacity=0.0)])) == 0


def test_lines_of_each_wall_vanish_by_themselves() -> None:
    state = window_state()
    lines = line_batches(shapes_shown(state)["room"])
    walls = {line.ahead for line in lines if line.ahead is not None}
    rounded = {(round(x), round(y)) for x, y in walls}
    assert rounded == {(0, -1), (-1, 0), (0, 1), (1, 0)}


def test_a_faint_thing_lies_behind_what_it_touches() -> None:
    shapes = [_box("A", (1, 1, 1)), _box("B", (1, 1, 1), opacity=0.3)]
    lifts = {one.items: one.lift for one in face_batches(shapes)}
    assert lifts == {("A",): 0, ("B",): -1}


def test_what_is_in_the_way_in_a_wall_goes_with_the_wall() -> None:
    own = {"layer": "intrusions", "role": "intrusion"}
    shapes = [
        _box("wall-north", (1, 1, 1), ahead=(0.0, -1.0), **own),
        _box("S1", (1, 1, 1), **own),
    ]
    batches = {one.items: one.ahead for one in face_batches(shapes)}
    assert batches == {("wall-north",): (0.0, -1.0), ("S1",): None}


def test_a_wall_in_the_way_is_known_by_the_wall() -> None:
    state = window_state()
    wall = next(one for one in state.stage.shapes if one.one_sided)
    hit = _box("hit", (1, 1, 1), layer="intrusions", role="intrusion")
    hit = replace(hit, item=wall.item)
    state.stage = replace(state.stage, shapes=(*state.stage.shapes, hit))
    (shown,) = shapes_shown(state)["intrusions"]
    assert shown.ahead == wall.ahead
    assert shapes_shown(state)["intrusions"][0] is shown


@pytest.mark.parametrize(
    ("axis", "area"), [("x", 2.0 * 3.0), ("y", 1.0 * 3.0), ("z", 1.0 * 2.0)]
)
def test_a_cut_box_is_closed_by_its_cross_section(axis: str, area: float) -> None:
    # Elementary geometry: across an edge the section of a box is the other two.
    section = Section(axis, 0.5)  # type: ignore[arg-type]
    normal = section.normal((9.0, 9.0, 9.0))
    (cap,) = Caps().cut([_box("B", (1.0, 2.0, 3.0))], section, normal)
    assert _area(cap) == pytest.approx(area, rel=1e-6)
    place = cap.vertices[cap.faces.ravel()][:, AXES.index(section.axis)]
    assert place == pytest.approx(0.5, abs=1e-6)
    around = np.linalg.norm(cap.edges[:, 1] - cap.edges[:, 0], axis=1).sum()
    sides = [size for name, size in zip("xyz", (1, 2, 3), strict=True) if name != axis]
    assert around == pytest.approx(2 * sum(sides), rel=1e-6)


def test_what_a_plane_does_not_cross_is_not_closed() -> None:
    section = Section("x", 4.0)
    normal = section.normal((9.0, 0.0, 0.0))
    assert list(Caps().cut([_box("B", (1.0, 2.0, 3.0))], section, normal)) == []


def test_an_open_surface_has_no_inside_to_show() -> None:
    box = _box("B", (1.0, 2.0, 3.0))
    hollow = _box("B", (1.0, 2.0, 3.0), role="solid")
    hollow = Shape(**{name: getattr(hollow, name) for name in hollow.__slots__})
    open_top = {name: getattr(box, name) for name in box.__slots__}
    open_top["faces"] = BOX_FACES[2:]
    section = Section("z", 1.0)
    normal = section.normal((0.0, 0.0, 9.0))
    assert len(list(Caps().cut([hollow], section, normal))) == 1
    assert list(Caps().cut([Shape(**open_top)], section, normal)) == []


def test_a_space_that_must_be_clear_is_not_filled() -> None:
    section = Section("z", 1.0)
    normal = section.normal((0.0, 0.0, 9.0))
    shapes = [_box("B", (1, 2, 3), role="space"), _box("C", (1, 2, 3), opacity=0.2)]
    assert list(Caps().cut(shapes, section, normal)) == []


def test_the_half_nearer_to_the_viewer_is_taken_away() -> None:
    section = Section("y", 1.0)
    points = np.array([(0.0, 0.0, 0.0), (0.0, 2.0, 0.0)])
    from_south, from_north = (0.0, -9.0, 2.0), (0.0, 9.0, 2.0)
    kept = section.keeps(points, section.normal(from_south))
    assert kept.tolist() == [False, True]
    kept = section.keeps(points, section.normal(from_north))
    assert kept.tolist() == [True, False]


def test_every_view_of_a_stage_is_seen_as_the_stage_has_it() -> None:
    # Projection is what still pictures are drawn by.
    stage = window_state().stage
    points = np.array([stage.low, stage.high, (1.0, 2.0, 0.5)])
    for view in stage.views:
        again = pose_of(view, ASPECT).view(ASPECT)
        one = Projection(view, 1600, 1000).pixels(points)
        two = Projection(again, 1600, 1000).pixels(points)
        # A plan is seen from very far, not quite in parallel.
        most = 16.0 if view.parallel else 1e-6
        assert np.abs(one - two).max() < most, view.name


def test_a_point_of_the_picture_stays_where_it_is_zoomed() -> None:
    pose = Pose((1.0, 2.0, 0.5), 142.0, 32.0, 4.0)
    nearer = pose.zoomed(1.5, 0.3, -0.2)
    assert nearer.tall == pytest.approx(4.0 / 1.5)
    before = np.array(pose.target) + (pose.right * 0.3 - pose.up * 0.2) * pose.tall
    after = np.array(nearer.target) + (pose.right * 0.3 - pose.up * 0.2) * nearer.tall
    assert before == pytest.approx(after)


def test_a_pull_moves_the_picture_with_the_mouse() -> None:
    pose = Pose((1.0, 2.0, 0.5), 142.0, 32.0, 4.0)
    point = np.array([pose.target])
    moved = pose.shifted(0.1, 0.25)
    x, y = Projection(moved.view(1.6), 1600, 1000).pixels(point)[0]
    assert (x, y) == pytest.approx((900.0, 250.0))


def test_the_camera_turns_about_its_target_and_never_over_the_top() -> None:
    pose = Pose((1.0, 2.0, 0.5), 350.0, 32.0, 4.0)
    turned = pose.turned(0.1, 0.1)
    assert turned.bearing == pytest.approx(8.0)
    assert turned.target == pose.target
    assert turned.away == pytest.approx(pose.away)
    assert pose.turned(0.0, -9.0).elevation == 90.0
    assert math.isclose(float(np.linalg.norm(pose.turned(0, -9).up)), 1.0)


def test_out_of_a_plan_one_turns_into_a_room_with_depth() -> None:
    plan = Pose((0.0, 0.0, 0.0), 180.0, 90.0, 4.0, PLAN_ANGLE)
    assert plan.turned(0.2, 0.0).angle == PLAN_ANGLE
    assert plan.turned(0.0, 0.2).angle > 20.0


def test_a_flight_takes_the_shorter_way_round_and_arrives() -> None:
    start = Pose((0.0, 0.0, 0.0), 350.0, 10.0, 1.0)
    end = Pose((2.0, 0.0, 0.0), 30.0, 50.0, 4.0)
    half = between(start, end, 0.5)
    assert half.bearing == pytest.approx(10.0)
    assert half.tall == pytest.approx(2.0)
    assert half.target == pytest.approx((1.0, 0.0, 0.0))
    assert between(start, end, 0.0) == start
    assert between(start, end, 1.0) == end


def test_a_moved_thing_leaves_other_layers_the_very_same() -> None:
    state = window_state()
    state.do(Action("item", "S1"))
    state.do(Action("form"))
    before = shapes_shown(state)
    state.do(Action("nudge", "2", 7))
    after = shapes_shown(state)
    spaces = {"spaces", "working-spaces-met", "spaces-met", "intrusions"}
    still = before.keys() - spaces - {PICKED}
    assert {"room", "gear", "leaves", "overhead"} <= still
    for name in still:
        assert all(a is b for a, b in zip(before[name], after[name], strict=True))
