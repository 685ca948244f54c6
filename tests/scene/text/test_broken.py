"""Every broken sample, and every line its reader must say about it.

The lines stand at the head of each file, behind ``#!``. They are the contract of the
scene format's "Bad input"; there is no outside source for their words.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from model3d.scene.text.reader import SceneError, read_scene

JARGON = re.compile(r"Input should|Field required|Extra inputs|valid (string|tuple)|:/")


def _expected(broken: Path) -> list[str]:
    lines = broken.read_text(encoding="utf-8").splitlines()
    return [line.removeprefix("#! ") for line in lines if line.startswith("#! ")]


def _said(broken: Path) -> list[str]:
    with pytest.raises(SceneError) as caught:
        read_scene(broken)
    said = str(caught.value).splitlines()
    assert len(said) == len(caught.value.mistakes)
    return [line.removeprefix(f"{broken}:") for line in said]


@pytest.mark.long
def test_every_mistake_has_its_line(broken: Path) -> None:
    expected = _expected(broken)
    assert expected, f"{broken.name} says nothing about what is wrong with it"
    assert _said(broken) == expected


@pytest.mark.long
def test_lines_are_in_order_and_in_plain_english(broken: Path) -> None:
    said = _said(broken)
    places = [tuple(map(int, line.split(":")[:2])) for line in said]
    assert places == sorted(places)
    for line in said:
        assert "found" in line or "not YAML" in line
        assert not JARGON.search(line)


def test_unknown_keys_are_pointed_at(broken: Path) -> None:
    text = broken.read_text(encoding="utf-8").splitlines()
    for line in _expected(broken):
        match = re.search(r'^(\d+):(\d+):.* unknown key "(\w+)"', line)
        if match:
            here = text[int(match[1]) - 1][int(match[2]) - 1 :]
            assert here.startswith(f"{match[3]}:")


def test_single_values_are_pointed_at(broken: Path) -> None:
    text = broken.read_text(encoding="utf-8").splitlines()
    for line in _expected(broken):
        match = re.search(r"^(\d+):(\d+):.*: found (-?[0-9.]+), right is a", line)
        if match and "endless" not in line:
            here = text[int(match[1]) - 1][int(match[2]) - 1 :]
            assert here.startswith(match[3])


def test_there_are_enough_of_them() -> None:
    folder = Path(__file__).parents[1] / "broken"
    assert len([*folder.glob("*.yaml")]) >= 60
    lines = [line for path in folder.glob("*.yaml") for line in _expected(path)]
    assert len({line.split("found", 1)[-1] for line in lines}) >= 150
