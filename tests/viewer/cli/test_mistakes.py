"""Mistakes that people make at the command, and every line that tells them.

The table ``mistakes.yaml`` is the product's own contract ("Bad input" of the scene
format): one line a mistake, exit status 2, and nothing is written. What people get
wrong is common practice.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml

from viewer.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Iterator

    Printed = pytest.CaptureFixture[str]

TABLE: dict[str, Any] = yaml.safe_load(
    Path(__file__).with_name("mistakes.yaml").read_text("utf-8")
)
MISTAKES: list[dict[str, Any]] = TABLE["mistakes"]
JARGON = ("Traceback", "Error", "None", "NoneType", "tuple", "string", "dict", "argv")


def _files(folder: Path) -> Iterator[tuple[str, bytes]]:
    for file in sorted(folder.rglob("*")):
        yield str(file.relative_to(folder)), b"" if file.is_dir() else file.read_bytes()


@pytest.mark.parametrize("mistake", MISTAKES, ids=[one["what"] for one in MISTAKES])
def test_each_is_told_in_its_lines_and_nothing_is_written(
    mistake: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Printed,
) -> None:
    for name, right in TABLE["files"].items():
        text = right
        for old, new in mistake.get("change", {}).get(name, {}).items():
            assert right.count(old) == 1, f"{old!r} is not once in {name}"
            text = text.replace(old, new)
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"")))
    before = dict(_files(tmp_path))
    assert main(mistake.get("command", ["check", "room.yaml"])) == 2
    printed = capsys.readouterr()
    assert printed.err.splitlines() == mistake["says"]
    assert printed.out == ""
    assert dict(_files(tmp_path)) == before


def test_there_are_enough_and_they_speak_to_people() -> None:
    lines = [line for one in MISTAKES for line in one["says"]]
    assert len(MISTAKES) >= 80
    assert len(lines) <= len(MISTAKES) + 5
    for line in lines:
        assert not [word for word in JARGON if word in line]
        assert len(line) < 230


def test_the_room_without_a_mistake_is_right(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    for name, text in TABLE["files"].items():
        (tmp_path / name).write_text(text, "utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(["check", "room.yaml"]) == 0
    assert not capsys.readouterr().err
    assert main(["import", "list.csv", "--into", "room.yaml", "-o", "new.yaml"]) == 0
