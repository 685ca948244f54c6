"""What the window knows and draws, as data: no graphics are needed here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import MeshError, check, read_scene
from model3d.following.claims import Following
from model3d.scene.lesson import MoveItem
from model3d.standing.changes import apply_change
from tests.viewer.window.virtual_display import ROOT
from tests.viewer.window.window_rooms import (
    bring_shelf,
    hurry,
    scene,
    settle,
    window_state,
)
from viewer.stage import build_stage
from viewer.window.keys import asked_by
from viewer.window.moving import MOST
from viewer.window.shown import PICKED, shapes_shown, signs_shown
from viewer.window.state import Action, WindowState

if TYPE_CHECKING:
    from viewer.stage.parts import Shape


def _finding(state: WindowState, subject: str, requirement: str) -> int:
    found = enumerate(state.stage.findings)
    return next(
        n
        for n, one in found
        if (one.subject, one.requirement) == (subject, requirement)
    )


def _verdict(state: WindowState, subject: str, requirement: str) -> str:
    return state.stage.findings[_finding(state, subject, requirement)].verdict


def _intrusions(state: WindowState) -> list[Shape]:
    return [one for one in state.stage.shapes if one.role == "intrusion"]


def test_a_row_is_picked_and_let_go_again() -> None:
    state = window_state()
    number = _finding(state, "LP1", "working-space")
    state.aim = None
    state.do(Action("pick", number=number))
    assert (state.finding, state.item) == (number, "LP1")
    assert state.aim is not None
    state.do(Action("pick", number=number))
    assert (state.finding, state.item) == (None, None)


def test_picking_a_thing_picks_the_worst_that_is_said_of_it() -> None:
    state = window_state()
    bring_shelf(state)
    state.do(Action("nothing"))
    state.do(Action("item", "S1"))
    assert state.item == "S1"
    assert state.picked is not None
    assert state.picked.verdict == "not-met"
    assert "S1" in state.picked.in_the_way


def test_a_thing_that_no_rule_speaks_of_is_picked_all_the_same() -> None:
    state = window_state()
    state.do(Action("item", "P1"))
    assert (state.item, state.finding) == ("P1", None)
    assert state.aim is not None


def test_only_the_spaces_of_the_picked_row_are_drawn() -> None:
    state = window_state()
    number = _finding(state, "LP1", "dedicated-space")
    own = set(state.stage.findings[number].shapes)
    assert not _spaces_drawn(state) & own  # most of what is met is hidden at first
    state.do(Action("pick", number=number))
    assert _spaces_drawn(state) == own
    state.do(Action("nothing"))
    state.do(Action("layer", "spaces-met"))
    assert _spaces_drawn(state) > own


def _spaces_drawn(state: WindowState) -> set[str]:
    layers = shapes_shown(state).values()
    roles = {"space", "footprint", "intrusion"}
    return {one.id for layer in layers for one in layer if one.role in roles}


def test_what_is_picked_is_drawn_apart_and_marked() -> None:
    state = window_state()
    plain = state.stage.shape("LP1").colour
    state.do(Action("item", "LP1"))
    layers = shapes_shown(state)
    picked = {shape.id: shape for shape in layers[PICKED]}
    assert picked["LP1"].colour != plain
    others = [
        one for name, shapes in layers.items() if name != PICKED for one in shapes
    ]
    assert not any(one.id == "LP1" for one in others)


def test_a_layer_is_hidden_and_shown() -> None:
    state = window_state()
    assert "other" in shapes_shown(state)
    state.do(Action("layer", "other"))
    assert "other" not in shapes_shown(state)
    state.do(Action("layer", "other"))
    assert "other" in shapes_shown(state)


def test_moving_a_thing_changes_what_is_said_at_once() -> None:
    state = window_state()
    assert _verdict(state, "LP1", "working-space") == "met"
    bring_shelf(state)
    assert _verdict(state, "LP1", "working-space") == "not-met"
    assert {shape.item for shape in _intrusions(state)} == {"S1"}
    assert any(state.stage.findings[n].requirement == "entrance" for n in state.waiting)


def test_the_body_in_the_way_follows_the_thing() -> None:
    state = window_state()
    bring_shelf(state)
    (before,) = {shape.vertices.mean(axis=0)[1] for shape in _intrusions(state)}
    state.do(Action("nudge", "0", -2))
    hurry(state)
    (after,) = {shape.vertices.mean(axis=0)[1] for shape in _intrusions(state)}
    assert after - before == pytest.approx(-0.02, abs=1e-6)


def test_at_rest_everything_is_as_a_check_of_the_moved_room_says() -> None:
    state = window_state()
    bring_shelf(state)
    settle(state)
    assert not state.waiting
    change = MoveItem(move="S1", by=(-2000, -1050, 0))
    changed = apply_change(scene(), change)
    right = build_stage(changed, check(changed))
    told = [(one.subject, one.title, one.verdict, one.reason) for one in right.findings]
    assert [
        (one.subject, one.title, one.verdict, one.reason)
        for one in state.stage.findings
    ] == told
    assert {shape.id for shape in state.stage.shapes} == {s.id for s in right.shapes}


def test_everything_goes_back_to_where_it_was_written() -> None:
    state = window_state()
    before = state.stage.shape("S1").vertices
    bring_shelf(state)
    state.do(Action("back"))
    assert _verdict(state, "LP1", "working-space") == "met"
    assert np.allclose(state.stage.shape("S1").vertices, before)
    assert not state.moving.changed


def test_moving_again_after_a_rest_goes_on_from_there() -> None:
    state = window_state()
    bring_shelf(state)
    settle(state)
    state.do(Action("nudge", "1", MOST))
    hurry(state)
    assert state.moving.steps("S1") == (-105, 0, 0)
    assert _verdict(state, "LP1", "working-space") == "met"


def test_a_slider_reaches_from_one_end_to_the_other() -> None:
    state = window_state()
    state.do(Action("item", "P1"))
    for share, steps in ((0.0, -MOST), (0.5, 0), (1.0, MOST), (7.0, MOST)):
        state.do(Action("slide", "2", share))
        assert state.moving.steps("P1") == (0, 0, steps)
        assert state.share(2) == pytest.approx(min(share, 1.0))


def test_a_check_that_fails_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    state = window_state()

    def gone(_: object) -> None:
        msg = "pump.glb: is gone"
        raise MeshError(msg)

    monkeypatch.setattr("viewer.window.moving.Following", gone)
    state.do(Action("item", "P1"))
    state.do(Action("nudge", "2", -10))
    settle(state)
    assert "pump.glb: is gone" in state.message
    assert state.waiting


def test_walls_and_doors_of_the_room_do_not_move() -> None:
    state = window_state()
    state.do(Action("item", "D1"))
    assert not state.can_move
    state.do(Action("form"))
    state.do(Action("nudge", "0", 3))
    assert not state.form
    assert not state.moving.changed


def test_a_section_takes_signs_away_with_the_near_half() -> None:
    state = window_state()
    eye = (2.0, -9.0, 6.0)
    everything = {one.item for one in signs_shown(state, eye).labels}
    state.do(Action("axis", "y"))
    state.do(Action("cut", number=0.7))
    left = {one.item for one in signs_shown(state, eye).labels}
    assert "S1" in left
    assert {"LP1", "P1"} <= everything - left
    state.do(Action("axis", "y"))
    assert state.section is None


def test_a_section_stays_inside_the_room() -> None:
    state = window_state()
    state.do(Action("axis", "x"))
    for share, place in ((-1.0, 0.0), (0.25, 1.0), (3.0, 4.0)):
        state.do(Action("cut", number=share))
        assert state.section is not None
        assert state.section.at == pytest.approx(place)
        assert state.cut_share == pytest.approx(min(max(share, 0.0), 1.0))


def test_rows_are_walked_through_and_around() -> None:
    state = window_state()
    bring_shelf(state)
    shown = [n for n, _ in (*state.rows("not-met"), *state.rows("open"))]
    state.do(Action("nothing"))
    state.do(Action("next", number=1))
    assert state.finding == shown[0]
    state.do(Action("next", number=-1))
    assert state.finding == shown[-1]
    state.do(Action("next", number=1))
    assert state.finding == shown[0]


def test_every_key_that_is_told_of_asks_for_something() -> None:
    state = window_state(lesson=True)
    keys = ["Up", "Down", "Left", "Right", "0", "Home", "x", "Y", "z", "m", "L", "k"]
    keys += ["bracketleft", "bracketright", "Escape", "Prior", "Next"]
    keys += [str(n) for n in range(1, 10)]
    for key in keys:
        action = asked_by(key, state, shift=False)
        assert action is not None, key
        state.do(action)
    assert asked_by("Right", state, shift=True) == Action("nudge", "0", 1)
    assert asked_by("F12", state, shift=False) is None


def test_a_room_in_which_all_is_met_lists_what_is() -> None:
    assert not window_state().met_listed  # something is open there
    room = read_scene(ROOT / "scenes" / "clean-small-room.yaml")
    state = WindowState((room,), Following(room))
    assert {one.verdict for one in state.stage.findings} == {"met"}
    assert state.met_listed
