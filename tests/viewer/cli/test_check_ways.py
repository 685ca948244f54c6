"""Ways to name what is checked: standard input, patterns, and a file that is watched.

The rooms are invented. What shells do with patterns, and the exit status of what
Ctrl-C ends, 128 and the signal's number, are POSIX.
"""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import subprocess
import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest

from tests.paths import ROOT
from viewer.cli.given import again as watching
from viewer.cli.given.scene_files import scene_files
from viewer.cli.given.target import check_target
from viewer.cli.main import main
from viewer.report.formats import formats
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

SCENE: dict[str, Any] = {
    "title": "Annex",
    "units": "mm",
    "rules": "nec-2023",
    "room": {"size": [5000, 4000], "height": 3000},
}


@pytest.fixture
def room(tmp_path: Path) -> Path:
    file = tmp_path / "room.yaml"
    file.write_text(json.dumps(SCENE), "utf-8")
    return file


def given_on_standard_input(data: bytes, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))


def test_standard_input_is_a_scene(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: Printed
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "local.toml").write_text((ROOT / "scenes/quillhaven.toml").read_text())
    data = json.dumps({**SCENE, "rules": "local.toml"}).encode()
    given_on_standard_input(data, monkeypatch)
    assert main(["check", "-", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["file"], found["scene"]) == ("-", "Annex")


def test_mistakes_on_standard_input_have_their_lines(
    monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    given_on_standard_input(b"title: A\nunits: cubits\n", monkeypatch)
    assert main(["check", "-"]) == 2
    printed = capsys.readouterr()
    assert not printed.out
    assert '-:2:8: units: found "cubits"' in printed.err
    given_on_standard_input(b"\xff", monkeypatch)
    assert main(["check", "-"]) == 2
    assert capsys.readouterr().err.startswith("-:1:1: found the byte 0xFF")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["-", "-"], "-: found standard input twice, right is once"),
        (["-", "--watch"], "-: found standard input with --watch"),
        (["x", "--watch", "-o", "y"], "--watch: found -o beside it"),
        (["x", "--format", "csv", "--mend"], "--mend: found --format csv"),
    ],
)
def test_what_does_not_go_together(
    words: list[str], said: str, capsys: Printed
) -> None:
    assert main(["check", *words]) == 2
    printed = capsys.readouterr()
    assert printed.err.startswith(said)
    assert not printed.out


def test_a_quoted_pattern_says_it_was_not_expanded(room: Path, capsys: Printed) -> None:
    pattern = room.with_name("*.json")
    assert main(["check", str(room), str(pattern)]) == 2
    printed = capsys.readouterr()
    assert printed.err.startswith(f"{pattern}: found a pattern that was not expanded")
    assert not printed.out


def test_on_windows_a_pattern_is_expanded(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room.with_name("a.yaml").write_text(room.read_text())
    odd = room.with_name("[b].yaml")
    odd.write_text(room.read_text())
    monkeypatch.setattr("viewer.cli.given.scene_files._SHELL_EXPANDS", False)
    files, mistakes = scene_files([room.with_name("*.yaml")])
    monkeypatch.undo()
    assert [file.name for file in files] == ["[b].yaml", "a.yaml", "room.yaml"]
    assert not mistakes
    assert scene_files([odd]) == ([odd], [])


def test_a_run_over_a_folder_shows_how_far_it_is(
    room: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    room.with_name("b.yaml").write_text("title: [")
    told: list[tuple[float, str]] = []

    @contextmanager
    def shown() -> Iterator[Callable[[int, int, str], None]]:
        yield lambda done, whole, words: told.append((done / whole, words))

    monkeypatch.setattr("viewer.cli.given.answers.counted", shown)
    assert main(["check", str(room.parent)]) == 2
    shares, words = zip(*told, strict=True)
    assert [*words] == ["0 of 2 rooms", "1 of 2 rooms", "2 of 2 rooms"]
    assert shares[0] == 0 < shares[1] < shares[2] == 1
    told.clear()
    assert main(["check", str(room)]) == 0
    assert not told
    assert "Annex" in capsys.readouterr().out


def rested(steps: list[Callable[[], None]]) -> Callable[[float], None]:
    """Return what does one step at each pause of the watch; then Ctrl-C is pressed."""

    def rest(seconds: float) -> None:
        if seconds < watching.PAUSE:
            return
        if not steps:
            raise KeyboardInterrupt
        steps.pop(0)()

    return rest


def test_watch_checks_again_when_a_file_is_saved(
    room: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    def write(text: str) -> Callable[[], None]:
        def save() -> None:
            room.write_text(text, "utf-8")

        return save

    amended = json.dumps({**SCENE, "title": "Later", "rules": "local.toml"})

    def amend() -> None:
        shutil.copy(ROOT / "scenes/quillhaven.toml", room.with_name("local.toml"))

    steps: list[Callable[[], None]] = [
        lambda: None,
        write("title: ["),
        write(amended),
        amend,
    ]
    monkeypatch.setattr(time, "sleep", rested(steps))
    assert main(["check", str(room), "--watch"]) == 130
    printed = capsys.readouterr()
    titles = [line for line in printed.out.splitlines() if line in {"Annex", "Later"}]
    assert titles == ["Annex", "Later"]
    assert printed.err.count("Watching; Ctrl-C ends it.") == 4
    assert "[ that is not closed" in printed.err
    assert "local.toml" in printed.err


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("a.pdf", r"a page ends in \.html or \.htm, not 'a\.pdf'"),
        ("a", r"a page ends in \.html or \.htm, not 'a'"),
        ("away/a.html", "there is no folder"),
        ("folder.html", "is a folder, right is a file"),
        ("scene.html", "is a scene, right is another file"),
    ],
)
def test_a_file_that_cannot_be_the_output(tmp_path: Path, name: str, said: str) -> None:
    (tmp_path / "folder.html").mkdir()
    scene = tmp_path / "scene.html"
    scene.write_text("title: A")
    with pytest.raises(UnusableError) as caught:
        check_target(tmp_path / name, "a page", ("html", "htm"), [scene])
    (line,) = caught.value.mistakes
    assert re.search(said, line)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["page", "ROOM", "-o", "x.pdf"], "a page ends in .html"),
        (["picture", "ROOM", "-o", "x.pdf"], "a picture ends in .png"),
        (["film", "ROOM", "-o", "x.pdf"], "a film ends in .gif, .webp or .png"),
        (["check", "ROOM", "-o", "no/x"], "there is no folder no"),
        (["mend", "ROOM", "-o", "ROOM"], "is a scene"),
        (["place", "ROOM", "LP1", "-o", "ROOM"], "is a scene"),
        (["schema", "-o", "no/x"], "there is no folder no"),
        (["lesson", "ROOM", "-o", "ROOM"], "is a scene"),
    ],
)
def test_every_command_looks_at_its_output_first(
    words: list[str],
    said: str,
    room: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Printed,
) -> None:
    monkeypatch.chdir(room.parent)
    before = room.read_bytes()
    assert main([str(room) if word == "ROOM" else word for word in words]) == 2
    assert said in capsys.readouterr().err.replace(os.sep, "/")
    assert room.read_bytes() == before
    assert [one.name for one in room.parent.iterdir()] == ["room.yaml"]


def asked(line: str, tmp_path: Path) -> list[str]:
    """Ask what may come next, as the parts that are printed for the shells do."""
    answer = tmp_path / "answer"
    settings = {
        "COMP_LINE": line,
        "COMP_POINT": str(len(line)),
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_IFS": "\n",
        "_ARGCOMPLETE_STDOUT_FILENAME": str(answer),
    }
    subprocess.run(
        [sys.executable, "-m", "viewer.cli"],
        cwd=ROOT,
        env=os.environ | settings,
        check=False,
    )
    return [word.strip() for word in answer.read_text("utf-8").splitlines()]


@pytest.mark.long
def test_a_shell_completes_commands_options_and_rule_books(tmp_path: Path) -> None:
    assert asked("standclear sche", tmp_path) == ["schema"]
    assert set(asked("standclear check --format ", tmp_path)) == {*formats()}
    assert "nec-2023" in asked("standclear check a.yaml --rules nec-20", tmp_path)


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish", "powershell"])
def test_every_shell_has_its_part(shell: str, capsys: Printed) -> None:
    assert main(["completion", shell]) == 0
    printed = capsys.readouterr().out
    assert "standclear" in printed
    # Where its own completion was not begun, zsh knows no compdef: tried in zsh 5.9.
    assert ("&& compinit }" in printed.splitlines()[1]) == (shell == "zsh")


MODELINE = "# yaml-language-server: $schema=../scene.schema.json\n"


@pytest.mark.long
def test_schema_is_linked_in_the_first_line(room: Path, capsys: Printed) -> None:
    folder = room.parent / "rooms"
    folder.mkdir()
    yaml, as_json = folder / "a.yaml", folder / "b.json"
    yaml.write_bytes(
        b"# By hand\r\ntitle: A\r\nunits: ft\r\nrules: nec-2023\r\nuse: outdoor\r\n"
    )
    as_json.write_text(json.dumps(SCENE, indent=2))
    before = yaml.read_bytes()
    schema = room.parent / "scene.schema.json"
    words = ["schema", "-o", str(schema), "--link", str(yaml), str(as_json)]
    for _ in range(2):
        assert main(words) == 0
        assert yaml.read_bytes() == MODELINE.replace("\n", "\r\n").encode() + before
        assert json.loads(as_json.read_text()) == {
            "$schema": "../scene.schema.json",
            **SCENE,
        }
    assert main(["check", str(yaml), str(as_json)]) == 0
    room.write_text("title: A\n")
    assert main(["schema", "-o", str(schema), "--link", str(yaml), str(room)]) == 2
    assert room.read_text() == "title: A\n"
    assert main(["schema", "--link", str(yaml)]) == 2
    assert "right is -o FILE" in capsys.readouterr().err


def test_watch_looks_at_what_lies_in_other_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    for name in ("rooms", "rooms/gear"):
        (tmp_path / name).mkdir()
    gear = tmp_path / "rooms/gear/mine.yaml"
    room = tmp_path / "rooms/room.yaml"

    def written(depth: int) -> Callable[[], None]:
        kind = f"{{kind: machine, size: [500, {depth}, 900]}}"
        text = f"units: mm\ntypes: {{box: {kind}}}\n"

        def save() -> None:
            gear.write_text(text, "utf-8")

        return save

    written(400)()
    place = {"at": [1000, 1000]}
    items = [{"id": "B", "type": "box", "place": place}]
    scene = {**SCENE, "types_from": "gear/mine.yaml", "items": items}
    room.write_text(json.dumps(scene), "utf-8")
    steps: list[Callable[[], None]] = [lambda: None, written(-45), written(4500)]
    monkeypatch.setattr(time, "sleep", rested(steps))
    assert main(["check", str(room), "--watch"]) == 130
    printed = capsys.readouterr()
    assert printed.out.count("Annex\n") == 2
    assert "types.box.size #2: found -45" in printed.err
    assert "as-drawn" in printed.out
