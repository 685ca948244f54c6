"""What is no plain file, among the inputs: refused wherever it is, never waited for.

What a pipe, a socket and a device are is POSIX's; the rooms are invented.
"""

from __future__ import annotations

import os
import signal
import socket
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from model3d import SceneError
from model3d.scene.text import file_content
from viewer.cli.given.scene_files import scene_files
from viewer.cli.main import main
from viewer.live.session import LiveRoom

if TYPE_CHECKING:
    from collections.abc import Iterator

Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no such files")

SCENE = """\
title: T
units: mm
rules: nec-2023
room: {size: [5000, 5000], height: 3000}
"""


@pytest.fixture(autouse=True)
def _patience() -> Iterator[None]:
    """End what waits for ever."""

    def end(*_: object) -> None:
        msg = "it waits for what never comes"
        raise TimeoutError(msg)

    before = signal.signal(signal.SIGALRM, end)
    signal.alarm(60)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def refused(capsys: pytest.CaptureFixture[str], *words: str | Path) -> str:
    """Return the one line that is told of what cannot be used."""
    assert main([*map(str, words)]) == 2
    found = capsys.readouterr()
    assert not found.out
    (line,) = found.err.splitlines()
    return line


def strange(folder: Path, kind: str, name: str) -> Path:
    """Make what is no plain file; one behind a link where a word says so."""
    file = folder / name
    made = folder / "there" if kind.startswith("link to ") else file
    match kind.removeprefix("link to "):
        case "pipe":
            os.mkfifo(made)
        case "socket":
            with socket.socket(socket.AF_UNIX) as one:
                one.bind(str(made))
        case "device":
            made = Path("/dev/zero")  # only root makes devices: it is linked to
        case _:
            made.mkdir()
    if file != made:
        file.symlink_to(made)
    return file


KINDS = ("pipe", "socket", "folder", "link to pipe", "link to socket", "link to device")


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "folder"])
def test_as_a_scene(tmp_path: Path, kind: str, capsys: Printed) -> None:
    file = strange(tmp_path, kind, "room.yaml")
    line = refused(capsys, "check", file)
    assert line.endswith("found no plain file, right is a scene file")
    with pytest.raises(SceneError, match="found no plain file"):
        LiveRoom(file)


@pytest.mark.parametrize("kind", KINDS)
def test_in_a_folder(tmp_path: Path, kind: str, capsys: Printed) -> None:
    (tmp_path / "good.yaml").write_text(SCENE)
    strange(tmp_path, kind, "room.yaml")
    if kind == "folder":
        assert main(["check", str(tmp_path)]) == 0
        return
    assert main(["check", str(tmp_path)]) == 2
    found = capsys.readouterr()
    (line,) = found.err.splitlines()
    assert "room.yaml" in line
    assert line.endswith("found no plain file, right is a scene file")
    assert f"{tmp_path / 'room.yaml'}: refused, 1 mistake" in found.out


@pytest.mark.parametrize("kind", KINDS)
def test_as_a_mesh(tmp_path: Path, kind: str, capsys: Printed) -> None:
    scene = tmp_path / "scene.yaml"
    strange(tmp_path, kind, "part.obj")
    scene.write_text(f"{SCENE}items: [{{id: A, kind: obstacle, mesh: part.obj}}]\n")
    assert refused(capsys, "check", scene).startswith(f"{scene}:5:")


@pytest.mark.parametrize("word", ["check", "page", "report", "mend"])
def test_a_link_that_leads_to_itself(
    tmp_path: Path, word: str, capsys: Printed
) -> None:
    loop = tmp_path / "room.yaml"
    loop.symlink_to(loop)
    # It was told as a file that is not there, with itself as the nearest one.
    line = refused(capsys, word, loop)
    assert line.endswith("found a link that leads in a circle, right is a scene file")


@pytest.mark.parametrize(
    ("target", "told"),
    [
        ("next", "a link that leads in a circle"),
        ("gone", "a link that leads to nothing"),
    ],
)
def test_a_link_without_an_end_among_what_is_used(
    tmp_path: Path, target: str, told: str, capsys: Printed
) -> None:
    (tmp_path / "next").symlink_to(tmp_path / "part.obj")
    for name in ("part.obj", "plan.dxf", "model.ifc"):
        (tmp_path / name).symlink_to(tmp_path / target)
    scene = tmp_path / "scene.yaml"
    scene.write_text(f"{SCENE}items: [{{id: A, kind: obstacle, mesh: part.obj}}]\n")
    assert told in refused(capsys, "check", scene)
    for name in ("plan.dxf", "model.ifc"):
        line = refused(
            capsys, "import", tmp_path / name, "--rules", "nec-2023", "-o", "out.yaml"
        )
        assert f"{name}: found {told}, right is" in line


def test_nothing_is_written_to_a_circle_of_links(
    tmp_path: Path, capsys: Printed
) -> None:
    scene, loop = tmp_path / "scene.yaml", tmp_path / "out.json"
    scene.write_text(SCENE)
    loop.symlink_to(loop)
    line = refused(capsys, "check", scene, "--format", "json", "-o", loop)
    assert str(loop) in line
    assert loop.is_symlink()


@pytest.mark.parametrize("kind", ["pipe", "socket", "folder", "link to pipe"])
def test_as_a_rule_book_that_is_asked_for(
    tmp_path: Path, kind: str, capsys: Printed
) -> None:
    (tmp_path / "scene.yaml").write_text(SCENE)
    strange(tmp_path, kind, "town.toml")
    words = ("check", tmp_path / "scene.yaml", "--rules", "town.toml")
    assert "town.toml" in refused(capsys, *words)


def test_of_a_file_in_a_folder_no_more_is_read_than_a_scene_may_have(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(file_content, "LARGEST", 1000)
    file = tmp_path / "big.yaml"
    file.write_text(f"other: {'x' * 2000}\n")
    assert scene_files([tmp_path]) == ([file], [])
    file.write_text("other: x\n")
    assert scene_files([tmp_path])[0] == []
