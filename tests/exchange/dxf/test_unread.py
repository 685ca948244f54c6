"""What of a plan is not read is no wrong met: it may stand there, or is asked about.

Source: common practice: a reviewer does not take for free what a drawing shows and
nobody has understood.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d import check, read_scene
from model3d.exchange.dxf.file import leavings
from tests.exchange.dxf.drawn_plans import Drawing, Folder, read_here
from tests.exchange.dxf.test_undecided import SPACE, TABLE, bare, line, verdicts

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Draw = Callable[[Drawing, dict[str, str]], Any]
    Printed = pytest.CaptureFixture[str]

ROOM = ("as-drawn", "room", None, None, None)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path).table(TABLE)


def mesh(drawing: Drawing, said: dict[str, str]) -> None:
    # A body between 300 and 900 mm ahead of the board.
    with drawing.space.add_mesh(dxfattribs=said).edit_data() as data:
        data.vertices = [
            (x, y, z) for x in (1100, 1400) for y in (2950, 3550) for z in (0, 900)
        ]
        data.faces = [(0, 1, 3, 2), (4, 5, 7, 6)]


@pytest.mark.long
@pytest.mark.parametrize("layer", ["E-EQPM", "GEAR"])
@pytest.mark.parametrize(
    "draw",
    [
        lambda d, said: d.space.add_spline(
            [(1250, 3500), (1300, 2800), (1250, 2000)], dxfattribs=said
        ),
        lambda d, said: d.space.add_line(
            (1250, 3500, 0), (1250, 2000, 900), dxfattribs=said
        ),
        lambda d, said: d.space.add_3dface(
            [(1100, 3500, 0), (1400, 3500, 0), (1400, 3500, 900), (1100, 3500, 900)],
            dxfattribs=said,
        ),
        lambda d, said: d.space.add_mline(
            [(1250, 3500), (1250, 2000)], dxfattribs=said
        ),
        lambda d, said: d.space.add_lwpolyline(
            [(1250, 3500), (1250, 2000)], close=True, dxfattribs=said
        ),
        mesh,
    ],
    ids=["free curve", "rising line", "upright face", "triple line", "flat", "mesh"],
)
def test_what_lies_somewhere_and_is_not_read_may_stand_there(
    folder: Folder, draw: Draw, layer: str
) -> None:
    assert bare(folder)[SPACE] == "met"
    drawing = Drawing().room()
    draw(drawing, {"layer": layer})
    scene = folder.draw(drawing).scene()
    (item,) = [one for one in scene.items if one.uncertain]
    assert item.id == f"drawn-on-{layer}"
    (one,) = check(scene).of("panelboard-1", "working-space")
    assert one.verdict == "open"
    assert f"Say how large drawn-on-{layer} is" in one.missing
    assert not scene.not_read


def test_what_lies_far_away_changes_nothing(folder: Folder) -> None:
    before = bare(folder)
    drawing = Drawing().room()
    points = [(9000, 3500), (9100, 2800), (9300, 2000)]
    drawing.space.add_spline(points, dxfattribs={"layer": "E-EQPM"})
    drawing.space.add_spline(
        [(1250, 3500), (1300, 2800), (1250, 2000)], dxfattribs={"layer": "A-ANNO"}
    )
    scene = folder.draw(drawing).scene()
    assert verdicts(scene) == before
    assert not scene.not_read


def solid(drawing: Drawing, layer: str, count: int = 1) -> None:
    """Draw bodies of which the file holds nothing that tells where they are."""
    for _ in range(count):
        body = drawing.space.add_3dsolid(dxfattribs={"layer": layer})
        body.sab = b"ACIS BinaryFile"  # without data the library writes none


def test_what_lies_nobody_knows_where_is_asked_about(
    folder: Folder, capsys: Printed
) -> None:
    assert ROOM not in bare(folder)
    drawing = Drawing().room()
    solid(drawing, "E-EQPM", 2)
    solid(drawing, "GEAR")
    # What the table ignores, or is annotation by its name, is nobody's obstacle.
    solid(drawing, "A-ANNO-SYMB")
    solid(drawing, "OLD")
    folder.table(f"{TABLE}OLD,ignore,,,,\n")
    scene = folder.draw(drawing).scene()
    told = [(one.name, one.count, one.at) for one in scene.not_read]
    assert told == [
        ("3dsolid on layer E-EQPM", 2, None),
        ("3dsolid on layer GEAR", 1, None),
    ]
    assert "could not be read: 3; check asks till" in capsys.readouterr().err
    (judged,) = check(scene).of("room", "as-drawn")
    assert judged.verdict == "open"
    assert (
        "3 things that could not be read: 3dsolid on layer E-EQPM (2" in judged.reason
    )
    assert "strike them from not_read" in judged.missing


def test_a_person_strikes_what_was_looked_at(folder: Folder) -> None:
    drawing = Drawing().room()
    solid(drawing, "E-EQPM")
    folder.draw(drawing).scene()
    file = folder.path / "room.yaml"
    lines = file.read_text().splitlines(keepends=True)
    left = [one for one in lines if not one.startswith("not_read:")]
    assert len(left) == len(lines) - 1
    file.write_text("".join(left))
    struck = read_scene(file)
    assert not struck.not_read
    assert ROOM not in verdicts(struck)


def test_drawings_in_other_files_are_placed(folder: Folder) -> None:
    drawing = Drawing().room()
    drawing.document.add_xref_def("elsewhere.dxf", "PUMPS")
    drawing.space.add_blockref("PUMPS", (2000, 1000), {"layer": "X-PUMP"})
    drawing.space.add_blockref("PUMPS", (9000, 1000), {"layer": "X-PUMP"})
    scene = folder.draw(drawing).scene()
    name = "drawing PUMPS in another file on layer X-PUMP"
    told = [(one.name, one.at) for one in scene.not_read]
    assert told == [(name, (2000, 1000, 0)), (name, (9000, 1000, 0))]
    (judged,) = check(scene).of("room", "as-drawn")
    # The room is 6000 wide.
    assert f"{name}, placed 3000 mm (9 ft 10 1/8 in) outside the room" in judged.reason


def test_of_very_many_all_are_counted(folder: Folder) -> None:
    drawing = Drawing().room()
    drawing.document.add_xref_def("elsewhere.dxf", "PUMPS")
    for n in range(130):
        drawing.space.add_blockref("PUMPS", (2000, 10 * n), {"layer": "X-PUMP"})
    scene = folder.draw(drawing).scene()
    assert len(scene.not_read) == 101
    assert sum(one.count for one in scene.not_read) == 130
    (judged,) = check(scene).of("room", "as-drawn")
    assert "holds 130 things" in judged.reason


def test_what_the_plan_hides_is_not_asked_about(folder: Folder) -> None:
    before = bare(folder)
    drawing = Drawing().room()
    solid(drawing, "E-EQPM")
    drawing.space[-1].dxf.invisible = 1
    line(drawing, "E-EQPM", [(5000, 500), (5500, 500)])
    scene = folder.draw(drawing).scene()
    assert not scene.not_read
    assert verdicts(scene) == before


def test_a_curve_without_an_end_has_no_place(folder: Folder) -> None:
    drawing = Drawing().room()
    for far in (1e15, 1e300):
        drawing.space.add_open_spline(
            [(100, 100), (far, 5), (-far, far), (200, 200)],
            dxfattribs={"layer": "E-EQPM"},
        )
    scene = folder.draw(drawing).scene()
    assert sum(one.count for one in scene.not_read) == 2
    (judged,) = check(scene).of("room", "as-drawn")
    assert judged.verdict == "open"


def test_of_very_many_the_rest_is_counted_without_a_place(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(leavings, "_MOST_ASKED", 5)
    drawing = Drawing().room()
    points = [(1250, 3500), (1300, 2800), (1250, 2000)]
    for _ in range(9):
        drawing.space.add_spline(points, dxfattribs={"layer": "E-EQPM"})
    scene = folder.draw(drawing).scene()
    assert [one.id for one in scene.items if one.uncertain] == ["drawn-on-E-EQPM"]
    assert [(one.count, one.at) for one in scene.not_read] == [(4, None)]
