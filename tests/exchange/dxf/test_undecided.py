"""What is drawn in a room and nobody decides: open where it bears on something.

Source: common practice: a reviewer asks what a line on a plan is, and does not take it
for nothing; dimensions, texts, hatches and annotation are nothing that stands there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d import check
from tests.exchange.dxf.drawn_plans import Drawing, Folder, read_here

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

    Printed = pytest.CaptureFixture[str]

AHEAD = [(1250, 3500), (1250, 2000)]
"""A line that begins 0.35 m ahead of the board's front and leads away from it."""
TABLE = """\
Layer,Becomes,Height (mm),Bottom (mm),System,Amps
ROOM,room outline,3000,,,
GEAR,panelboard,900,900,208Y/120,100
"""
SPACE = ("working-space", "panelboard-1", None, None, None)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path).table(TABLE)


def line(drawing: Drawing, layer: str, points: object = AHEAD) -> None:
    drawing.space.add_lwpolyline(points, dxfattribs={"layer": layer})


def verdicts(scene: Scene) -> dict[tuple[object, ...], str]:
    return {one.key: one.verdict for one in check(scene).judgements}


def bare(folder: Folder) -> dict[tuple[object, ...], str]:
    found = verdicts(folder.draw(Drawing().room()).scene())
    (folder.path / "room.yaml").unlink()
    return found


def test_an_open_line_of_no_layer_in_the_table_is_never_in_nobody_s_way(
    folder: Folder, capsys: Printed
) -> None:
    before = bare(folder)
    assert before[SPACE] == "met"
    drawing = Drawing().room()
    line(drawing, "E-TRAY")
    scene = folder.draw(drawing).scene()
    err = capsys.readouterr().err
    assert "drawn-on-E-TRAY: not in the table, and what is drawn there may stand" in err
    assert "left out: layer E-TRAY" not in err
    (one,) = check(scene).of("panelboard-1", "working-space")
    assert one.verdict == "open"
    assert "Say how large drawn-on-E-TRAY is" in one.missing


@pytest.mark.parametrize("ending", [",,,,,\n", ",ignore,,,,\n"])
def test_a_row_that_says_nothing_decides_nothing(folder: Folder, ending: str) -> None:
    drawing = Drawing().room()
    line(drawing, "E-TRAY")
    folder.table(f"{TABLE}E-TRAY{ending}")
    found = verdicts(folder.draw(drawing).scene())
    told = found[SPACE]
    assert told == ("met" if "ignore" in ending else "open")


def test_what_is_drawn_far_from_all_that_is_required_changes_nothing(
    folder: Folder,
) -> None:
    before = bare(folder)
    drawing = Drawing().room()
    line(drawing, "A-FURN", [(5000, 500), (5500, 500)])
    line(drawing, "A-WALL", [(0, 10), (6000, 10)])
    line(drawing, "A-SITE", [(-3000, 0), (-3000, 4000)])
    scene = folder.draw(drawing).scene()
    assert verdicts(scene) == before
    assert [one.id for one in scene.items if one.uncertain] == ["drawn-on-A-FURN"]


def test_signs_are_no_things(folder: Folder, capsys: Printed) -> None:
    before = bare(folder)
    drawing = Drawing().room()
    for layer in (
        "A-ANNO-DIMS",
        "E-TEXT",
        "Dims",
        "Defpoints",
        "S-GRID",
        "A-AREA-PATT",
    ):
        line(drawing, layer)
    drawing.text("LP1", 1250, 3000, "A-NAME")
    drawing.space.add_linear_dim(
        base=(0, 3000), p1=(1000, 3850), p2=(1500, 3850), dxfattribs={"layer": "E-PLAN"}
    ).render()
    hatch = drawing.space.add_hatch(dxfattribs={"layer": "A-CLNG"})
    hatch.paths.add_polyline_path([(500, 1500), (3000, 1500), (3000, 3500)])
    # A zone that is as large as the room, and the sign within a board's own outline.
    drawing.closed("A-ZONE", [(-50, -50), (6050, -50), (6050, 4050), (-50, 4050)])
    line(drawing, "E-SIGN", [(1000, 3850), (1500, 4000)])
    line(drawing, "GEAR", [(1000, 4000), (1500, 3850)])
    scene = folder.draw(drawing).scene()
    assert verdicts(scene) == before
    assert not [one for one in scene.items if one.uncertain]
    assert "may stand in the room" not in capsys.readouterr().err


def test_a_closed_line_stands_where_it_is_and_no_further(folder: Folder) -> None:
    drawing = Drawing().room()
    # The board's front is at 3.85 m, and 0.9 m are asked for: to 2.95 m.
    drawing.closed("A-EQPM", [(900, 2000), (1600, 2000), (1600, 2940), (900, 2940)])
    assert verdicts(folder.draw(drawing).scene())[SPACE] == "met"
    (folder.path / "room.yaml").unlink()
    (folder.path / "room.glb").unlink()
    drawing.closed("A-EQPM", [(900, 2000), (1600, 2000), (1600, 2960), (900, 2960)])
    found = verdicts(folder.draw(drawing).scene())
    assert found[SPACE] == "open"


def test_open_lines_on_a_layer_of_things_may_be_things(
    folder: Folder, capsys: Printed
) -> None:
    folder.table(f"{TABLE}COLUMN,column,,,,\n")
    drawing = Drawing().room()
    line(drawing, "COLUMN", [(1000, 3000), (1500, 3000), (1500, 3300)])
    found = verdicts(folder.draw(drawing).scene())
    assert found[SPACE] == "open"
    assert "open lines that are of no outline may stand" in capsys.readouterr().err


def test_one_layer_is_one_thing_and_the_same_bytes_come_twice(folder: Folder) -> None:
    drawing = Drawing().room()
    for n in range(30):
        line(drawing, "E-WIRE", [(300 * n, 200), (300 * n + 100, 3000)])
    folder.draw(drawing)
    scene = folder.scene()
    assert [one.id for one in scene.items if one.uncertain] == ["drawn-on-E-WIRE"]
    first = [(folder.path / name).read_bytes() for name in ("room.yaml", "room.glb")]
    for name in ("room.yaml", "room.glb"):
        (folder.path / name).unlink()
    folder.scene()
    assert first == [
        (folder.path / name).read_bytes() for name in ("room.yaml", "room.glb")
    ]
