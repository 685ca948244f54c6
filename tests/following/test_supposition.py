"""What would be judged of a changed scene is what a check of that scene judges.

The outside source is ``check``, which knows nothing of what was before.
"""

from __future__ import annotations

import random
from itertools import product
from typing import TYPE_CHECKING, Final

import pytest

from model3d import Scene, check
from model3d.check import situate
from model3d.following.claims import Following
from model3d.judging.systems import answers
from model3d.rules import entrance, question, second_entrance
from model3d.scene.parts.lesson import MoveItem, SetItem
from model3d.standing.changes import ChangeError, apply_change
from tests.independent.random_rooms import random_room
from tests.scenes import examples

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.parts.lesson import Change

QUICK: Final = ("feet-and-inches", "one-way-out")
FEW: Final = 4


def _changes(scene: Scene, draw: random.Random) -> Iterator[Scene]:
    """Yield the scene after one change each, moves and other sizes and doors."""
    unit = {"mm": 1.0, "m": 0.001, "in": 1 / 25.4, "ft": 1 / 304.8}[scene.units]
    names = sorted(item.id for item in scene.items)
    items = {item.id: item for item in scene.items}
    for name in draw.sample(names, k=min(FEW, len(names))):
        by = [draw.choice([-400, -60, 0, 35, 300]) * unit for _ in "xyz"]
        change: Change = MoveItem(move=name, by=(by[0], by[1], abs(by[2])))
        item = items[name]
        if item.size is not None and draw.random() < 0.5:
            wide, deep, high = (scene.metres(length) / 0.001 for length in item.size)
            share = draw.choice([0.5, 0.9, 1.2])
            size = [wide * unit, deep * share * unit, high * unit]
            change = SetItem(set=name, fields={"size": size})
        if item.door is not None and draw.random() < 0.7:
            change = SetItem(set=name, fields={"door": draw.choice(["right", "pair"])})
        try:
            yield apply_change(scene, change)
        except (ChangeError, ValueError):
            continue


def _assert_same(name: str) -> None:
    scene = examples.scene(name)
    following = Following(scene)
    for changed in _changes(scene, random.Random(name)):  # noqa: S311 - repeatable
        assert following.suppose(changed).report == check(changed)
    assert following.followed.report == examples.report(name)
    assert not following.followed.waiting


@pytest.mark.long
@pytest.mark.parametrize("name", QUICK)
def test_a_changed_scene_is_judged_as_if_it_were_new(name: str) -> None:
    _assert_same(name)


@pytest.mark.many
@pytest.mark.parametrize("name", sorted({*examples.NAMES} - {*QUICK}))
def test_every_example_room_is_judged_as_if_it_were_new(name: str) -> None:
    _assert_same(name)


@pytest.mark.long
def test_one_rule_at_one_item_is_asked_alone_by_the_figures_that_count() -> None:
    scene = examples.scene("pump-station")
    following = Following(scene)
    supposed = following.suppose(
        apply_change(scene, MoveItem(move="PB1", by=(-20, 0, 0)))
    )
    for found in (supposed.seems, supposed.judge):
        (judged,) = found("working-space", "LP1")
        assert judged.verdict == "met"
    (still,) = supposed.judge("door-swing", "PCP1")
    assert still.verdict == "not-met"


@pytest.mark.long
@pytest.mark.parametrize("seed", range(6))
def test_a_way_that_is_met_for_certain_is_met(seed: int) -> None:
    _assert_met(seed)


@pytest.mark.many
@pytest.mark.parametrize("seed", range(6, 300))
def test_in_many_rooms_a_way_that_is_met_for_certain_is_met(seed: int) -> None:
    _assert_met(seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(6))
def test_a_way_past_a_leaf_that_is_met_for_certain_is_met(seed: int) -> None:
    _assert_met(seed, "in")


@pytest.mark.many
@pytest.mark.parametrize("seed", range(6, 300))
def test_in_many_rooms_a_way_past_a_leaf_that_is_met_is_met(seed: int) -> None:
    _assert_met(seed, "in")


def _assert_met(seed: int, opens: str = "out") -> None:
    plain = random_room(seed)
    way = {"opens": opens, "hinge": "left", "opens_to": 110}
    door = {"id": "D1", "wall": "north", "along": 300, "width": 900, "height": 2100}
    doors = [door | way]
    if opens == "in" and seed % 3:
        # Another door, whose leaf is in nobody's way.
        doors.append(door | {"id": "D2", "wall": "south", "opens": "out"})
    high = max(plain["room"]["height"], 2100)
    plain["room"] |= {"height": high, "doors": doors}
    plain["items"] = plain["items"][: 4 + seed % 12]
    for item in plain["items"]:
        if item["kind"] == "switchboard" and seed % 2:
            # Large equipment, of which a second way out is asked.
            item["size"] = [2000, *item["size"][1:]]
            item["supply"] = {"system": "480Y/277", "amps": 1600}
    situation = situate(Scene.model_validate(plain))
    for rule, item in product((entrance, second_entrance), situation.items):
        if rule.is_met(item, situation):
            found = answers(question(rule, item), situation)
            assert all(one.verdict == "met" for one in found)
