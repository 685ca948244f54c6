"""What the window makes of shapes and signs: cut faces, places, what a press means."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.viewer.window.window_rooms import blocked, find, stage
from viewer.sheet.projection import Projection
from viewer.stage import palette
from viewer.stage.drawn import Shape
from viewer.stage.looking.cuts import AXES, Section
from viewer.window.bodies import caps
from viewer.window.carried_signs import asked_at, carried, drawn, placed
from viewer.window.state import State, begun, cut_open, pick, push_cut

CORNERS = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], float)
BOX_FACES = np.array(
    [
        *((0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1)),
        *((2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)),
    ]
)
SIZE = (960, 700)


def _box(size: tuple[float, float, float]) -> Shape:
    vertices = CORNERS * size
    return Shape(
        id="B",
        item="B",
        layer="gear",
        role="solid",
        kind="obstacle",
        about="",
        vertices=vertices,
        faces=BOX_FACES,
        edges=vertices[np.array([(0, 1), (0, 2), (0, 4)])],
        colour="#808080",
        edge_colour=palette.EDGE,
    )


def _area(shape: Shape) -> float:
    a, b, c = (shape.vertices[shape.faces[:, n]] for n in range(3))
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


@pytest.mark.parametrize(
    ("axis", "area"), [("x", 2.0 * 3.0), ("y", 1.0 * 3.0), ("z", 1.0 * 2.0)]
)
def test_a_cut_box_is_closed_by_its_cross_section(axis: str, area: float) -> None:
    # Elementary geometry: across an edge the section of a box is the other two.
    section = Section(axis, 0.5)  # type: ignore[arg-type]
    cap, hatch = caps([_box((1.0, 2.0, 3.0))], section)
    assert len(hatch.edges) > 3
    assert hatch.edges[..., AXES.index(section.axis)] == pytest.approx(0.5)
    assert _area(cap) == pytest.approx(area, rel=1e-6)
    place = cap.vertices[cap.faces.ravel()][:, AXES.index(section.axis)]
    assert place == pytest.approx(0.5, abs=1e-6)
    around = np.linalg.norm(cap.edges[:, 1] - cap.edges[:, 0], axis=1).sum()
    sides = [size for name, size in zip("xyz", (1, 2, 3), strict=True) if name != axis]
    assert around == pytest.approx(2 * sum(sides), rel=1e-6)
    assert cap.role == "cut"


def test_what_a_plane_does_not_cross_is_not_closed() -> None:
    for at in (4.0, 1.0, 0.0):  # beyond the box, and along its faces
        assert list(caps([_box((1.0, 2.0, 3.0))], Section("x", at))) == []


def test_an_open_surface_has_no_inside_to_show() -> None:
    box = _box((1.0, 2.0, 3.0))
    section = Section("z", 1.0)
    assert len(list(caps([box], section))) == 2
    for missing in range(0, 12, 2):
        faces = np.delete(BOX_FACES, [missing, missing + 1], axis=0)
        if missing < 8:
            assert list(caps([replace(box, faces=faces)], section)) == []


def test_a_space_that_must_be_clear_is_not_filled() -> None:
    box = _box((1.0, 2.0, 3.0))
    shapes = [replace(box, role="space"), replace(box, opacity=0.2)]
    assert list(caps(shapes, Section("z", 1.0))) == []


def test_so_many_that_nobody_would_wait_stay_hollow() -> None:
    boxes = [_box((1.0, 2.0, 3.0))] * 10_000
    assert list(caps(boxes, Section("z", 1.0))) == []


def test_the_half_nearer_to_the_viewer_is_taken_away() -> None:
    section = Section("y", 1.0)
    points = np.array([(0.0, 0.0, 0.0), (0.0, 2.0, 0.0)])
    from_south, from_north = (0.0, -9.0, 2.0), (0.0, 9.0, 2.0)
    assert (section.cut(from_south).heights(points) > 0).tolist() == [True, False]
    assert (section.cut(from_north).heights(points) > 0).tolist() == [False, True]


def _seen(state: State) -> Projection:
    return Projection(state.aim(SIZE[0] / SIZE[1], (0.0, -1.0, 0.0)), *SIZE)


def test_a_section_takes_signs_away_with_the_near_half() -> None:
    state = begun(stage())
    seen = replace(_seen(state), view=replace(_seen(state).view, eye=(2.0, -9.0, 6.0)))
    everything = {
        item for mark in placed(state, seen, 1.0).marks for item in mark.items
    }
    state = push_cut(cut_open(state, "y"), 0.2)
    left = {item for mark in placed(state, seen, 1.0).marks for item in mark.items}
    assert "S1" in left
    assert {"LP1", "P1"} <= everything - left


def test_signs_carried_by_a_camera_that_rests_stay_where_they_are() -> None:
    state = blocked()
    seen = _seen(state)
    rested = placed(state, seen, 1.0)
    moved = carried(rested, seen)
    assert len(moved.marks) == len(rested.marks) > 3
    for one, other in zip(moved.marks, rested.marks, strict=True):
        if one.look not in {"size", "short-size", "sizes"}:
            # A size's point is on its space, and its line is moved off it.
            assert one.anchor == pytest.approx(other.anchor)
            assert one.box.middle == pytest.approx(other.box.middle)


def test_signs_go_along_with_their_points() -> None:
    """But for the badge of the room as a whole, which points at none."""
    state = blocked()
    seen = _seen(state)
    rested = placed(state, seen, 1.0)
    eye, target = np.array(seen.view.eye), np.array(seen.view.target)
    x, y, z = (target + (eye - target) * 1.5).tolist()
    further = replace(seen, view=replace(seen.view, eye=(x, y, z)))
    moved = carried(rested, further).marks
    for one in moved:
        if one.aims:
            assert one.anchor == pytest.approx(further.pixel(one.point))
    stayed = [one for one in moved if not one.aims]
    assert stayed == [one for one in rested.marks if not one.aims]
    assert [one.items for one in stayed] == [("room",)]


def test_a_number_in_the_picture_picks_its_judgement() -> None:
    state = blocked()
    signs = placed(state, _seen(state), 1.0)
    picked = set()
    for mark in signs.marks:
        change = asked_at(signs, mark.box.middle)
        assert change is not None
        after = change(state)
        if mark.judgements:
            picked |= {*mark.judgements}
            assert after.judgement == mark.judgements[0]
        else:
            assert after.item in mark.items
    numbered = {n for n, one in enumerate(state.stage.judgements) if one.number}
    assert picked == numbered
    assert asked_at(signs, (-5.0, -5.0)) is None


def test_only_what_belongs_to_a_picked_judgement_is_written() -> None:
    state = blocked()
    number = find(state, "LP1", "working-space")
    picked = pick(state, number)
    signs = placed(picked, _seen(picked), 1.0)
    assert {one for mark in signs.marks for one in mark.judgements} == {number}
    assert {item for mark in signs.marks for item in mark.items} <= {"LP1", "S1"}
    assert any("900 mm (3 ft)" in line for mark in signs.marks for line in mark.lines)
    hidden = replace(picked, hidden=frozenset({"badges", "labels", "dimensions"}))
    assert placed(hidden, _seen(picked), 1.0).marks == ()


@pytest.mark.parametrize("fine", [False, True])
def test_signs_are_drawn_on_clear_ground(*, fine: bool) -> None:
    state = blocked()
    pixels = drawn(placed(state, _seen(state), 1.0), SIZE, 1.0, fine=fine)
    assert pixels.shape == (700, 960, 4)
    seen = pixels[..., 3] > 0
    assert 0.001 < seen.mean() < 0.5
    orange = np.abs(pixels[..., :3].astype(int) - palette.channels(palette.INTRUSION))
    assert ((orange.max(axis=2) < 12) & seen).sum() > 60
