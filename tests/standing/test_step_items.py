"""Items of STEP files: judged like the same box by its size, whatever the units."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import SceneError, check
from model3d.scene.text.reader import read_text
from model3d.standing.remarks import detailed
from tests.geometry.files.written_step import box
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Report

ROOM = """\
title: A
units: {units}
rules: nec-2023
room: {{size: [4 m, 4 m], height: 3 m}}
items:
  - id: P
    kind: panelboard
    size: [500 mm, 200 mm, 900 mm]
    place: {{wall: north, along: 1 m, bottom: 900 mm}}
    supply: {{system: 208Y/120, amps: 225}}
  - id: S
    kind: obstacle
    {shape}
    place: {{at: [1 m, {south}], facing: south}}
"""
STEP = "mesh: box.step"
SIZE = "size: [600 mm, 500 mm, 800 mm]"


def report(folder: Path, shape: str, units: str = "mm", south: str = "3 m") -> Report:
    text = ROOM.format(units=units, shape=shape, south=south)
    return check(read_text(text, folder / "room.yaml"))


def verdicts(found: Report) -> set[tuple[str, str, str]]:
    return {(one.subject, one.requirement, one.verdict) for one in found.judgements}


@pytest.mark.long
@pytest.mark.parametrize(("units", "own"), [("mm", "in"), ("in", "mm"), ("ft", "m")])
def test_it_is_judged_like_its_box(tmp_path: Path, units: str, own: str) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800, own))
    drawn, plain = (report(tmp_path, shape, units) for shape in (STEP, SIZE))
    assert drawn.arrangement is not None
    assert plain.arrangement is not None
    one, other = (
        np.array(found.arrangement.items["S"].solid.bounds)
        for found in (drawn, plain)
        if found.arrangement
    )
    assert np.allclose(one, other, atol=1e-6)
    assert verdicts(drawn) == verdicts(plain)
    assert ("P", "working-space", "not-met") in verdicts(drawn)


@pytest.mark.long
def test_farther_off_it_is_in_nobodys_way(tmp_path: Path) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800))
    drawn, plain = (report(tmp_path, one, south="1 m") for one in (STEP, SIZE))
    assert verdicts(drawn) == verdicts(plain)
    assert ("P", "working-space", "not-met") not in verdicts(drawn)


@pytest.mark.long
def test_beside_a_size_the_box_is_judged(tmp_path: Path) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800, "in"))
    both = report(tmp_path, f"{SIZE}\n    {STEP}")
    assert both.judgements == report(tmp_path, SIZE).judgements
    assert both.arrangement is not None
    assert both.arrangement.items["S"].drawn is not None


def test_it_says_its_own_unit_and_no_other_may_be_said(tmp_path: Path) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800))
    with pytest.raises(SceneError, match="found units beside a STEP file"):
        report(tmp_path, f"{STEP}\n    units: in")


@pytest.mark.long
def test_a_type_of_another_file_keeps_the_unit_of_the_step_file(tmp_path: Path) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800))
    gear = "units: in\ntypes:\n  s: {kind: obstacle, mesh: box.step}\n"
    (tmp_path / "gear.yaml").write_text(gear)
    text = ROOM.format(units="mm", shape="type: s", south="3 m")
    text = text.replace("    kind: obstacle\n", "")
    found = check(read_text(f"types_from: gear.yaml\n{text}", tmp_path / "room.yaml"))
    assert verdicts(found) == verdicts(report(tmp_path, SIZE))


@pytest.mark.long
def test_a_damaged_file_is_one_line_and_nothing_more(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    text = box(600, 500, 800)
    scene = tmp_path / "room.yaml"
    scene.write_text(ROOM.format(units="mm", shape=STEP, south="1 m"))
    for damaged in ("", text[:3000], text.replace("PLANE(", "PLAIN(", 1)):
        (tmp_path / "box.step").write_text(damaged)
        assert main(["check", str(scene)]) == 2
        out, err = capfd.readouterr()
        (line,) = (out + err).splitlines()
        assert 'S: mesh: found "box.step" (' in line
        assert "right is a file with triangles" in line


@pytest.mark.long
def test_a_mesh_of_very_many_triangles_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "box.step").write_text(box(600, 500, 800))
    assert not [one for one in report(tmp_path, STEP).assumed if "screws" in one.what]
    monkeypatch.setattr(detailed, "MANY", 11)
    (told,) = (one for one in report(tmp_path, STEP).assumed if "screws" in one.what)
    assert told.item == "S"
    assert "Its mesh of 12 triangles" in told.what
    both = report(tmp_path, f"{SIZE}\n    {STEP}")
    assert not [one for one in both.assumed if "screws" in one.what]
