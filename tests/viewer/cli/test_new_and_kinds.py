"""A room to begin with, and the list of kinds, as a person meets them."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest

from model3d import BOOKS, check, read_scene
from model3d.scene.handbook.consequences import consequences
from model3d.scene.kinds import KINDS
from model3d.scene.words.trade import other_words
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

SIZES = {
    "mm": "6000x4000x3000",
    "m": "6 x 4 x 3",
    "in": "236x157x118",
    "ft": "20x14x9 ft 6 in",
}


@pytest.mark.parametrize("book", BOOKS)
@pytest.mark.parametrize(("units", "size"), SIZES.items())
def test_a_new_room_checks(units: str, size: str, book: str, tmp_path: Path) -> None:
    file = tmp_path / "pump-room.yaml"
    line = ["new", str(file), "--units", units, "--size", size, "--rules", book]
    assert main(line) == 0
    scene = read_scene(file)
    assert (scene.title, scene.units, scene.rules) == ("Pump room", units, book)
    assert scene.room is not None
    assert scene.room.size is not None
    assert scene.metres(scene.room.size[0]) == pytest.approx(6, abs=0.1)
    assert check(scene).counts["not-met"] == 0
    assert "\n  # " in file.read_text(encoding="utf-8")


def test_the_smallest_room_has_room_for_what_is_in_it(tmp_path: Path) -> None:
    for units, size in (("mm", "1500x1500x2200"), ("ft", "5x5x7.25")):
        file = tmp_path / f"{units}.yaml"
        line = f"new {file} --units {units} --size {size} --rules nec-2023"
        assert main(line.split()) == 0
        assert read_scene(file).items


def test_a_height_that_is_not_said_is_told(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    line = f"new {file} --units in --size 200x100 --rules nec-2023"
    assert main(line.split()) == 0
    assert "NOT SAID, so measure it" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"--size": "6000"}, "--size: found 6000, right is east x north, or east x"),
        ({"--size": "6000x-4"}, "--size: found 6000x-4, right is north from 1.5 m to"),
        ({"--size": "axb"}, "--size: found axb, right is a length such as 762"),
        ({"--size": "6x4"}, "--size: found 6x4, right is east from 1.5 m to 1000 m"),
        ({"--units": "cm"}, "--units: found cm, right is mm, m, in or ft"),
        ({"--rules": "nec-2032"}, "(nearest: nec-2023)"),
        ({"--rules": "my.toml"}, 'rules: found "my.toml", right is a file that is'),
        (
            {"--rules": None},
            "--rules: found nothing, right is for example --rules nec-2023",
        ),
    ],
)
def test_what_is_wrong_has_a_line(
    change: dict[str, str | None],
    said: str,
    tmp_path: Path,
    capsys: Printed,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO())
    good = {"--units": "mm", "--size": "6000x4000", "--rules": "nec-2023"}
    said_options = {**good, **change}
    line = [word for pair in said_options.items() if pair[1] for word in pair if word]
    assert main(["new", str(tmp_path / "room.yaml"), *line]) == 2
    printed = capsys.readouterr()
    assert said in printed.err
    assert len(printed.err.splitlines()) == 1
    assert not [*tmp_path.iterdir()]


def test_a_file_that_is_there_stays(tmp_path: Path, capsys: Printed) -> None:
    file = tmp_path / "room.yaml"
    file.write_text("mine", encoding="utf-8")
    line = f"new {file} --units mm --size 6000x4000 --rules nec-2023"
    assert main(line.split()) == 2
    assert "is there already" in capsys.readouterr().err
    assert file.read_text(encoding="utf-8") == "mine"
    assert main(line.replace("room.yaml", "room.txt").split()) == 2
    assert "a name that ends in .yaml" in capsys.readouterr().err


class Terminal(io.StringIO):
    """Somebody who answers."""

    def isatty(self) -> bool:
        """Say that it is a person."""
        return True


def test_what_is_not_said_is_asked_for_until_it_is_right(
    tmp_path: Path, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = "furlong\nmm\n6000\n6000x4000x3000\nnec-2023\n"
    monkeypatch.setattr("sys.stdin", Terminal(answers))
    file = tmp_path / "room.yaml"
    assert main(["new", str(file)]) == 0
    printed = capsys.readouterr()
    assert printed.err.count("right is") == 2
    assert read_scene(file).rules == "nec-2023"


def test_who_answers_no_more_writes_nothing(
    tmp_path: Path, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", Terminal("mm\n"))
    assert main(["new", str(tmp_path / "room.yaml")]) == 2
    assert "--size: found nothing" in capsys.readouterr().err
    assert not [*tmp_path.iterdir()]


def test_kinds_lists_every_kind_with_its_other_words(capsys: Printed) -> None:
    assert main(["kinds"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    for name, kind in KINDS.items():
        assert f"{name}: {kind.about}" in printed
        for word in other_words(name):
            assert word in printed


def test_kinds_of_a_word_of_the_trade(capsys: Printed) -> None:
    assert main(["kinds", "bus duct"]) == 0
    printed = capsys.readouterr().out
    assert "busway: Busway" in printed
    assert "panelboard" not in printed
    assert main(["kinds", "panelbord"]) == 2
    assert "(nearest: panelboard)" in capsys.readouterr().err


def test_what_follows_is_what_the_scene_format_says() -> None:
    """The table of kinds in the scene format: space, associated, space above."""
    said = {name: " ".join(consequences(kind)) for name, kind in KINDS.items()}
    spaces = {name for name, words in said.items() if "working space in front" in words}
    above = {name for name, words in said.items() if "space above and below" in words}
    foreign = {name for name, words in said.items() if "is foreign" in words}
    building = {name for name, words in said.items() if "part of the build" in words}
    assert above == {
        *("panelboard", "switchboard", "switchgear", "motor-control-center")
    }
    assert spaces == above | {
        *("disconnect", "transfer-switch", "control-panel", "ups", "meter-socket"),
        *("transformer", "drive", "generator", "current-transformer-cabinet"),
        *("energy-storage-unit", "battery-rack", "battery-cabinet"),
    }
    assert foreign == {
        *("pipe", "gas-pipe", "duct", "leak-guard", "shelf", "storage", "furniture"),
        "machine",
    }
    assert building == {"column", "beam", "wall", "platform", "stair", "ceiling"}
    assert all(said.values())
