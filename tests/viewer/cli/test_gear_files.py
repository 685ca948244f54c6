"""Files of gear and typed items on the command line: passed over, refused, used."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d import read_scene
from model3d.scene.text.reader import known_types
from tests.paths import GEAR, SCENES
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

ROOM = """\
title: Store
units: mm
rules: nec-2023
types_from: gear.yaml
room: {size: [4000, 3000], height: 2700, walls: block}
items:
  - {id: LP1, type: lighting, place: {wall: north, along: 1200, bottom: 900}}   # lights
  - {id: B1, kind: furniture, size: [600, 500, 700], place: {at: [1454, 2300]}}
"""


@pytest.fixture
def room(tmp_path: Path) -> Path:
    said = "kind: panelboard, size: [508, 146, 1000], door: left"
    lighting = f"{{{said}, supply: {{system: 208Y/120}}}}"
    gear = tmp_path / "gear.yaml"
    gear.write_text(f"units: mm\ntypes:\n  lighting: {lighting}\n", encoding="utf-8")
    file = tmp_path / "room.yaml"
    file.write_text(ROOM, encoding="utf-8")
    return file


def test_a_folder_passes_over_gear(room: Path, capsys: Printed) -> None:
    assert main(["check", str(room.parent)]) == 1
    printed = capsys.readouterr()
    assert "Store" in printed.out
    assert "gear.yaml" not in printed.out + printed.err


def test_gear_by_its_name_is_refused_in_a_line(room: Path, capsys: Printed) -> None:
    gear = room.with_name("gear.yaml")
    assert main(["check", str(gear)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line == (
        f"{gear}:1:1: found a file of gear, right is a scene, which names it by "
        "types_from"
    )


def test_a_new_item_may_be_of_a_type(room: Path, capsys: Printed) -> None:
    assert main(["place", str(room), "LP9", "--type", "lighting"]) == 0
    assert "LP9" in capsys.readouterr().out
    assert main(["place", str(room), "LP9", "--type", "lightning"]) == 2
    assert "(nearest: lighting)" in capsys.readouterr().err


def test_what_is_mended_leaves_types_as_they_are(room: Path, capsys: Printed) -> None:
    new = room.with_name("mended.yaml")
    assert main(["mend", str(room), "--take", "1", "--write", str(new)]) == 0
    capsys.readouterr()
    text = new.read_text(encoding="utf-8")
    assert "type: lighting" in text
    assert "# lights" in text
    assert read_scene(new).items != read_scene(room).items
    away = room.parent / "away"
    away.mkdir()
    line = ["mend", str(room), "--take", "1", "--write", str(away / "new.yaml")]
    assert main(line) == 2
    assert "in another folder" in capsys.readouterr().err


def test_generic_gear_says_it_is_common_practice_and_all_of_it_reads() -> None:
    text = GEAR.read_text(encoding="utf-8")
    assert "common practice" in text
    types = known_types(read_scene(SCENES / "rows.yaml"))
    assert len(types) > 10
    for name, said in types.items():
        assert {"kind", "name", "size"} <= said.keys(), name
