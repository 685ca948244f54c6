"""A scene that is written as text says the same when it is read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from model3d import SceneError, read_scene, read_text
from model3d.scene.manuscript import entry_lines, scene_text
from tests.paths import LESSONS, ROOMS, SCENES

if TYPE_CHECKING:
    from pathlib import Path

EXAMPLES = [*ROOMS, *sorted(LESSONS.glob("*.yaml"))]
HEAD = {
    "title": "Annex",
    "units": "mm",
    "rules": "nec-2023",
    "room": {"size": [4000, 3000], "height": 2700},
}


@pytest.mark.long
@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_every_example_survives(file: Path) -> None:
    scene = read_scene(file)
    text = scene_text(scene.written())
    assert read_text(text, file).written() == scene.written()
    assert scene_text(read_text(text, file).written()) == text


@pytest.mark.long
@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30))
def test_every_text_survives_here_and_in_the_library(name: str) -> None:
    item = {"id": "A", "kind": "pad", "size": [1, 1, 1], "place": {"at": [2000, 1500]}}
    text = scene_text({**HEAD, "items": [{**item, "name": name}]})
    assert read_text(text, "a.yaml").items[0].name == name
    # PyYAML reads YAML 1.1: there more words are something else than text.
    assert yaml.safe_load(text)["items"][0]["name"] == name


@pytest.mark.long
@given(st.floats(-1e6, 1e6))
def test_every_length_survives(length: float) -> None:
    place = {"wall": "north", "along": length}
    item = {"id": "A", "kind": "pad", "size": [1, 1, 1], "place": place}
    scene = read_text(scene_text({**HEAD, "items": [item]}), "a.yaml")
    assert scene.written()["items"][0]["place"]["along"] == length


def test_notes_of_an_entry_are_comments_of_one_line() -> None:
    lines = entry_lines({"id": "A"}, ["Maker: two\nlines\x1b[31m"])
    assert lines == ["- id: A", "  # Maker: two lines [31m"]


def test_a_scene_is_saved_whole(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    scene = read_scene(SCENES / "pump-station.yaml")
    scene.save(file)
    assert read_scene(file).written() == scene.written()
    assert [one.name for one in tmp_path.iterdir()] == ["room.yaml"]


def test_a_scene_is_saved_as_json(tmp_path: Path) -> None:
    file = tmp_path / "room.json"
    scene = read_scene(SCENES / "pump-station.yaml")
    scene.save(file)
    assert json.loads(file.read_text("utf-8"))["title"] == scene.title
    assert read_scene(file).written() == scene.written()


def test_a_scene_is_not_saved_away_from_its_files(tmp_path: Path) -> None:
    scene = read_scene(SCENES / "scanned-pump.yaml")
    with pytest.raises(SceneError, match="right is a file that is there"):
        scene.save(tmp_path / "room.yaml")
    assert not [*tmp_path.iterdir()]
