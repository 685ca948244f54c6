"""Plans that cannot be used: one clear line, exit status 2, nothing written."""

from __future__ import annotations

import importlib.util
from typing import TYPE_CHECKING

import pytest

from model3d.exchange.dxf.file import reader
from model3d.exchange.dxf.file.worker import plan_of
from model3d.exchange.ifc.element import ModelError
from tests.exchange.dxf.drawn_plans import (
    BOARD,
    ROOM,
    TABLE,
    Drawing,
    Folder,
    by_hand,
    polyline,
    read_here,
)
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

WHOLE = by_hand(polyline("ROOM", ROOM), polyline("GEAR", BOARD))
SECTION = b"0\r\nSECTION\r\n2\r\nENTITIES\r\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path)


def refused(folder: Folder, printed: Printed, *more: str) -> list[str]:
    """Return the lines that a plan is refused with."""
    assert folder.run(*more) == 2
    assert folder.made() == []
    said = printed.readouterr()
    assert said.out == ""
    return said.err.splitlines()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"AC1032\0\0\0 and so on", "found a DWG file, right is to save it as DXF"),
        (b"", "found no DXF"),
        (b"%PDF-1.7 and so on", "found no DXF"),
        (WHOLE[:-40], "found no end, right is a whole plan"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00" + b"\0" * 99, "found no DXF that can be"),
        (SECTION + b"0\r\nEOF\r\n0\r\nEOF\r\n", "found no DXF that can be read"),
        (WHOLE.replace(b"3850", b"nan"), "found a coordinate that is no number"),
        (WHOLE.replace(b"3850", b"inf"), "found a coordinate that is no number"),
        (WHOLE.replace(b"3850", b"many"), "found no DXF that can be read"),
    ],
)
def test_what_is_no_plan(
    folder: Folder, capsys: Printed, data: bytes, said: str
) -> None:
    (line,) = refused(folder.write(data), capsys)
    assert "plan.dxf: " in line
    assert said in line


def test_a_binary_plan_is_read(folder: Folder) -> None:
    drawing = Drawing().room()
    drawing.document.saveas(folder.path / "plan.dxf", fmt="bin")
    (item,) = folder.scene().items
    assert item.size == (500, 150, 900)


def test_a_block_that_holds_itself(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    one, other = (drawing.document.blocks.new(name) for name in "AB")
    one.add_blockref("B", (0, 0))
    other.add_blockref("A", (0, 0))
    drawing.insert("A", (0, 0))
    (line,) = refused(folder.draw(drawing), capsys)
    assert "block A: found itself in it" in line


@pytest.mark.long
def test_blocks_that_grow_without_end(
    folder: Folder, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reader, "MOST", 2000)
    drawing = Drawing().room()
    drawing.block("B0", BOARD)
    for number in range(1, 12):
        block = drawing.document.blocks.new(f"B{number}")
        for _ in range(10):
            block.add_blockref(f"B{number - 1}", (0, 0))
    drawing.insert("B11", (0, 0))
    (line,) = refused(folder.draw(drawing), capsys)
    assert "found more than 2000 entities" in line
    rows = Drawing().room()
    rows.block("B0", BOARD)
    rows.insert("B0", (0, 0), column_count=30000, row_count=30000)
    (line,) = refused(folder.draw(rows), capsys)
    assert "block B0: found it 900000000 times" in line


def test_blocks_that_lie_too_deep(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    drawing.block("B0", BOARD)
    for number in range(1, 40):
        block = drawing.document.blocks.new(f"B{number}")
        block.add_blockref(f"B{number - 1}", (0, 0))
    drawing.insert("B39", (0, 0))
    (line,) = refused(folder.draw(drawing), capsys)
    assert "found blocks more than 24 deep" in line


@pytest.mark.long
def test_too_many_outlines_around_a_room(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    for number in range(2001):
        drawing.closed("GEAR", [(x, y - number) for x, y in BOARD])
    (line,) = refused(folder.draw(drawing), capsys)
    assert "found 2002 outlines in and around the room, right is at most 2000" in line


@pytest.mark.parametrize(
    ("room", "said"),
    [
        ([(0, 0), (6000, 4000), (6000, 0), (0, 4000)], "that crosses itself"),
        (None, "found no room outline on layer ROOM"),
    ],
)
def test_a_room_that_is_none(
    folder: Folder,
    capsys: Printed,
    room: list[tuple[float, float]] | None,
    said: str,
) -> None:
    drawing = Drawing()
    drawing.closed("GEAR", BOARD)
    if room:
        drawing.closed("ROOM", room)
    (line,) = refused(folder.draw(drawing), capsys)
    assert said in line


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("X,panelbord,900,,", 'column B (Becomes): X: found "panelbord"'),
        ("X,panelboard,,,", "found no height, right is the height of what is drawn"),
        ("X,panelboard,much,,", "column C (Height (mm)): X: found"),
        ("X,panelboard,-900,,", "found no height above zero"),
        ("X,panelboard,900,,up", 'column E (Facing): X: found "up"'),
        ("gear,panelboard,900,,", 'found "gear" as in row 3, right is one row'),
        (",panelboard,900,,", "column A (Layer): found nothing, right is a layer"),
        ("X,room outline,,,", "right is the height of the room"),
        ("X,room outline,900,100,", "found a bottom of the room"),
    ],
)
def test_a_table_with_a_mistake(
    folder: Folder, capsys: Printed, row: str, said: str
) -> None:
    folder.draw(Drawing().room()).table(f"{TABLE}{row}\n")
    (line,) = refused(folder, capsys)
    assert "layers.csv: row 4" in line
    assert said in line


def test_a_table_of_other_columns(folder: Folder, capsys: Printed) -> None:
    folder.draw(Drawing().room()).table("Layer,Height\nROOM,3 m\n")
    (line,) = refused(folder, capsys)
    assert "found no columns Layer and Becomes" in line
    folder.table("Layer,Becomes,Hieght (mm)\nROOM,room outline,3000\n")
    assert any(
        'column C (Hieght (mm)): found the heading "Hieght (mm)"' in line
        for line in refused(folder, capsys)
    )


def test_fronts_that_are_none(folder: Folder, capsys: Printed) -> None:
    folder.draw(Drawing().room())
    (line,) = refused(folder, capsys, "--front", "LP9=south")
    assert "--front: found LP9, right is the id of gear on the plan" in line
    (line,) = refused(folder, capsys, "--front", "panelboard-1=45")
    assert "right is one of its sides: 0, 90, 180, 270" in line


def test_what_belongs_to_other_files(folder: Folder, capsys: Printed) -> None:
    folder.draw(Drawing().room())
    for option in (("--around", "LP1"), ("--mapping", "kinds.toml"), ("--size", "6x4")):
        (line,) = refused(folder, capsys, *option)
        assert f"{option[0]}: found beside a plan" in line
    (folder.path / "list.csv").write_text("Tag\nLP1\n")
    command = ["import", str(folder.path / "list.csv"), "-o", "x.yaml"]
    assert main([*command, "--drawn-in", "mm"]) == 2
    assert "--drawn-in: found without a plan" in capsys.readouterr().err


def test_without_a_table_the_layers_are_listed(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    drawing.closed("-A1", BOARD)
    folder.draw(drawing)
    command = ["import", str(folder.path / "plan.dxf"), "-o"]
    assert main([*command, str(folder.path / "room.yaml")]) == 2
    said = capsys.readouterr().err
    assert "--layers: found nothing, right is --layers TABLE.csv" in said
    assert "layer GEAR: 1 closed, 0 open, 500 x 150 mm from 1000, 3850" in said
    assert folder.made() == []
    assert main([*command, str(folder.path / "new.csv")]) == 0
    text = (folder.path / "new.csv").read_text("utf-8")
    assert text.splitlines()[0].startswith("Layer,Becomes,Height (mm),")
    assert "\n'-A1,,," in text  # no formula for whoever opens it
    # Filled in, it is what the import takes; what it does not decide is told.
    filled = text.replace("ROOM,,", "ROOM,room outline,3000")
    folder.table(filled.replace("GEAR,,", "GEAR,panelboard,900"))
    assert folder.run() == 0
    told = capsys.readouterr().err
    assert "not in the table, left out: layer -A1: 1 closed" in told


@pytest.mark.long
def test_reading_has_an_end(tmp_path: Path) -> None:
    file = tmp_path / "plan.dxf"
    file.write_bytes(WHOLE)
    told: list[str] = []
    plan = plan_of(file, None, told.append)
    assert [one.layer for one in plan.rings] == ["ROOM", "GEAR"]
    assert told[0] == "opening plan.dxf"
    with pytest.raises(ModelError) as caught:
        plan_of(file, None, told.append, seconds=0.0)
    assert "took more than 0 s and was ended" in str(caught.value)


@pytest.mark.long
@pytest.mark.skipif(
    importlib.util.find_spec("resource") is None, reason="no such limit on Windows"
)
def test_more_memory_than_it_may_have_is_one_line(tmp_path: Path) -> None:
    file = tmp_path / "plan.dxf"
    file.write_bytes(WHOLE)
    with pytest.raises(ModelError) as caught:
        plan_of(file, None, lambda _: None, memory=64 * 2**20)
    (said,) = caught.value.mistakes
    assert str(file) in said
