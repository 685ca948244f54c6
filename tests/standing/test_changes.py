"""Changes give a new scene; a moved item ends up exactly where it was sent.

Where an item stands is asked of the arrangement, which knows nothing of moving.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from model3d.scene.checks.crosschecks import changed_mistakes, cross_mistakes
from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import (
    AddItem,
    Change,
    MoveItem,
    OpenLeaf,
    RemoveItem,
    SetItem,
    changed_fields,
)
from model3d.scene.text.reader import read_scene
from model3d.standing.arrangement import arrange
from model3d.standing.changes import ChangeError, apply_change
from tests.paths import ROOT

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.scene.scene import Scene

FOLDER = Path(__file__).parents[1] / "scene" / "good"
SCENES = {
    path.stem: read_scene(path)
    for path in sorted(FOLDER.iterdir())
    if path.suffix in {".yaml", ".json"}
}
PLACED = [
    (name, item.id)
    for name, scene in SCENES.items()
    for item in scene.items
    if item.place is not None or item.from_ is not None
]
STEPS = st.integers(-4000, 4000).map(lambda eighth: eighth / 8)
PIPE = {
    "id": "P9",
    "kind": "pipe",
    "from": [0, 0, 0],
    "to": [0, 0, 1],
    "diameter": "2 in",
}


def _change(**written: object) -> Change:
    change: Change = TypeAdapter[Change](Change).validate_python(written)
    return change


def _bounds(scene: Scene) -> dict[str, NDArray[np.float64]]:
    return {
        name: np.array(placed.solid.bounds)
        for name, placed in arrange(scene).items.items()
        if placed.item is not None
    }


def _leans_on(scene: Scene, own_id: str) -> set[str]:
    on = {own_id}
    for _ in scene.items:
        on |= {
            item.id
            for item in scene.items
            for key in ("stands_on", "over", "under")
            if getattr(item.place, key, None) in on
        }
    return on


@pytest.mark.long
@given(st.sampled_from(PLACED), st.tuples(STEPS, STEPS, STEPS))
@settings(deadline=None, max_examples=120)
def test_a_moved_item_is_displaced_by_the_vector(
    which: tuple[str, str], by: tuple[float, float, float]
) -> None:
    scene, own_id = SCENES[which[0]], which[1]
    before = _bounds(scene)
    after = _bounds(apply_change(scene, MoveItem(move=own_id, by=by)))
    vector = np.array([scene.metres(length) for length in by])
    moved = _leans_on(scene, own_id)
    for name, bounds in before.items():
        expected = bounds + vector if name in moved else bounds
        np.testing.assert_allclose(after[name], expected, atol=1e-9, rtol=0)


@pytest.mark.parametrize(("name", "own_id"), PLACED)
def test_a_move_and_its_contrary_leave_nothing(name: str, own_id: str) -> None:
    scene = SCENES[name]
    there = apply_change(scene, MoveItem(move=own_id, by=(1, -2, 3)))
    back = apply_change(there, MoveItem(move=own_id, by=(-1, 2, -3)))
    expected = _bounds(scene)
    for item, bounds in _bounds(back).items():
        np.testing.assert_allclose(bounds, expected[item], atol=1e-9, rtol=0)


def test_the_words_of_a_place_stay() -> None:
    scene = SCENES["pump-station"]
    moved = apply_change(scene, MoveItem(move="LP1", by=(0, "1 in", 0)))
    # On the west wall, seen from inside, the left end is the south one.
    place = moved.items[3].model_dump(exclude_unset=True)["place"]
    assert place == {"wall": "west", "along": 1525.4, "bottom": 900}
    moved = apply_change(scene, MoveItem(move="LP1", by=(20, 0, 100)))
    place = moved.items[3].model_dump(exclude_unset=True)["place"]
    assert place == {"wall": "west", "along": 1500, "bottom": 1000, "gap": 20}
    moved = apply_change(scene, MoveItem(move="WW1", by=(30, 0, 0)))
    assert moved.items[4].model_dump(exclude_unset=True)["place"] == {
        "over": "LP1",
        "gap": 50,
        "align": "back",
        "shift": (0.0, 30.0, 0.0),
    }


def test_what_does_not_move_stays_as_it_was_written() -> None:
    scene = SCENES["drafting"]
    moved = apply_change(scene, MoveItem(move="2", by=(0, 0, 2)))
    written = moved.items[0].model_dump(exclude_unset=True)["place"]
    assert written == {"wall": "wall-4", "along": "6 in", "top": 80.0, "gap": 1}


def test_a_mesh_in_its_own_coordinates_is_shifted() -> None:
    scene = SCENES["yard"]
    moved = apply_change(scene, MoveItem(move="ROCK", by=("500 mm", 0, -1)))
    assert moved.items[1].shift == (1.5, 2.0, -1.0)
    assert moved.items[1].place is None


def test_set_changes_and_null_takes_away() -> None:
    scene = SCENES["lesson"]
    change = _change(set="DS1", size=[1, 2, 3], working_space=None, why=None)
    after = apply_change(scene, change)
    assert after.items[2].size == (1.0, 2.0, 3.0)
    assert after.items[2].working_space == "auto"
    assert after.items[2].why is None
    assert after.items[:2] == scene.items[:2]
    assert scene.items[2].size == (300.0, 150.0, 500.0)
    run = SetItem(set="WW1", fields={"size": None, "place": None, **_run()})
    assert apply_change(scene, run).items[1].from_ == (0.0, 0.0, 0.0)


def _run() -> dict[str, object]:
    return {"from_": (0, 0, 0), "to": (1, 0, 0), "diameter": 1}


def test_add_remove_and_open() -> None:
    scene = SCENES["pump-station"]
    more = apply_change(scene, _change(add=PIPE))
    assert [item.id for item in more.items] == [*(i.id for i in scene.items), "P9"]
    less = apply_change(more, RemoveItem(remove="P9"))
    assert less.items == scene.items
    assert less == apply_change(less, OpenLeaf(open="MSB", to=90, leaf=1))
    assert less == apply_change(less, OpenLeaf(open="D1", to=90))


def test_the_changed_scene_has_its_file_and_tells_no_lesson() -> None:
    scene = SCENES["lesson"]
    assert scene.lesson is not None
    after = apply_change(scene, RemoveItem(remove="WW1"))
    assert after.file == scene.file == FOLDER / "lesson.yaml"
    assert after.lesson is None


def test_every_step_of_a_lesson_can_be_taken() -> None:
    scene = SCENES["lesson"]
    assert scene.lesson is not None
    now = scene
    for step in scene.lesson.steps:
        for change in step.do:
            now = apply_change(now, change)
    assert [item.id for item in now.items] == ["LP1", "DS1", "CW1"]
    assert now.items[1].door == "left"


@pytest.mark.parametrize(
    ("written", "error", "message"),
    [
        ({"remove": "X"}, ChangeError, "right is the id of an item"),
        ({"move": "X", "by": [0, 0, 0]}, ChangeError, "right is the id of an item"),
        ({"set": "X", "size": [1, 1, 1]}, ChangeError, "right is the id of an item"),
        ({"open": "X", "to": 1}, ChangeError, "right is the id of an item"),
        ({"set": "LP1", "id": "LP2"}, ChangeError, "found a new id"),
        ({"add": {**PIPE, "id": "CW1"}}, ChangeError, "right is an id of its own"),
        ({"add": {**PIPE, "id": "D1"}}, ValidationError, "right is an id of its own"),
        ({"set": "LP1", "size": [0, 1, 1]}, ValidationError, "a length above zero"),
        ({"set": "LP1", "sise": [0, 1, 1]}, ValidationError, "sise"),
        ({"remove": "PAD1"}, ValidationError, 'found "PAD1", right is the id'),
        (
            {"set": "LP1", "place": {"over": "WW1"}},
            ValidationError,
            "found a circle, LP1 on WW1 on LP1",
        ),
    ],
)
def test_changes_that_cannot_be(
    written: dict[str, object], error: type[Exception], message: str
) -> None:
    scene = SCENES["pump-station"]
    with pytest.raises(error, match=message):
        apply_change(scene, _change(**written))


def test_add_from_python_is_the_item_itself() -> None:
    scene = SCENES["field"]
    item = scene.items[0].model_copy(update={"id": "DS2"})
    assert apply_change(scene, AddItem(add=item)).items == (scene.items[0], item)


def test_set_changes_the_scene_its_room_and_its_doors() -> None:
    scene = SCENES["pump-station"]
    assert scene.room is not None
    after = apply_change(scene, _change(set="scene", rules="nec-2017", installed=None))
    assert (after.rules, after.installed, after.items) == (
        "nec-2017",
        None,
        scene.items,
    )
    lit = apply_change(after, _change(set="scene", lighting={"control": "both"}))
    assert lit.stated.lighting is not None
    assert lit.stated.lighting.control == "both"
    higher = apply_change(lit, _change(set="room", height=4000))
    assert higher.room is not None
    assert (higher.room.height, higher.room.doors) == (4000.0, scene.room.doors)
    opened = apply_change(higher, _change(set="D1", opens="in", hardware=None))
    assert opened.room is not None
    (door,) = opened.room.doors
    assert (door.opens, door.hardware, door.width) == ("in", None, 900.0)
    assert opened.file == scene.file


@pytest.mark.parametrize(
    ("written", "error", "message"),
    [
        ({"set": "scene", "units": "in"}, ChangeError, "found units of the scene"),
        ({"set": "scene", "rules": None}, ValidationError, "rules"),
        ({"set": "room", "hight": 4000}, ValidationError, "hight"),
        ({"set": "room", "size": [1000, 1000]}, ValidationError, "inside the wall"),
        ({"set": "D1", "id": "D2"}, ChangeError, "found a new id for D1"),
        ({"set": "D1", "along": 9000}, ValidationError, "a door inside the wall"),
    ],
)
def test_changes_of_a_place_that_cannot_be(
    written: dict[str, object], error: type[Exception], message: str
) -> None:
    with pytest.raises(error, match=message):
        apply_change(SCENES["pump-station"], _change(**written))


FIELDS: list[dict[str, Any]] = [
    {"size": [1e9, 100, 100]},
    {"size": None},
    {"place": {"wall": "nowhere", "along": 0}},
    {"place": {"wall": "north", "along": 10}},
    {"place": {"over": "WW1", "gap": 50}},
    {"place": {"stands_on": "gone"}},
    {"place": {"at": [1000, 1000]}},
    {"place": None},
    {"from": [0, 0, 0], "to": [100, 0, 0], "diameter": 50, "size": None, "place": None},
    {"doors": [{"hinge": "left", "width": 5000}]},
    {"mesh": "gone.glb"},
    {"kind": "storage"},
    {"name": "other"},
    {"handle": 9000},
]


@pytest.mark.parametrize("fields", FIELDS, ids=str)
@pytest.mark.parametrize("example", ["pump-station", "battery-room", "scanned-pump"])
def test_a_changed_scene_is_refused_for_what_all_of_it_is_refused_for(
    example: str, fields: dict[str, Any]
) -> None:
    """The outside source is the check of the whole, which knows of no change."""
    scene = read_scene(ROOT / "scenes" / f"{example}.yaml")
    for item in scene.items:
        try:
            new = Item.model_validate(changed_fields(item.written(), fields))
        except ValidationError:
            continue
        items = tuple(new if one is item else one for one in scene.items)
        alone = changed_mistakes(scene, scene.items, items, scene.folder)
        assert alone == cross_mistakes(scene, items, None, scene.folder)
