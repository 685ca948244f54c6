"""A room that is followed while things move is judged as if it were new.

The outside source is ``check``, which knows nothing of what moved.
"""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Final

import pytest

from model3d import Report, Scene, check, read_text
from model3d.following.claims import Followed, Following
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.changes import apply_change
from model3d.standing.moves import moved
from tests.scenes import examples

if TYPE_CHECKING:
    from model3d import Judgement

ENDLESS: Final = 1e9
SHELF: Final = """\
title: A panelboard and a shelf
units: mm
rules: nec-2023
premises: new
room:
  size: [4000, 3000]
  height: 2800
  walls: concrete
  doors:
    - {id: D1, wall: east, along: 500, width: 900, height: 2100, opens: out}
items:
  - id: LP1
    kind: panelboard
    size: [500, 150, 900]
    place: {wall: west, along: 1200, bottom: 900}
    supply: {system: 208Y/120, amps: 200}
    door: left
  - {id: WW1, kind: wireway, size: [600, 150, 150], place: {over: LP1, gap: 50}}
  - {id: S1, kind: shelf, size: [400, 400, 600], place: {at: [3000, 2500]}}
  - {id: B1, kind: storage, size: [300, 300, 200], place: {stands_on: S1}}
"""

DRAWN = "as-drawn"


def _moved(scene: Scene, name: str, by: tuple[float, float, float]) -> Scene:
    """Move an item as the window does: the others stay the very same."""
    items = tuple(
        moved(scene, item, by) if item.id == name else item for item in scene.items
    )
    return scene.model_copy(update={"items": items})


def _follow(scene: Scene, name: str, by: tuple[float, float, float]) -> Followed:
    following = Following(scene)
    following.move(_moved(scene, name, by))
    return following.judge(ENDLESS)


def _known(followed: Followed) -> list[Judgement]:
    judgements = enumerate(followed.report.judgements)
    return [one for n, one in judgements if n not in followed.waiting]


def _same(one: Judgement, other: Judgement) -> bool:
    bodies = zip(one.intrusions, other.intrusions, strict=True)
    return (
        one == other
        and one.shapes == other.shapes
        and all(a.low == b.low and a.high == b.high for a, b in bodies)
    )


def _assert_right(followed: Followed, right: Report) -> None:
    known, answers = _known(followed), right.judgements
    for one in known:
        assert any(_same(one, answer) for answer in answers), one
    keys = {(one.subject, one.requirement) for one in known}
    for answer in answers:
        if (answer.subject, answer.requirement) in keys:
            assert any(_same(one, answer) for one in known), answer


@pytest.mark.many
@pytest.mark.parametrize("name", examples.NAMES)
def test_a_room_in_which_things_move_one_after_another(name: str) -> None:
    scene = examples.scene(name)
    following = Following(scene)
    assert following.followed.report == examples.report(name)
    assert not following.followed.waiting
    chance = random.Random(name)  # noqa: S311 - the same moves every time
    by_unit = {"mm": 1.0, "m": 0.001, "in": 1 / 25.4, "ft": 1 / 304.8}[scene.units]
    names = sorted(item.id for item in scene.items)
    for item in chance.sample(names, k=min(3, len(names))):
        by = [chance.choice([-400, -60, 0, 35, 300]) * by_unit for _ in "xyz"]
        try:
            scene = _moved(scene, item, (by[0], by[1], abs(by[2])))
        except ValueError:  # against a wall there is no place behind it
            continue
        following.move(scene)
        _assert_right(following.judge(ENDLESS), check(scene))


def test_what_stands_on_a_moved_thing_goes_with_it() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    followed = _follow(scene, "S1", (-2350, -1050, 0))
    (space,) = followed.report.of("LP1", "working-space")
    assert {hit.item for hit in space.intrusions} == {"S1", "B1"}
    assert space.verdict == "not-met"


def test_what_hangs_over_moved_gear_goes_with_it() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    followed = _follow(scene, "LP1", (0, 300, 0))
    arrangement = followed.report.arrangement
    assert arrangement is not None
    (low, _), (panel, _) = (
        arrangement.items[name].solid.bounds for name in ("WW1", "LP1")
    )
    assert low[1] == pytest.approx(panel[1] - 0.05)
    _assert_right(followed, check(_moved(scene, "LP1", (0, 300, 0))))


def test_the_way_out_waits_and_the_working_space_does_not() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    followed = _follow(scene, "S1", (-2350, -1050, 0))
    waiting = {followed.report.judgements[n].requirement for n in followed.waiting}
    assert "entrance" in waiting
    assert "working-space" not in waiting


@pytest.mark.long
@pytest.mark.parametrize("name", ["LP1", "S1", "B1", "WW1"])
@pytest.mark.parametrize("by", [(0, 0, -900), (-2350, -1050, 0), (900, 900, 300)])
def test_what_cannot_be_as_drawn_is_told_while_it_moves(
    name: str, by: tuple[float, float, float]
) -> None:
    scene = read_text(SHELF, "shelf.yaml")
    following = Following(scene)
    moves = [by, (-by[0], -by[1], -by[2]), (60, 40, 30)]
    for step in moves:
        try:
            scene = _moved(scene, name, step)
        except ValueError:  # against a wall there is no place behind it
            continue
        following.move(scene)
        _assert_right(following.judge(ENDLESS), check(scene))
        told = [one for one in _known(following.followed) if one.requirement == DRAWN]
        right = [one for one in check(scene).judgements if one.requirement == DRAWN]
        assert told == right


def test_nothing_moved_and_nothing_waits() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    following = Following(scene)
    following.move(scene.model_copy())
    assert not following.hurried
    assert not following.followed.waiting


def test_little_time_judges_the_space_something_moves_in_first() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    following = Following(scene)
    before = following.followed.report.of("LP1", "working-space")
    following.move(_moved(scene, "S1", (-2350, -1050, 0)))
    assert following.hurried
    subjects: list[bool] = []
    while following.hurried:
        now = following.judge(0.0).report.of("LP1", "working-space")
        subjects.append(now != before)
    assert any(subjects[:4])
    assert following.followed.report.of("LP1", "working-space")[0].verdict == "not-met"


def test_moving_by_hand_and_by_a_change_come_to_the_same_scene() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    change = MoveItem(move="S1", by=(-2350, -1050, 0))
    assert _moved(scene, "S1", (-2350, -1050, 0)).items == (
        apply_change(scene, change).items
    )


def test_items_that_come_or_go_are_not_followed() -> None:
    scene = read_text(SHELF, "shelf.yaml")
    following = Following(scene)
    with pytest.raises(ValueError, match="added or taken away"):
        following.move(scene.model_copy(update={"items": scene.items[:-1]}))
