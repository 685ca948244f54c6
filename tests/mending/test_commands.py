"""The commands place and mend: what they print, write and refuse."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from model3d import check, read_scene
from tests.paths import SCENES
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

ROOM = """\
# A lighting panel whose pull box is too deep.
title: Annex
units: mm
rules: nec-2023
room:
  size: [4000, 3000]
  height: 2800
  walls: concrete
  lighting: {present: true, control: manual}
  doors:
    - id: D1
      wall: east
      along: 500
      width: 900
      height: 2100
      opens: out
      hinge: left
      hardware: panic
      opens_to: 110
items:
  - id: LP1   # hung by the owner
    kind: panelboard
    size: [500, 150, 700]
    place: {wall: west, along: 1250, bottom: 800, gap: 30}
    supply: {system: 208Y/120, amps: 200}
    door: left
  - {id: PB1, kind: pull-box, size: [600, 320, 300], place: {over: LP1, gap: 50}}
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    found = tmp_path / "annex.yaml"
    found.write_text(ROOM, encoding="utf-8")
    return found


@pytest.mark.long
def test_place_prints_intervals_and_the_best_place(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["place", str(file), "PB1", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == 1
    assert {one["wall"] for one in told["walls"]} == {"north", "east", "south", "west"}
    assert main(["place", str(file), "PB1"]) == 0
    text = capsys.readouterr().out
    assert "Best place" in text
    assert "licensed person" in text
    assert "something else must carry it" not in text


@pytest.mark.long
def test_place_says_that_gear_on_a_pad_needs_it_elsewhere_too(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["place", str(SCENES / "pump-station.yaml"), "T1"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "T1 stands on PAD2 and keeps its height: where PAD2 is not" in text
    # Where it would shut itself in is barred, told once; ways out are told of.
    assert text.count("T1 entrance: T1") == 1
    assert "Elsewhere the ways out were asked too" in text


@pytest.mark.long
def test_place_says_along_which_walls_something_is_left_open(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # The panel hangs 800 up: under it in the doorway, from 500 on for 900, one comes
    # out lower than what is printed.
    file.write_text(ROOM.replace("320, 300]", "150, 300]"), encoding="utf-8")
    assert main(["place", str(file), "LP1"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "LP1 entrance: by D1, along wall east" in text


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["place", "FILE", "ZZ"], "found ZZ"),
        (
            ["place", "FILE", "D9", "--kind", "pump", "--size", "1x1x1"],
            "right is a kind",
        ),
        (["mend", "FILE", "--write", "new.yaml"], "--write: found no --take"),
        (["mend", "FILE", "--take", "1"], "--take: found no --write"),
        (["mend", "FILE", "--take", "1", "--write", "FILE"], "is the scene itself"),
        (["mend", "FILE", "--take", "99", "--write", "NEW"], "--take: found 99"),
        (["mend", "FILE", "--step", "-3"], "--step: found -3"),
        (["picture", "FILE", "-o", "PNG", "--free", "ZZ"], "found ZZ"),
        (["picture", "FILE", "-o", "PNG", "--free", "LP1", "--of", "LP1"], "--free"),
    ],
)
def test_mistakes_are_one_line_and_nothing_is_written(
    words: list[str], told: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = file.with_name("new.yaml")
    names = {"FILE": str(file), "NEW": str(new), "new.yaml": str(new)}
    names["PNG"] = str(file.with_name("map.png"))
    assert main([names.get(word, word) for word in words]) == 2
    out, err = capsys.readouterr()
    assert not out
    assert told in err
    assert err.count("\n") == 1
    assert not new.exists()
    assert not file.with_name("map.png").exists()
    assert file.read_text(encoding="utf-8") == ROOM


@pytest.mark.long
def test_a_remedy_is_taken_by_its_number_and_the_comments_stay(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["mend", str(file)]) == 0
    text = capsys.readouterr().out
    assert "Move PB1 20 mm (13/16 in) back." in text
    number = next(
        line.split()[0] for line in text.splitlines() if "Move PB1 20" in line
    )
    new = file.with_name("new.yaml")
    assert main(["mend", str(file), "--take", number, "--write", str(new)]) == 0
    written = new.read_text(encoding="utf-8")
    assert written.startswith("# A lighting panel")
    assert "# hung by the owner" in written
    assert check(read_scene(new)).passed
    changed = [
        (a, b)
        for a, b in zip(ROOM.splitlines(), written.splitlines(), strict=True)
        if a != b
    ]
    assert len(changed) == 1


@pytest.mark.long
def test_a_step_in_inches_rounds_to_the_safe_side(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["mend", str(file), "--step", "1/2 in", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    remedies = told["mends"][0]["remedies"]
    # 20 mm are short: 12.7 mm are too little, 25.4 mm are the next half inch.
    assert 25.4 in [one["size"] for one in remedies]


@pytest.mark.long
def test_all_at_once_is_written(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = file.with_name("new.yaml")
    words = ["mend", str(file), "--all", "--write", str(new), "--format", "json"]
    assert main(words) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["do"]
    assert told["left"] == []
    assert check(read_scene(new)).passed


@pytest.mark.long
def test_check_tells_remedies_only_where_they_are_asked_for(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(file), "--format", "json"]) == 1
    assert "remedies" not in capsys.readouterr().out
    assert main(["check", str(file), "--format", "json", "--mend"]) == 1
    told = json.loads(capsys.readouterr().out)
    broken = [one for one in told["judgements"] if one["verdict"] == "not-met"]
    assert all(one["remedies"] for one in broken)
    assert main(["check", str(file), "--mend"]) == 1
    assert "what puts it right" in capsys.readouterr().out


def test_a_scene_with_meshes_stays_in_its_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    scene = SCENES / "scanned-pump.yaml"
    new = tmp_path / "new.yaml"
    assert main(["mend", str(scene), "--all", "--write", str(new)]) == 2
    assert "another folder" in capsys.readouterr().err
    assert not new.exists()


def test_slack_tells_the_ten_tightest_and_what_to_measure_again(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # The crate's near side is 220 mm beyond the 900 mm ahead of the panel.
    crate = (
        "{id: S1, kind: furniture, size: [400, 400, 900], place: {at: [1500, 1500]}}"
    )
    met = f"{ROOM.replace('320', '150')}  - {crate}\n"
    file.write_text(met, encoding="utf-8")
    assert main(["mend", str(file), "--slack", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert "measure" not in told
    distances = [one["distance"] for one in told["slack"]]
    assert distances == sorted(distances)
    assert ("S1", 220.0) in [(one["thing"], one["distance"]) for one in told["slack"]]
    # Distances are known to 300 mm only: the tightest is to be measured again.
    loose = met.replace("units: mm", "units: mm\nsurvey_tolerance: 300")
    file.write_text(loose, encoding="utf-8")
    assert main(["mend", str(file), "--slack", "--format", "json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert again["measure"] == again["slack"][0]
    assert main(["mend", str(file), "--slack"]) == 0
    text = capsys.readouterr().out
    assert "Measure again: from " in text
    rows = [line for line in text.splitlines() if " mm (" in line]
    assert 0 < len(rows) <= 10
