"""Scenes made in Python meet the same checks, and say what is wrong with them."""

from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import ValidationError

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.item import Item
from model3d.scene.lesson import Lesson, Step
from model3d.scene.mistakes import Mistake, SceneError, dotted, found
from model3d.scene.placement import At, AtWall, Over
from model3d.scene.room import Room, RoomDoor
from model3d.scene.salvage import usable
from model3d.scene.scene import Origin, Scene
from model3d.scene.text.reader import read_scene

ROOM = Room(size=(4, 3), height=2.7)
PANEL = Item(
    id="LP1",
    kind="panelboard",
    size=(0.5, 0.15, 0.9),
    place=AtWall(wall="west", along=1.5, bottom="900 mm"),
)
PIPE = Item(id="CW1", kind="pipe", from_=(0, 0, 2), to=(4, 0, 2), diameter=0.1)


def _scene(*items: Item, room: Room | None = ROOM, rules: str = "nec-2023") -> Scene:
    return Scene(title="Made", units="m", rules=rules, room=room, items=items)


def test_a_good_scene() -> None:
    scene = _scene(PANEL, PIPE)
    assert scene.file is None
    assert scene.folder == Path()
    assert scene.items[1].from_ == (0.0, 0.0, 2.0)
    assert scene.written()["items"][1]["from"] == (0.0, 0.0, 2.0)


def test_every_mistake_is_named_at_once() -> None:
    over = Item(id="WW1", kind="wireway", size=(1, 1, 1), place=Over(over="CW1"))
    lost = Item(id="LP1", kind="pad", size=(1, 1, 1), place=AtWall(wall="up", along=0))
    with pytest.raises(ValidationError) as caught:
        _scene(PANEL, PIPE, over, lost, rules="nec-1897")
    said = str(caught.value)
    assert 'rules: found "nec-1897", right is a rule book' in said
    assert 'items[2].place.over: found "CW1", a run' in said
    assert 'items[3].id: found "LP1" again' in said
    assert 'items[3].place.wall: found "up", right is north' in said


def test_a_room_and_its_doors() -> None:
    door = RoomDoor(id="D1", wall="east", along=2.5, width=0.9, height=2.1)
    with pytest.raises(ValidationError, match=r"room.doors\[0\].along: found 2.5 and"):
        _scene(room=Room(size=(4, 3), height=2.7, doors=(door,)))
    with pytest.raises(ValidationError, match="right is counter-clockwise"):
        _scene(room=Room(outline=((0, 0), (0, 1), (1, 0)), height=2.7))
    with pytest.raises(ValidationError, match="room: found nothing, right is a room"):
        _scene(room=None)


def test_a_lesson() -> None:
    lesson = Lesson(title="L", steps=(Step(say="s", expect={"X": "met"}),))
    with pytest.raises(ValidationError, match=r"expect.X: found \"X\", right is an id"):
        Scene(title="T", units="m", rules="nec-2023", room=ROOM, lesson=lesson)


def test_an_item_by_itself() -> None:
    with pytest.raises(ValidationError, match=r"\(nearest: panelboard\)"):
        Item(id="A", kind="panelbord")
    with pytest.raises(ValidationError, match="a length above zero"):
        Item(id="A", kind="pad", size=(1, 1, 0))
    with pytest.raises(ValidationError, match="Extra inputs"):
        At.model_validate({"at": (0, 0), "faceing": "south"})
    assert Item.model_validate({"id": 7, "kind": "pad"}).id == "7"


def test_items_do_not_change() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        PANEL.kind = "pad"  # type: ignore[misc]


def test_files_are_looked_for_in_the_folder(
    monkeypatch: pytest.MonkeyPatch, good_folder: Path
) -> None:
    mesh = Item(id="M", kind="obstacle", mesh="block.stl")
    with pytest.raises(ValidationError, match="right is a file that is there"):
        _scene(mesh)
    monkeypatch.chdir(good_folder)
    assert _scene(mesh, rules="local.toml").items[0].mesh == "block.stl"


def test_the_origin_of_a_scene_is_its_file(good_folder: Path) -> None:
    file = good_folder / "made.yaml"
    data = _scene(PANEL).written() | {"rules": "local.toml"}
    scene = Scene.model_validate(data, context=Origin(file))
    assert scene.file == file
    with pytest.raises(ValidationError, match="right is a file that is there"):
        Scene.model_validate(data, context=Origin(Path("elsewhere") / "made.yaml"))


def test_reader_and_scene_make_the_same_checks(good: Path) -> None:
    scene = read_scene(good)
    assert cross_mistakes(scene, scene.items, scene.lesson, good.parent) == []
    assert Scene.model_validate(scene.written(), context=Origin(good)) == scene


def test_cross_checks_forgive_what_is_no_scene() -> None:
    values: list[object] = [None, 3, "x", [], [3], {"id": []}, [[{}]]]
    for value in values:
        for key in ("room", "items", "lesson", "rules", "use", "units"):
            scene, own = usable(Scene, {key: value})
            assert own
            cross = cross_mistakes(scene, scene.items, scene.lesson, Path())
            assert isinstance(cross, list)


def test_a_mistake_is_one_line() -> None:
    mistake = Mistake("pump.yaml", 14, 5, "LP1", "size[1]", "found -3")
    assert str(mistake) == "pump.yaml:14:5: LP1: size[1]: found -3"
    bare = Mistake("pump.yaml", 1, 1, "", "", "found nothing")
    assert (
        str(SceneError((mistake, bare))) == f"{mistake}\npump.yaml:1:1: found nothing"
    )


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (1.5, "1.5"),
        (float("-inf"), "-.inf"),
        (float("nan"), ".nan"),
        (10**400, "an endless number"),
        ("a" * 50, f'"{"a" * 40}..."'),
        ([], "an empty list"),
        ([1, "a", None], '[1, "a", nothing]'),
        ([[1]], "a list of 1"),
        ((1, 2, 3, 4, 5), "a list of 5"),
        (b"x", "a bytes"),
    ],
)
def test_what_was_found(value: object, words: str) -> None:
    assert found(value) == words


def test_long_keys_are_cut_in_a_path() -> None:
    assert dotted(("items", 0, "k" * 99)) == f"items[0].{'k' * 40}..."


@pytest.mark.parametrize("at_scene", [True, False])
def test_what_is_stated_of_a_place_is_read_wherever_it_stands(
    *, at_scene: bool
) -> None:
    said = {"lighting": {"control": "both"}, "high_voltage_separated": False}
    room = {"size": (4, 3), "height": 2.7, **({} if at_scene else said)}
    head = {"title": "Made", "units": "m", "rules": "nec-2023", "room": room}
    scene = Scene.model_validate({**head, **(said if at_scene else {})})
    stated = scene.stated
    assert stated.lighting is not None
    assert stated.lighting.control == "both"
    assert stated.high_voltage_separated is False
    assert stated.access_opening is None
