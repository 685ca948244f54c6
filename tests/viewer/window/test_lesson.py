"""The lesson in the window: questions first, their answers when asked for."""

from __future__ import annotations

import numpy as np
import pytest

from tests.viewer.window.window_rooms import hurry, window_state
from viewer.stage import palette
from viewer.window.lesson import changes
from viewer.window.shown import shapes_shown, signs_shown
from viewer.window.state import Action, WindowState

FORTH, BACK = Action("step", number=1), Action("step", number=-1)


def _verdicts(state: WindowState) -> set[str]:
    found = {"working-space"}
    return {
        one.verdict
        for verdict in ("not-met", "open", "met")
        for _, one in state.rows(verdict)
        if one.requirement in found
    }


def test_a_question_leaves_the_room_as_it_was_until_the_answer() -> None:
    state = window_state(lesson=True)
    state.do(FORTH)
    assert _verdicts(state) == {"met"}
    state.do(FORTH)
    assert state.is_withheld
    assert _verdicts(state) == set()
    assert _shelf(state) == pytest.approx(2.6)
    state.do(FORTH)
    assert not state.is_withheld
    assert _verdicts(state) == {"not-met"}
    assert _shelf(state) == pytest.approx(0.75)


def _shelf(state: WindowState) -> float:
    """Return how far east the shelf stands, metres."""
    return float(state.stage.shape("S1").vertices[:, 0].mean())


def test_while_a_question_is_open_nothing_of_its_answer_is_there() -> None:
    state = window_state(lesson=True)
    state.do(FORTH)
    before = state.stage
    state.do(FORTH)
    assert state.is_withheld
    same = {one.id: one.vertices for one in before.shapes if one.role != "intrusion"}
    assert {one.id for one in state.stage.shapes} == same.keys()
    for shape in state.stage.shapes:
        assert np.array_equal(shape.vertices, same[shape.id]), shape.id
    assert (state.stage.badges, state.stage.dimensions) == ((), ())
    shown = signs_shown(state, (2.0, -9.0, 6.0))
    assert (shown.badges, shown.sizes) == ((), ())
    assert {one.item for one in shown.labels} == {one.item for one in before.labels}
    roles = {one.role for layer in shapes_shown(state).values() for one in layer}
    assert "intrusion" not in roles
    state.do(Action("item", "LP1"))  # and picking tells nothing either
    assert (state.finding, state.item) == (None, "LP1")
    state.do(Action("next", number=1))
    assert state.finding is None


def test_an_answer_says_what_it_has_changed() -> None:
    state = window_state(lesson=True)
    for _ in range(3):
        state.do(FORTH)
    told = list(changes(state.start, state.place))
    assert "LP1 working space: met → not met" in told
    state.do(FORTH)
    assert "LP1 working space: not met → met" in changes(state.start, state.place)


def test_going_back_shows_answers_and_ends_at_the_start() -> None:
    state = window_state(lesson=True)
    for _ in range(4):
        state.do(FORTH)
    state.do(FORTH)  # there is no further step
    assert state.place.step == 3
    state.do(BACK)
    assert (state.place.step, state.is_withheld) == (2, False)
    assert _verdicts(state) == {"not-met"}
    state.do(BACK)
    state.do(BACK)
    state.do(BACK)
    assert state.place.step == 0
    assert state.stage is state.start


def test_a_step_that_looks_somewhere_aims_the_camera() -> None:
    state = window_state(lesson=True)
    state.aim = None
    state.do(FORTH)
    assert state.aim is not None
    state.aim = None
    state.do(FORTH)
    assert state.aim is None  # it says nothing about where to look


def test_nothing_moves_while_a_question_is_open() -> None:
    state = window_state(lesson=True)
    state.do(FORTH)
    state.do(FORTH)
    state.do(Action("item", "S1"))
    assert state.item == "S1"
    assert not state.can_move
    state.do(FORTH)
    assert state.can_move
    state.do(Action("nudge", "1", 60))
    hurry(state)
    assert _verdicts(state) == {"met"}
    state.do(FORTH)  # and the next step starts from its own scene
    assert state.moving.steps("S1") == (0, 0, 0)


def test_what_is_wrong_by_itself_looks_plain_until_the_answer() -> None:
    state = window_state(lesson=True)
    state.do(FORTH)
    state.do(FORTH)
    strong = {palette.INTRUSION, palette.INTRUSION_EDGE}
    for shape in state.stage.shapes:
        assert not shape.through, shape.id
        assert shape.edge_colour not in strong
