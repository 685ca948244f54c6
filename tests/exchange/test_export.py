"""The command that writes for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.geometry.files.mesh import read_parts
from tests.exchange.rooms import PANEL, TEXT
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path


def exported(folder: Path, name: str, *more: str) -> int:
    (folder / "room.yaml").write_text(TEXT)
    return main(["export", str(folder / "room.yaml"), "-o", str(folder / name), *more])


@pytest.mark.long
def test_a_glb_has_parts_by_their_names(tmp_path: Path) -> None:
    assert exported(tmp_path, "room.glb") == 0
    first = (tmp_path / "room.glb").read_bytes()
    assert exported(tmp_path, "room.glb") == 0
    assert (tmp_path / "room.glb").read_bytes() == first
    parts = read_parts(tmp_path / "room.glb")
    assert {PANEL, "Crate", "floor"} <= parts.keys()
    assert any(name.startswith("wall-") for name in parts)
    points, _ = parts[PANEL]
    # y is up in the file: the panel hangs at 0.9 to 1.8.
    assert np.allclose((points[:, 1].min(), points[:, 1].max()), (0.9, 1.8))


def test_a_table_is_that_of_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exported(tmp_path, "room.csv") == 0
    capsys.readouterr()
    assert main(["check", str(tmp_path / "room.yaml"), "--format", "csv"]) == 1
    assert (tmp_path / "room.csv").read_text() == capsys.readouterr().out


@pytest.mark.long
def test_a_drawing_is_that_of_figure(tmp_path: Path) -> None:
    assert exported(tmp_path, "room.dxf") == 0
    scene, plan = str(tmp_path / "room.yaml"), tmp_path / "plan.dxf"
    assert main(["figure", scene, "--view", "plan", "-o", str(plan)]) == 0
    assert plan.read_bytes() == (tmp_path / "room.dxf").read_bytes()


@pytest.mark.parametrize(
    ("name", "more", "said"),
    [
        ("room.txt", (), "what is exported ends in"),
        ("room.glb", ("--bcf", "3.0"), "--bcf: found with .glb"),
        ("room.csv", ("--into", "x.ifc"), "--into: found with .csv"),
        ("room.ifc", ("--into", "none.ifc"), "found no file"),
    ],
)
def test_a_wrong_wish_is_one_line(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    name: str,
    more: tuple[str, ...],
    said: str,
) -> None:
    assert exported(tmp_path, name, *more) == 2
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 1
    assert said in told[0]
    assert not (tmp_path / name).exists()
