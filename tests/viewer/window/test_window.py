"""What the window knows and does, as data: no graphics are needed here."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import check, read_scene
from tests.viewer.window.virtual_display import ROOT
from tests.viewer.window.window_rooms import blocked, find, stage
from viewer.sheet.projection import Projection
from viewer.stage import build_stage
from viewer.stage.looking.cameras import BEARINGS, corners_of, towards_eye
from viewer.stage.looking.cuts import AXES
from viewer.window.keyboard import CHANGES, KEYS, LESSON
from viewer.window.shown import PICKED, shapes_shown
from viewer.window.state import (
    begun,
    cut_open,
    let_go,
    look_at_all,
    look_from,
    next_layer,
    pick,
    pick_item,
    pick_next,
    push_cut,
    toggle_layer,
    turn_to,
)

if TYPE_CHECKING:
    from viewer.stage.drawn import Shape
    from viewer.window.state import State

SOUTH = towards_eye(180.0, 20.0)


def _all_shown(state: State) -> list[Shape]:
    return [one for layer in shapes_shown(state).values() for one in layer]


def _spaces(state: State) -> set[str]:
    roles = {"space", "footprint", "intrusion"}
    return {one.id for one in _all_shown(state) if one.role in roles}


def test_a_judgement_is_picked_and_let_go_again() -> None:
    state = begun(stage())
    number = find(state, "LP1", "working-space")
    picked = pick(state, number)
    assert (picked.judgement, picked.item) == (number, "LP1")
    look = state.stage.judgements[number].look
    assert picked.aim(1.6, SOUTH) == look
    assert (let_go(picked).judgement, let_go(picked).item) == (None, None)


def test_picking_a_thing_picks_the_worst_that_is_said_of_it() -> None:
    state = pick_item(blocked(), "S1")
    assert state.item == "S1"
    assert state.picked is not None
    assert state.picked.verdict == "not-met"
    assert "S1" in state.picked.in_the_way
    assert pick_item(blocked(), "LP1").picked == state.picked


def test_a_thing_that_no_rule_speaks_of_is_picked_all_the_same() -> None:
    state = begun(stage())
    picked = pick_item(state, "P1")
    assert (picked.item, picked.judgement) == ("P1", None)
    view = picked.aim(1.6, SOUTH)
    back = np.subtract(view.eye, view.target)
    assert back / np.linalg.norm(back) == pytest.approx(SOUTH)
    assert picked.stage.shape("P1").vertices.min(axis=0)[0] < view.target[0]


def test_judgements_are_stepped_through_and_around() -> None:
    state = blocked()
    count = len(state.stage.judgements)
    verdicts = []
    now = state
    for _ in range(count):
        now = pick_next(now, by=1)
        assert now.picked is not None
        verdicts.append(now.picked.verdict)
    assert [one.verdict for one in state.stage.judgements] == verdicts
    assert verdicts[0] == "not-met"
    assert pick_next(now, by=1).judgement == 0
    assert pick_next(state, by=-1).judgement == count - 1


def test_only_the_spaces_of_the_picked_judgement_are_drawn() -> None:
    state = begun(stage())
    number = find(state, "LP1", "dedicated-space")
    own = set(state.stage.judgements[number].shapes)
    assert not _spaces(state) & own  # most of what is met is hidden at first
    assert _spaces(pick(state, number)) == own
    open_layer = replace(state, hidden=state.hidden - {"spaces-met"})
    assert _spaces(open_layer) > own


def test_what_is_picked_is_drawn_over_itself_and_marked() -> None:
    state = begun(stage())
    before = shapes_shown(state)
    after = shapes_shown(pick_item(state, "LP1"))
    marked = {shape.id: shape for shape in after[PICKED]}
    plain = state.stage.shape("LP1")
    assert marked["LP1"].colour != plain.colour
    assert marked["LP1"].lift > plain.lift
    assert after["gear"] == before["gear"]


def test_layers_in_which_nothing_changes_stay_the_very_same() -> None:
    state = blocked()
    before, after = shapes_shown(state), shapes_shown(pick_item(state, "P1"))
    spaces = {"spaces", "working-spaces-met", "spaces-met", "intrusions"}
    still = before.keys() - spaces
    assert {"room", "gear", "leaves", "overhead"} <= still
    for name in still:
        assert all(a is b for a, b in zip(before[name], after[name], strict=True))


def test_a_layer_is_chosen_hidden_and_shown() -> None:
    state = turn_to(begun(stage()), "layers")
    layers = [layer.id for layer in state.stage.layers]
    for _ in range(layers.index("other")):
        state = next_layer(state, by=1)
    assert "other" in shapes_shown(state)
    hidden = toggle_layer(state)
    assert "other" not in shapes_shown(hidden)
    assert "other" in shapes_shown(toggle_layer(hidden))
    closed = turn_to(state, "layers")
    assert closed.panel == "judgements"
    assert toggle_layer(closed) is closed  # what is not seen cannot be chosen
    assert next_layer(closed, by=1) is closed


def test_a_section_is_made_moved_inside_the_room_and_closed() -> None:
    state = cut_open(begun(stage()), "x")
    assert state.section is not None
    assert state.section.at == pytest.approx(2.0)
    assert push_cut(state, 0.25).section == replace(state.section, at=3.0)
    for by, end in ((-9.0, 0.0), (9.0, 4.0)):
        pushed = push_cut(state, by)
        assert pushed.section is not None
        assert pushed.section.at == pytest.approx(end, abs=0.01)
    assert cut_open(state, "x").section is None
    closed = begun(stage())
    assert push_cut(closed, 0.1) is closed


def test_a_section_starts_through_what_is_picked() -> None:
    state = pick_item(begun(stage()), "LP1")
    body = state.stage.shape("LP1").vertices
    for number, axis in enumerate(AXES):
        section = cut_open(state, axis).section
        assert section is not None
        low, high = body[:, number].min(), body[:, number].max()
        assert section.at == pytest.approx((low + high) / 2, abs=0.01)
        assert section != cut_open(begun(stage()), axis).section


def test_a_section_lies_in_no_face_of_a_solid() -> None:
    state = cut_open(begun(stage()), "x")
    solids = [one for one in state.stage.shapes if one.role == "solid"]
    faces = {x for one in solids for x in one.vertices[:, 0].tolist() if 0 < x < 4}
    assert state.section is not None
    assert len(faces) >= 3
    for face in faces:
        moved = push_cut(state, (face - state.section.at) / 4.0).section
        assert moved is not None
        away = min(abs(moved.at - other) for other in faces)
        assert away > 1e-4
        assert abs(moved.at - face) < 0.01


@pytest.mark.parametrize("name", ["south-east", "north", "above"])
@pytest.mark.parametrize("aspect", [0.9, 1.6])
def test_the_whole_room_is_seen_from_each_side(name: str, aspect: float) -> None:
    state = look_from(begun(stage()), name)
    view = state.aim(aspect, SOUTH)
    back = np.subtract(view.eye, view.target)
    towards = back / np.linalg.norm(back)
    if name == "above":
        assert towards == pytest.approx([0.0, 0.0, 1.0], abs=1e-6)
    else:
        bearing = np.degrees(np.arctan2(towards[0], towards[1])) % 360
        assert bearing == pytest.approx(BEARINGS[name], abs=1e-6)
    _holds(state, view_aspect=aspect)
    _holds(look_at_all(state), view_aspect=aspect)


def _holds(state: State, view_aspect: float) -> None:
    # Projection is what still pictures are drawn by.
    view = state.aim(view_aspect, SOUTH)
    points = corners_of((0.0, 0.0, 0.0), (4.0, 3.0, 2.8))
    x, y = Projection(view, round(1000 * view_aspect), 1000).pixels(points).T
    assert 0 < x.min() < x.max() < 1000 * view_aspect
    assert 0 < y.min() < y.max() < 1000


def test_the_first_view_is_one_in_which_the_trouble_is_seen() -> None:
    state = blocked()
    assert _bearing(state) == pytest.approx(142.0)
    # Nothing stands between the south-east corner and the panel on the west wall.
    screen = _block(state.stage.shape("S1"), (1.0, 0.2, 0.0), (1.1, 2.6, 2.7))
    hidden = replace(state.stage, shapes=(*state.stage.shapes, screen))
    assert _bearing(begun(hidden)) != pytest.approx(142.0, abs=1.0)


def _bearing(state: State) -> float:
    view = state.aim(1.6, SOUTH)
    east, north, _ = np.subtract(view.eye, view.target)
    return float(np.degrees(np.arctan2(east, north)) % 360)


def test_what_stands_before_a_picked_judgement_is_seen_through() -> None:
    state = blocked()
    number = find(state, "LP1", "working-space")
    look = state.stage.judgements[number].look
    eye, target = np.array(look.eye), np.array(look.target)
    middle = eye + (target - eye) * 0.5
    screen = _block(state.stage.shape("S1"), middle - 0.4, middle + 0.4)
    shapes = (*state.stage.shapes, screen)
    state = replace(state, stage=replace(state.stage, shapes=shapes))
    assert _drawn(state, "screen").opacity == 1.0
    state = pick(state, number)
    assert _drawn(state, "screen").opacity < 0.5
    assert _drawn(state, "S1").opacity == 1.0  # it is what is in the way


def _drawn(state: State, shape: str) -> Shape:
    return next(one for one in _all_shown(state) if one.id == shape)


def _block(like: Shape, low: object, high: object) -> Shape:
    """Return a shape of the same make, with other corners and another name."""
    ends = like.vertices.min(axis=0), like.vertices.max(axis=0)
    share = (like.vertices - ends[0]) / (ends[1] - ends[0])
    vertices = np.asarray(low) + share * np.subtract(high, low)  # type: ignore[call-overload]
    return replace(like, id="screen", item="screen", vertices=vertices)


def test_a_wall_in_the_way_is_known_by_the_wall() -> None:
    state = blocked()
    wall = next(one for one in state.stage.shapes if one.one_sided)
    hit = next(one for one in state.stage.shapes if one.role == "intrusion")
    hit = replace(hit, id="hit", item=wall.item)
    shapes = (*state.stage.shapes, hit)
    state = replace(state, stage=replace(state.stage, shapes=shapes))
    shown = _drawn(state, "hit")
    assert shown.ahead == wall.ahead
    assert _drawn(state, "hit") is shown


def test_a_faint_thing_lies_behind_what_it_touches() -> None:
    state = begun(stage())
    shelf = state.stage.shape("S1")
    faint = replace(shelf, id="faint", opacity=0.3)
    shapes = (*state.stage.shapes, faint)
    state = replace(state, stage=replace(state.stage, shapes=shapes))
    assert _drawn(state, "S1").lift == shelf.lift
    assert _drawn(state, "faint").lift == shelf.lift - 1


def test_every_key_that_is_told_of_asks_for_something() -> None:
    names = {"[": "bracketright", "]": "bracketleft", "Space": "space"}
    names |= {"Esc": "Escape", "X": "x", "Y": "y", "Z": "z", "L": "l", "K": "k"}
    by_mouse, last = KEYS[:3], KEYS[-1]
    assert [shown for shown, _ in by_mouse] == ["drag", "wheel", "click"]
    assert last == ("Q", "close the window")
    assert LESSON in KEYS
    told = set()
    for shown, _ in KEYS[3:-1]:
        if shown == "1 to 8, 9":
            told |= {str(number) for number in range(1, 10)}
        else:
            told |= {
                names.get(one, one) for one in shown.replace(" and ", ", ").split(", ")
            }
    assert told == CHANGES.keys() - {"ISO_Left_Tab"}
    state = begun(stage(lesson=True))
    for change in CHANGES.values():
        state = change(state)


def test_a_room_in_which_all_is_met_is_stepped_through_too() -> None:
    room = read_scene(ROOT / "scenes" / "clean-small-room.yaml")
    state = begun(build_stage(room, check(room)))
    assert {one.verdict for one in state.listed} == {"met"}
    assert pick_next(state, by=1).judgement == 0
