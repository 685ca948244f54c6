"""The command that writes for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ezdxf
import numpy as np
import pytest
from ezdxf import bbox

from model3d.geometry.files.mesh import read_parts
from tests.exchange.rooms import PANEL, TEXT
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.math import Vec3


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
def test_what_is_no_sign_is_in_no_table_and_no_page(tmp_path: Path) -> None:
    """RFC 4180 and HTML know no NUL: readers end the cell, or the text, there."""
    room, told = tmp_path / "room.yaml", TEXT.splitlines(keepends=True)
    room.write_text("".join(one for one in told if not one.startswith("title:")))
    with room.open("a") as stream:
        stream.write('title: "A\\0B\\e[2JC"\n')
    assert main(["export", str(room), "-o", str(tmp_path / "room.csv")]) == 0
    assert main(["page", str(room), "-o", str(tmp_path / "room.html")]) == 0
    for made in ("room.csv", "room.html"):
        data = (tmp_path / made).read_bytes()
        assert not {0x00, 0x1B} & {*data}
    assert "\nA B [2JC," in (tmp_path / "room.csv").read_text()


@pytest.mark.long
def test_a_drawing_is_that_of_figure(tmp_path: Path) -> None:
    assert exported(tmp_path, "room.dxf") == 0
    scene, plan = str(tmp_path / "room.yaml"), tmp_path / "plan.dxf"
    assert main(["figure", scene, "--view", "plan", "-o", str(plan)]) == 0
    assert plan.read_bytes() == (tmp_path / "room.dxf").read_bytes()


@pytest.mark.long
def test_a_plan_lies_where_the_model_has_it(tmp_path: Path) -> None:
    """By hand: the room's south-west corner is at (100, 200) m of its model."""
    assert exported(tmp_path, "room.dxf") == 0
    drawing = ezdxf.readfile(tmp_path / "room.dxf")  # type: ignore[attr-defined]
    space = drawing.modelspace()

    def ends(layer: str) -> list[tuple[Vec3, Vec3]]:
        found = [bbox.extents([one]) for one in space.query(f'*[layer=="{layer}"]')]
        return [(one.extmin, one.extmax) for one in found if one.has_data]

    # The board: 0.6 wide, 2 m from the north wall's left end, its front at y = 3.8.
    corner, other = (102_000.0, 203_800.0), (102_600.0, 203_800.0)
    assert any(
        low.vec2.isclose(corner, abs_tol=0.1) and high.vec2.isclose(other, abs_tol=0.1)
        for low, high in ends("subject")
    )
    # Its space: 0.9 m ahead, 30 in (762 mm) wide, over the board's 600.
    assert any(
        (low.y, high.y) == pytest.approx((202_900, 203_800), abs=0.1)
        and high.x - low.x == pytest.approx(762, abs=0.1)
        for low, high in ends("required-space")
    )


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
