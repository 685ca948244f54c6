"""README and DEVELOPERS say what is so: their commands, rooms, code and folders."""

from __future__ import annotations

import json
import re
import runpy
import shutil
from typing import TYPE_CHECKING

import pytest

from model3d import check, read_text
from tests.paths import ROOT
from viewer.cli.main import commands, main

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from model3d import Report

PAGES = ("README.md", "DEVELOPERS.md", "scenes/README.md")
BLOCK = r"```\w+\n(.*?)^```$"
MODE = re.DOTALL | re.MULTILINE
FILE = re.compile(r"`([\w./-]+)`|\]\(([\w./-]+)\)")
FILE_ENDINGS = (".md", ".py", ".toml", ".yaml", ".glb", ".stl")
TO_BE_WRITTEN = "NAME"
"""Stands for a name in the recipes."""
OF_THE_READER = ("room.yaml", ".venv/bin/standclear")
ONE_FILE_EACH = ("model3d/rules", "viewer/cli")
A_DOZEN = 12
AT_THE_DOOR = 18
"""Rooms and files at the top of the model, all of them named in its layers."""
MADE = ("build", "dist", "node_modules", "htmlcov")
"""Folders that tools make."""


def page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def block(mark: str) -> str:
    """Return the code block below an HTML comment of README.md."""
    found = re.search(rf"^<!-- {mark} -->\n{BLOCK}", page("README.md"), MODE)
    assert found, f"README.md has no code block marked {mark}"
    return found[1]


def tutorial(*parts: str) -> Report:
    """Check the room of the tutorial, written in parts."""
    return check(read_text("".join(parts), ROOT / "room.yaml"))


def failed(report: Report) -> set[str]:
    return {one.requirement for one in report.judgements if one.verdict == "not-met"}


def test_tutorial_comes_out_as_it_says() -> None:
    room, heater = block("tutorial: room"), block("tutorial: heater")
    assert not failed(tutorial(room))
    blocked = tutorial(room, heater)
    assert {"working-space", "door-swing"} <= failed(blocked)
    (space,) = blocked.of("LP1", "working-space")
    # 3000 less the panelboard's 146, less the heater's back at 2100 + 250.
    assert space.provided["depth"] == pytest.approx(0.504)
    moved = heater.replace("[1450, 2100]", "[1450, 1700]")
    assert moved != heater
    assert not failed(tutorial(room, moved))


def test_json_is_what_the_tutorial_gives() -> None:
    document = tutorial(block("tutorial: room"), block("tutorial: heater")).document()
    assert json.loads(block("tutorial: json")) in document["judgements"]


def test_python_of_the_readme_runs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    program = tmp_path / "row.py"
    program.write_text(block("tutorial: python"), encoding="utf-8")
    runpy.run_path(str(program))
    printed = capsys.readouterr().out
    # 4 disconnects; the pipe stands 643 in front of the third.
    assert "DS2 working-space not-met P1 is 643 mm" in printed
    for number in (0, 1, 3):
        assert f"DS{number} working-space met" in printed


@pytest.mark.long
def test_aisle_of_the_readme_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Live gear on both sides, 480Y/277: NEC Table 110.26(A)(1), condition 3, 1.2 m."""
    code = block("tutorial: aisle")
    assert len([line for line in code.splitlines() if line]) == 10
    # The room is in the tree; what is drawn goes elsewhere.
    monkeypatch.setenv("MPLBACKEND", "Agg")
    (tmp_path / "scenes").mkdir()
    name = re.findall(r'read_scene\("(.*?)"\)', code)[0]
    shutil.copy(ROOT / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "aisle.py").write_text(code, encoding="utf-8")
    found = runpy.run_path("aisle.py")
    margins = dict(zip(found["aisles"], found["margins"], strict=True))
    assert margins[1200] == pytest.approx(0, abs=0.1)
    assert margins[900] == pytest.approx(-300, abs=0.1)
    assert margins[1400] == pytest.approx(200, abs=0.1)
    picture = (tmp_path / "aisle.png").read_bytes()
    assert picture.startswith(b"\x89PNG")
    assert len(picture) > 5000
    found["pyplot"].close("all")


@pytest.mark.long
def test_output_of_the_readme_is_what_comes_out(
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    *,
    update_golden: bool,
) -> None:
    monkeypatch.chdir(ROOT)
    command = "check scenes/pump-station.yaml"
    assert main(command.split()) == 1
    printed = capsys.readouterr().out.replace("\\", "/").strip() + "\n"
    shown = block(f"output: standclear {command}")
    if update_golden and shown != printed:
        text = page("README.md").replace(
            f"```text\n{shown}```", f"```text\n{printed}```"
        )
        (ROOT / "README.md").write_text(text, encoding="utf-8", newline="\n")
        shown = block(f"output: standclear {command}")
    assert shown == printed


def test_commands_of_the_readme_are_for_every_system() -> None:
    for mark, last in (
        ("check", ".venv/bin/standclear check scenes/pump-station.yaml"),
        ("test", ".venv/bin/python -m tests"),
    ):
        (command,) = block(f"command: {mark}").splitlines()
        assert command.endswith(f"&& {last}")
        *_, there = command.partition("pip install")
        assert there.replace("/", "\\").replace("\\bin\\", "\\Scripts\\") in page(
            "README.md"
        )


@pytest.mark.parametrize("package", ["model3d", "viewer"])
def test_no_floor_of_the_house_has_more_than_a_dozen_rooms(package: str) -> None:
    """Rules and commands are a file each; what stands at the top serves all rooms."""
    for door in (ROOT / package).rglob("__init__.py"):
        floor = door.parent
        rooms = [one.parent for one in floor.glob("*/__init__.py")]
        files = [one for one in floor.glob("*.py") if not one.stem.startswith("_")]
        if floor.relative_to(ROOT).as_posix() in ONE_FILE_EACH:
            files = []
        most = AT_THE_DOOR if floor == ROOT / "model3d" else A_DOZEN
        assert len(rooms) + len(files) <= most, floor


@pytest.mark.parametrize("name", PAGES)
def test_commands_that_are_named_exist(name: str) -> None:
    named = set(re.findall(r"[`/\\]standclear ([a-z]+)", page(name)))
    assert named <= {*commands()}


def files(name: str) -> Iterator[str]:
    for quoted, linked in FILE.findall(page(name)):
        word = quoted or linked
        is_file = word.endswith(FILE_ENDINGS) or (
            "/" in word and not word.endswith("/")
        )
        if linked or (is_file and TO_BE_WRITTEN not in word):
            yield word


@pytest.mark.parametrize("name", PAGES)
def test_files_that_are_named_exist(name: str) -> None:
    home = (ROOT / name).parent
    missing = [
        word
        for word in files(name)
        if word not in OF_THE_READER
        and not any((place / word).exists() for place in (home, ROOT))
    ]
    assert not missing


@pytest.mark.parametrize("name", PAGES)
def test_recipes_name_folders_that_exist(name: str) -> None:
    for word in re.findall(rf"`([\w./-]+)/{TO_BE_WRITTEN}\.", page(name)):
        assert (ROOT / word).is_dir(), word


def test_tree_is_the_folders() -> None:
    """The tree of DEVELOPERS.md has every folder, to the second level."""
    _, _, below = page("DEVELOPERS.md").partition("## The tree\n\n")
    tree = re.match(BLOCK, below, MODE)
    assert tree
    drawn, above = [], ""
    for line in tree[1].splitlines():
        name, _, caption = line.strip().partition("/")
        assert caption.strip(), f"{name} has no caption"
        if line.startswith(" "):
            drawn.append(f"{above}/{name}")
        else:
            above = name
            drawn.append(name)
    assert len(drawn) == len({*drawn})
    there = {".ci", *folders()}
    assert {*drawn} == there, f"in one of the two only: {sorted({*drawn} ^ there)}"


def folders() -> Iterator[str]:
    for folder in ROOT.glob("*/"):
        if kept(folder):
            yield folder.name
            yield from (
                f"{folder.name}/{one.name}" for one in folder.glob("*/") if kept(one)
            )


def kept(folder: Path) -> bool:
    """Tell whether a folder is part of the project: no tool made it."""
    made = folder.name in MADE or folder.name.endswith(".egg-info")
    return folder.is_dir() and not made and not folder.name.startswith((".", "_"))
