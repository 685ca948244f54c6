"""The lesson in the window: questions first, their answers when asked for."""

from __future__ import annotations

from functools import partial, reduce

import numpy as np
import pytest

from tests.viewer.window.window_rooms import stage
from viewer.sheet.projection import Projection
from viewer.stage import palette
from viewer.stage.taught.progress import changes
from viewer.window.shown import shapes_shown
from viewer.window.signs import placed
from viewer.window.state import State, begun, go_on, pick_item, pick_next

_forth, _back = partial(go_on, by=1), partial(go_on, by=-1)


def _at(steps: int) -> State:
    """Return what the window knows after going on so many times."""
    return reduce(
        lambda state, _: _forth(state), range(steps), begun(stage(lesson=True))
    )


def _verdicts(state: State) -> set[str]:
    return {one.verdict for one in state.listed if one.requirement == "working-space"}


def _shelf(state: State) -> float:
    """Return how far east the shelf stands, metres."""
    return float(state.stage.shape("S1").vertices[:, 0].mean())


@pytest.mark.long
def test_a_question_leaves_the_room_as_it_was_until_the_answer() -> None:
    assert _verdicts(_at(1)) == {"met"}
    asked = _at(2)
    assert asked.is_withheld
    assert _verdicts(asked) == set()
    assert _shelf(asked) == pytest.approx(2.6)
    answered = _forth(asked)
    assert not answered.is_withheld
    assert _verdicts(answered) == {"not-met"}
    assert _shelf(answered) == pytest.approx(0.75)


@pytest.mark.long
def test_while_a_question_is_open_nothing_of_its_answer_is_there() -> None:
    before, state = _at(1).stage, _at(2)
    assert state.is_withheld
    same = {one.id: one.vertices for one in before.shapes if one.role != "intrusion"}
    assert {one.id for one in state.stage.shapes} == same.keys()
    for shape in state.stage.shapes:
        assert np.array_equal(shape.vertices, same[shape.id]), shape.id
    assert (state.stage.badges, state.stage.dimensions) == ((), ())
    view = state.aim(1.6, (0.0, -1.0, 0.0))
    signs = placed(state, Projection(view, 960, 600), 1.0)
    assert signs.rules == ()
    assert {mark.look for mark in signs.marks} <= {"name", "strong-name", "faint-name"}
    assert {one.item for one in state.stage.labels} == {
        one.item for one in before.labels
    }
    roles = {one.role for layer in shapes_shown(state).values() for one in layer}
    assert "intrusion" not in roles
    picked = pick_item(state, "LP1")  # and picking tells nothing either
    assert (picked.judgement, picked.item) == (None, "LP1")
    assert pick_next(picked, by=1).judgement is None


@pytest.mark.long
def test_an_answer_says_what_it_has_changed() -> None:
    state = _at(3)
    told = list(changes(state.start, state.place))
    assert ("LP1 working space: met → not met", "not-met") in told
    state = _forth(state)
    told = list(changes(state.start, state.place))
    assert ("LP1 working space: not met → met", "met") in told


@pytest.mark.long
def test_going_back_shows_answers_and_ends_at_the_start() -> None:
    state = _at(5)  # there is no further step
    assert state.place.step == 3
    state = _back(state)
    assert (state.place.step, state.is_withheld) == (2, False)
    assert _verdicts(state) == {"not-met"}
    state = _back(_back(_back(state)))
    assert state.place.step == 0
    assert state.stage is state.start


@pytest.mark.long
def test_a_step_that_looks_somewhere_aims_the_camera() -> None:
    start, first, second = _at(0), _at(1), _at(2)
    assert first.aim is not start.aim
    again = _forth(first)
    assert again.aim is first.aim  # it says nothing about where to look
    assert second.place == again.place


@pytest.mark.long
def test_what_is_picked_stays_so_where_it_is_still_there() -> None:
    state = pick_item(_at(3), "LP1")
    assert state.picked is not None
    later = _forth(state)
    assert later.item == "LP1"
    assert later.picked is not None
    assert later.picked.requirement == state.picked.requirement
    assert (state.picked.verdict, later.picked.verdict) == ("not-met", "met")


def test_what_is_wrong_by_itself_looks_plain_until_the_answer() -> None:
    strong = {palette.INTRUSION, palette.INTRUSION_EDGE}
    for shape in _at(2).stage.shapes:
        assert not shape.through, shape.id
        assert shape.edge_colour not in strong
