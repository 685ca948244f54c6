"""The lesson in the window: questions first, their answers when asked for."""

from __future__ import annotations

from functools import partial, reduce

import numpy as np
import pytest

from model3d import read_text
from tests.viewer.window.window_rooms import LESSON, ROOM, stage
from viewer.sheet.projection import Projection
from viewer.sheet.signage import Signs
from viewer.stage import palette
from viewer.stage.taught.lesson import lesson_stage
from viewer.stage.taught.lesson_progress import changes
from viewer.window.carried_signs import placed
from viewer.window.division import framed
from viewer.window.shown import shapes_shown
from viewer.window.state import (
    State,
    begun,
    go_on,
    next_layer,
    pick_item,
    pick_next,
    toggle_layer,
    turn_to,
)
from viewer.window.texts import OF_STEP, words

_forth, _back = partial(go_on, by=1), partial(go_on, by=-1)


def _at(steps: int) -> State:
    """Return what the window knows after going on so many times."""
    return reduce(
        lambda state, _: _forth(state), range(steps), begun(stage(lesson=True))
    )


LAYERED = LESSON.replace(
    "    - ask: Now",
    "      # the floor and the shelf alone\n    - ask: Now",
).replace(
    "      expect: {LP1: {working-space: not-met}}",
    "      look: {at: LP1, near: 300, layers: [gear, room, spaces]}\n"
    "      expect: {LP1: {working-space: not-met}}",
)
"""The lesson whose second step shows three layers and goes near."""


def _layered() -> State:
    """Return a window on that lesson whose reader has switched names off."""
    state = turn_to(
        begun(lesson_stage(read_text(ROOM + LAYERED, "room.yaml"))), "layers"
    )
    return _switched(state, "labels")


def _switched(state: State, layer: str) -> State:
    state = state if state.panel == "layers" else turn_to(state, "layers")
    while state.stage.layers[state.row].id != layer:
        state = next_layer(state, by=1)
    return toggle_layer(state)


def _shown(state: State) -> set[str]:
    return {one.id for one in state.stage.layers} - state.hidden


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


def test_a_step_shows_its_layers_and_no_others_and_only_while_it_lasts() -> None:
    state = _layered()
    own = state.hidden
    assert "labels" in own
    first = _forth(state)
    assert (first.hidden, first.own) == (own, None)
    asked = _forth(first)
    assert asked.is_withheld
    assert _shown(asked) == {"gear", "room", "spaces"}
    answered = _forth(asked)
    assert _shown(answered) == {"gear", "room", "spaces"}
    assert set(shapes_shown(answered)) <= {"gear", "room", "spaces"}
    view = answered.aim(1.6, (0.0, -1.0, 0.0))
    assert placed(answered, Projection(view, 960, 600), 1.0) == Signs((), ())
    after = _forth(answered)
    assert (after.hidden, after.own) == (own, None)
    assert _shown(_back(after)) == {"gear", "room", "spaces"}
    assert _back(_back(_back(after))).hidden == own


@pytest.mark.long
def test_what_is_switched_in_a_step_ends_with_it() -> None:
    asked = _forth(_forth(_layered()))
    more = _switched(asked, "labels")
    assert "labels" in _shown(more)
    answered = _forth(more)  # still the same step
    assert "labels" in _shown(answered)
    assert _forth(answered).hidden == _layered().hidden


@pytest.mark.long
def test_the_list_of_layers_says_that_they_are_of_the_step() -> None:
    frame = framed(1600, 1000, lesson=True)
    asked = turn_to(_forth(_forth(_layered())), "layers")
    told = [
        " ".join(one.text for one in words(state, frame, (9.0, -9.0, 6.0)))
        for state in (_layered(), asked)
    ]
    assert [OF_STEP[:20] in one for one in told] == [False, True]


@pytest.mark.long
def test_a_step_that_goes_near_aims_the_camera_nearer() -> None:
    layered, plain = (_forth(_forth(_forth(one))) for one in (_layered(), _at(0)))
    near, far = (one.aim(1.6, (0.0, -1.0, 0.0)) for one in (layered, plain))
    assert near.width < 0.7 * far.width
