"""What a good file becomes, and that it survives being written and read again.

The meaning of plain words is YAML 1.2.2, 10.3 (core schema); the rest is the scene
format.
"""

from __future__ import annotations

import datetime as dt
import json
from typing import TYPE_CHECKING

import pytest

from model3d.scene.parts.item import AskedSpace
from model3d.scene.parts.lesson import AddItem, MoveItem, OpenLeaf, RemoveItem, SetItem
from model3d.scene.parts.part import Part
from model3d.scene.parts.placement import At, AtWall, Over, StandsOn, Under
from model3d.scene.text.reader import SceneError, read_scene, read_text

if TYPE_CHECKING:
    from pathlib import Path

HEAD = "title: T\nunits: mm\nrules: nec-2023\nroom: {size: [9, 9], height: 9}\n"


def test_written_and_read_again_it_is_the_same(good: Path) -> None:
    scene = read_scene(good)
    again = read_text(scene.model_dump_json(by_alias=True, exclude_unset=True), good)
    assert again == scene
    plain = read_text(json.dumps(scene.model_dump(mode="json", by_alias=True)), good)
    assert plain.written().keys() >= scene.written().keys()
    assert plain.items == scene.items


def test_the_samples_use_every_key(good_folder: Path) -> None:
    used: set[tuple[type[Part], str]] = set()

    def walk(value: object) -> None:
        if isinstance(value, Part):
            used.update((type(value), name) for name in value.model_fields_set)
            for name in value.model_fields_set:
                walk(getattr(value, name))
        elif isinstance(value, tuple):
            for part in value:
                walk(part)

    for path in good_folder.iterdir():
        if path.suffix in {".yaml", ".json"}:
            walk(read_scene(path))
    parts = {part for part, _ in used}
    wanted = {(part, name) for part in parts for name in part.model_fields}
    unused = {f"{part.__name__}.{name}" for part, name in wanted - used}
    # A part is of a GLB file: tests/standing/test_mesh_in_box.py makes one.
    assert unused <= {"Item.part", "StandsOn.align", "StandsOn.shift", "Over.shift"}
    assert len(parts) > 20


def test_the_file_is_kept(good: Path) -> None:
    scene = read_scene(str(good))
    assert scene.file == good
    assert scene.folder == good.parent


def test_the_example_of_the_format(good_folder: Path) -> None:
    scene = read_scene(good_folder / "pump-station.yaml")
    assert scene.title == "Harbour pump station, electrical room"
    assert scene.installed == dt.date(2024, 5, 1)
    assert scene.room is not None
    assert scene.room.walls == {
        "north": "concrete",
        "east": "concrete",
        "south": "gypsum",
        "west": "brick",
    }
    assert scene.room.doors[0].hardware == "panic"
    board, pad, transformer, panel, wireway, pipe = scene.items
    assert isinstance(board.place, AtWall)
    assert board.doors is not None
    assert [leaf.offset for leaf in board.doors] == [0.0, 800.0]
    assert board.supply is not None
    assert board.supply.volts == 277
    assert isinstance(pad.place, At)
    assert isinstance(transformer.place, StandsOn)
    assert transformer.place.stands_on == "PAD1"
    assert panel.door == "left"
    assert isinstance(wireway.place, Over)
    assert wireway.place.gap == 50
    assert pipe.from_ == (0.0, 3900.0, 2600.0)
    assert scene.metres(114) == 0.114


def test_numbers_name_items_wherever_they_stand(good_folder: Path) -> None:
    scene = read_scene(good_folder / "drafting.yaml")
    assert [item.id for item in scene.items] == ["2", "3", "4"]
    assert isinstance(scene.items[1].place, Under)
    assert scene.items[1].place.under == "2"
    assert isinstance(scene.items[2].working_space, AskedSpace)
    assert scene.room is not None
    assert scene.room.doors[0].id == "1"
    rows = "items:\n  - {id: 007, kind: pad, size: [1, 1, 1], place: {at: [0, 0]}}\n"
    lesson = "lesson: {title: L, steps: [{say: s, expect: {7: met}, look: {at: 7}}]}\n"
    told = read_text(HEAD + rows + lesson, "numbers.yaml")
    assert told.items[0].id == "7"
    assert told.lesson is not None
    assert told.lesson.steps[0].expect == {"7": "met"}


def test_a_lesson_holds_every_change(good_folder: Path) -> None:
    lesson = read_scene(good_folder / "lesson.yaml").lesson
    assert lesson is not None
    changes = [change for step in lesson.steps for change in step.do]
    assert {type(change) for change in changes} == {
        SetItem,
        MoveItem,
        RemoveItem,
        AddItem,
        OpenLeaf,
    }
    first = changes[0]
    assert isinstance(first, SetItem)
    assert first.fields == {"size": [1200, 320, 150]}
    assert first.model_dump() == {"set": "WW1", "size": [1200, 320, 150]}


def test_words_of_older_yaml_are_words() -> None:
    # YAML 1.1 took yes, no, on and off for booleans; 1.2 does not.
    scene = read_text(f"{HEAD}use: yes\nmeasures: si\n", "x.yaml")
    assert scene.use == "yes"
    for word in ("~", "null", "Null", "NULL", ""):
        assert read_text(f"{HEAD}measures: {word}\n", "x.yaml").measures is None


@pytest.mark.parametrize(
    ("word", "value"),
    [
        *(("12", 12.0), ("+12", 12.0), ("012", 12.0), ("0x1F", 31.0), ("0o17", 15.0)),
        *(("1.", 1.0), (".5", 0.5), ("12e03", 12_000.0), ("685.230_15", None)),
        *(("190:20:30", None), ("0b11", None), ("!!float 3", 3.0), ("!!str 3", "3")),
        *(("'3 in'", "3 in"), ("! 3", "3"), ("!!int 3", 3.0)),
    ],
)
def test_numbers_are_those_of_yaml_1_2(word: str, value: float | str | None) -> None:
    text = f"{HEAD}survey_tolerance: {word}\n"
    if value is None:
        with pytest.raises(SceneError, match="right is a length"):
            read_text(text, "x.yaml")
    else:
        assert read_text(text, "x.yaml").survey_tolerance == value


def test_a_byte_order_mark_and_other_line_ends(tmp_path: Path) -> None:
    path = tmp_path / "scene.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + HEAD.replace("\n", "\r\n").encode())
    assert read_scene(path).title == "T"
    path.write_bytes(b"\xef\xbb\xbf" + b"title: T\r\nunit: mm\r\nrules: nec-2023\r\n")
    with pytest.raises(SceneError, match=r":2:1: unit: found the unknown key"):
        read_scene(path)


def test_anchors_may_be_used_again(good_folder: Path) -> None:
    scene = read_scene(good_folder / "lesson.yaml")
    assert scene.items[0].supply == scene.items[2].supply


def test_a_mistake_in_an_alias_is_where_the_alias_is() -> None:
    rows = (
        "items:\n"
        "  - {id: A, kind: pad, size: &s [1, 1, 1], place: &p {at: [1, 1]}}\n"
        "  - {id: B, kind: pipe, from: *s, to: [2, 1, 1], diameter: 1, place: *p}\n"
    )
    with pytest.raises(SceneError) as caught:
        read_text(HEAD + rows, "alias.yaml")
    (line,) = str(caught.value).splitlines()
    assert line.startswith("alias.yaml:7:63: B: place: found a place on a run")


def test_leaves_fit_as_long_as_they_touch() -> None:
    row = "items: [{{id: A, kind: ups, size: [{}, 1, 9], place: {{at: [1, 1]}}, {}}}]\n"
    doors = "doors: [{hinge: left, width: 500.1}]"
    assert read_text(HEAD + row.format(500, doors), "x.yaml").items[0].doors
    with pytest.raises(SceneError, match="a leaf inside the front"):
        read_text(HEAD + row.format(499.9, doors), "x.yaml")


def test_a_cell_may_stand_higher_than_its_rack() -> None:
    row = (
        "items: [{id: R, kind: battery-rack, size: [900, 900, 500],"
        " place: {at: [1, 1]}, tiers: [{shelf: 500, cells: 1, cell: [1, 1, 900]}]}]\n"
    )
    assert read_text(HEAD + row, "x.yaml").items[0].tiers


def test_a_use_of_ones_own_is_a_use() -> None:
    assert read_text(f"{HEAD}use: boat-shed\n", "x.yaml").use == "boat-shed"
