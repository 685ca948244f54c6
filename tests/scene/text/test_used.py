"""Which files a scene uses, told from its text, against the scenes of the examples."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from model3d import read_scene
from model3d.scene.text.used import files_used
from tests.paths import SCENES

if TYPE_CHECKING:
    from pathlib import Path

FILES = ("a.glb", "gear/b.stl", "book.toml", "gear/types.yaml", "other.yaml")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with files that scenes may name."""
    (tmp_path / "gear").mkdir()
    for name in FILES:
        (tmp_path / name).write_bytes(b"")
    gear = {"units": "mm", "types": {"pump": {"kind": "machine", "mesh": "b.stl"}}}
    (tmp_path / "gear" / "types.yaml").write_text(json.dumps(gear), encoding="utf-8")
    return tmp_path


def _used(folder: Path, text: str, *more: str) -> set[str]:
    return {*files_used(text.encode(), folder / "room.yaml", more)}


@pytest.mark.long
def test_every_example_names_what_it_reads() -> None:
    for file in sorted(SCENES.rglob("*.yaml")):
        if file.name == "gear.yaml":
            continue
        scene = read_scene(file)
        read = {item.mesh for item in scene.items if item.mesh} | {*scene.types_from}
        read |= {scene.rules} if scene.rules.endswith(".toml") else set()
        assert read <= {*files_used(file.read_bytes(), file)}


@pytest.mark.parametrize(
    ("text", "used"),
    [
        ("items: [{mesh: a.glb}]", {"a.glb"}),
        ("items: [{points: a.glb}]", {"a.glb"}),
        ("rules: book.toml", {"book.toml"}),
        ("rules: nec-2023", set()),
        ("types_from: gear/types.yaml", {"gear/types.yaml", "gear/b.stl"}),
        ("types_from: [other.yaml]", {"other.yaml"}),
        ("types: {t: {mesh: gear/b.stl}}", {"gear/b.stl"}),
        ("lesson: {steps: [{add: {mesh: a.glb}}]}", {"a.glb"}),
        ("items: &a [{mesh: a.glb}]\nother: *a", {"a.glb"}),
        ('items: [{"m\\x65sh": a.glb}]', {"a.glb"}),
        ('"r\\u0075les": "book\\x2etoml"', {"book.toml"}),
        ("items: [{mesh: gone.glb}, {mesh: ../a.glb}, {mesh: /a.glb}]", set()),
        ("items: [{mesh: [a.glb]}]", set()),
        ("items: [{mesh: a.glb}", set()),
        ("# mesh: a.glb", set()),
        ("", set()),
    ],
)
def test_names_are_told_wherever_they_stand(
    folder: Path, text: str, used: set[str]
) -> None:
    assert _used(folder, text) == used


def test_names_that_are_asked_for_are_looked_at_too(folder: Path) -> None:
    assert _used(folder, "title: x", "book.toml", "nec-2023") == {"book.toml"}


def test_what_is_no_text_uses_nothing(folder: Path) -> None:
    data: Any = b"\xff mesh: a.glb"
    assert files_used(data, folder / "room.yaml") == ()
