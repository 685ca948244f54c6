"""Scenes made in Python meet the same checks, and say what is wrong with them."""

from __future__ import annotations

from pathlib import Path

import pytest
from pydantic import ValidationError

from model3d import run_lesson
from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.faults.salvage import usable
from model3d.scene.parts.item import Item, Leaf
from model3d.scene.parts.lesson import Lesson, Step
from model3d.scene.parts.placement import At, AtWall, Over
from model3d.scene.parts.room import Room, RoomDoor
from model3d.scene.scene import Origin, Scene
from model3d.scene.text.reader import read_scene
from model3d.scene.words.mistakes import Mistake, SceneError, dotted, found

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
    with pytest.raises(SceneError) as caught:
        _scene(PANEL, PIPE, over, lost, rules="nec-1897")
    said = str(caught.value).splitlines()
    assert len(said) == len(caught.value.mistakes) == 4
    assert said[0].startswith('rules: found "nec-1897", right is a rule book')
    assert said[1] == 'LP1: id: found "LP1" again, right is an id of its own'
    assert said[2].startswith('WW1: place.over: found "CW1", a run, right is')
    assert said[3].startswith('LP1: place.wall: found "up", right is north')


def test_a_room_and_its_doors() -> None:
    door = RoomDoor(id="D1", wall="east", along=2.5, width=0.9, height=2.1)
    with pytest.raises(SceneError, match=r"^D1: along: found 2.5 and"):
        _scene(room=Room(size=(4, 3), height=2.7, doors=(door,)))
    with pytest.raises(SceneError, match="right is counter-clockwise"):
        _scene(room=Room(outline=((0, 0), (0, 1), (1, 0)), height=2.7))
    with pytest.raises(SceneError, match="room: found nothing, right is a room"):
        _scene(room=None)


def test_a_lesson() -> None:
    lesson = Lesson(title="L", steps=(Step(say="s", expect={"X": "met"}),))
    with pytest.raises(SceneError, match=r"expect.X: found \"X\", right is an id"):
        Scene(title="T", units="m", rules="nec-2023", room=ROOM, lesson=lesson)


def test_an_item_by_itself() -> None:
    with pytest.raises(SceneError, match=r"\(nearest: panelboard\)"):
        Item(id="A", kind="panelbord")
    with pytest.raises(SceneError, match="a length above zero"):
        Item(id="A", kind="pad", size=(1, 1, 0))
    with pytest.raises(
        SceneError, match=r'At\.faceing: found the unknown key "faceing"'
    ):
        At(at=(0, 0), faceing="south")  # type: ignore[call-arg]
    assert Item.model_validate({"id": 7, "kind": "pad"}).id == "7"


def test_items_do_not_change() -> None:
    with pytest.raises(AttributeError, match="kind: a part of a scene does not change"):
        PANEL.kind = "pad"  # type: ignore[misc]


def test_files_are_looked_for_in_the_folder(
    monkeypatch: pytest.MonkeyPatch, good_folder: Path
) -> None:
    mesh = Item(id="M", kind="obstacle", mesh="block.stl")
    with pytest.raises(SceneError, match=r"^M: mesh: found .* right is a file that is"):
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
    assert str(mistake) == "pump.yaml:14:5: LP1: size #2: found -3"
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


def test_mistakes_of_an_item_carry_its_id_and_no_word_of_the_library() -> None:
    with pytest.raises(SceneError) as caught:
        Item(id="LP1", kind="panelbord", size=(1, 0, 2), placd=3)  # type: ignore[call-arg]
    assert str(caught.value).splitlines() == [
        'LP1: placd: found the unknown key "placd", right is place',
        (
            'LP1: kind: found "panelbord", right is a kind such as panelboard, pipe or '
            "obstacle (nearest: panelboard)"
        ),
        "LP1: size #2: found 0, right is a length above zero",
    ]
    assert {one.item for one in caught.value.mistakes} == {"LP1"}
    with pytest.raises(SceneError, match=r"^CW1: from: found a list of 2|^CW1: from: "):
        Item(id="CW1", kind="pipe", from_=(1, 2), to=(1, 2, 3), diameter=1)
    with pytest.raises(SceneError, match=r"^Leaf\.width: found -1, right is a length"):
        Leaf(hinge="left", width=-1)
    with pytest.raises(
        SceneError, match=r"^B: place\.over: found \"C\", right is the id"
    ):
        _scene({"id": "B", "kind": "pad", "size": (1, 1, 1), "place": {"over": "C"}})  # type: ignore[arg-type]


def test_parts_of_parts_are_made_by_the_library() -> None:
    """An own way in would be taken for every part of every scene that is read."""
    assert not Scene.__pydantic_custom_init__
    assert not Item.__pydantic_custom_init__


def test_an_item_is_changed_in_a_new_scene() -> None:
    scene = _scene(PANEL, PIPE)
    other = scene.with_item("LP1", size=(0.6, 0.15, 0.9), name="Wide")
    assert other.items[0].size == (0.6, 0.15, 0.9)
    assert other.items[0].place == PANEL.place
    assert scene.items[0] is PANEL
    assert other.with_item("LP1", name=None).items[0].name is None
    pad = Item(id="P", kind="pad", size=(1, 1, 0.1), place=At(at=(2, 1)))
    assert [one.id for one in scene.with_item(pad).items] == ["LP1", "CW1", "P"]
    flat = scene.with_item(pad).with_item("P", size=(1, 1, 1))
    assert flat.items[2].size == (1, 1, 1)
    assert scene.with_item("CW1", from_=(0, 1, 2)).items[1].from_ == (0, 1, 2)
    with pytest.raises(SceneError, match=r'found "LP1a", .* \(nearest: LP1\)'):
        scene.with_item("LP1a", size=(1, 1, 1))
    with pytest.raises(SceneError, match=r"^LP1: place\.wall: found"):
        scene.with_item("LP1", place={"wall": "up", "along": 0})


def test_a_scene_of_a_file_stays_of_it(good_folder: Path) -> None:
    file = good_folder / "made.yaml"
    data = _scene(PANEL).written() | {"rules": "local.toml"}
    scene = Scene.model_validate(data, context=Origin(file))
    assert scene.with_item("LP1", name="A").file == file


def test_what_is_said_of_parts_is_short() -> None:
    scene = _scene(PANEL, PIPE)
    assert repr(scene) == "<Scene 'Made': 2 items, nec-2023>"
    assert repr(scene.items) == (
        "(<Item LP1: panelboard 0.5 x 0.15 x 0.9>, <Item CW1: pipe>)"
    )
    assert repr(scene.room) == "Room(size=(4.0, 3.0), height=2.7)"
    table = scene._repr_html_()
    assert table.count("<tr>") == 3
    assert "<td" in table
    evil = PANEL.model_copy(update={"name": "<script>"})
    assert "<script>" not in _scene(evil)._repr_html_()


def test_the_size_of_a_room_is_told_as_x_and_y() -> None:
    for size in ((4,), (4, 3, 2.7)):
        with pytest.raises(SceneError, match=r"Room.size: found .*, right is x and y"):
            Room(size=size, height=2.7)


def test_what_is_of_another_type_is_told_in_our_words() -> None:
    scene = _scene(PANEL)
    for wrong in (7, {"id": "LP1"}):
        with pytest.raises(SceneError, match=r"right is the id of an item, or an"):
            scene.with_item(wrong)  # type: ignore[arg-type]
    right = r"found a Item, right is a list such as \[\{id: LP1"
    with pytest.raises(SceneError, match=right):
        Scene(title="T", units="m", rules="nec-2023", room=ROOM, items=PANEL)
    with pytest.raises(TypeError, match=r'found "a.yaml", right is a scene: '):
        run_lesson("a.yaml")  # type: ignore[arg-type]
