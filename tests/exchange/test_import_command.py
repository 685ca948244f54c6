"""``standclear import``: from a list in a file to a scene in a file."""

from __future__ import annotations

import io
import json
import os
import sys
import time
import zipfile
from typing import TYPE_CHECKING

import pytest
import yaml
from openpyxl import Workbook, load_workbook

from model3d import read_scene
from model3d.exchange.schedule import grid
from model3d.scene.parts.placement import At
from tests.paths import ROOT
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

LIST = """\
Tag,Kind,Width (mm),Depth (mm),Height (mm),Wall,Along (mm),Volts,Maker
LP1,panelboard,500,150,900,north,1000,208Y/120,Invented Works
T1,transformer,600,500,800,,,,
"""
NEW = ("--size", "6000x4000x3000", "--units", "mm", "--rules", "nec-2023")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "list.csv").write_text(LIST, "utf-8")
    return tmp_path


def test_a_list_becomes_a_scene(folder: Path, capsys: Printed) -> None:
    assert main(["import", "list.csv", *NEW, "-o", "room.yaml"]) == 0
    printed = capsys.readouterr()
    assert printed.out == "room.yaml\n"
    assert printed.err.splitlines() == [
        "no Bottom or Top, so on the floor: LP1",
        "no place yet: T1",
        "list.csv: kept as comments only: Maker",
    ]
    text = (folder / "room.yaml").read_text("utf-8")
    assert "    # Maker: Invented Works\n" in text
    assert [item.id for item in read_scene("room.yaml").items] == ["LP1", "T1"]
    assert main(["import", "list.csv", *NEW, "-o", "again.yaml"]) == 0
    assert (folder / "again.yaml").read_text("utf-8") == text
    assert main(["check", "room.yaml"]) == 0
    assert "T1: has no place yet" in capsys.readouterr().out


def test_a_height_that_is_not_given_is_told(folder: Path) -> None:
    flat = ("--size", "20 ft x 14 ft", *NEW[2:])
    assert main(["import", "list.csv", *flat, "-o", "room.yaml"]) == 0
    text = (folder / "room.yaml").read_text("utf-8")
    assert "NOT SAID, so measure it and put it right" in text
    assert "size: [20 ft, 14 ft]\n" in text


def test_a_list_is_joined_to_a_scene_whose_comments_stay(folder: Path) -> None:
    old = ROOT / "scenes" / "pump-station.yaml"
    (folder / "more.csv").write_text(
        "tag,amps,width,depth,height,kind\nLP1,225,,,,\nNEW,30,4 m,2 m,7 m,ups\n"
    )
    words = ["import", "more.csv", "--into", str(old), "-o", "joined.yaml"]
    assert main(words) == 0
    before = old.read_text("utf-8").splitlines()
    after = (folder / "joined.yaml").read_text("utf-8").splitlines()
    changed = [line for line in after if line not in before]
    assert changed == [
        "    supply: {system: 208Y/120, amps: 225}",
        "  - id: NEW",
        "    kind: ups",
        "    size: [4 m, 2 m, 7 m]",
        "    supply: {amps: 30}",
    ]
    assert len(after) == len(before) + 4


HEAD = (
    "title: A\nunits: mm\nrules: nec-2023\nroom: {size: [6000, 4000], height: 3000}\n"
)
PAD = "id: P, kind: pad, size: [1, 1, 1], place: {at: [5000, 1000]}"


BLOCK = """\
items:
    - id: P
      kind: pad
      size: [1, 1, 1]
      name: |
        A
        B
sheet: {project: X}
"""
AS_JSON = json.dumps({**yaml.safe_load(HEAD), "items": []})


@pytest.mark.parametrize(
    "text",
    [
        HEAD,
        f"{HEAD}items: []\n",
        f"{HEAD}items:\n- {{{PAD}}}  # behind\n\n# at the end\n",
        f"{HEAD}items: [{{{PAD}}}]\n",
        HEAD + BLOCK,
        f"{HEAD}items:\n  - {{{PAD}}}".replace("\n", "\r\n"),
        AS_JSON,
    ],
)
def test_items_are_put_behind_the_others(folder: Path, text: str) -> None:
    (folder / "old.yaml").write_bytes(text.encode())
    assert main(["import", "list.csv", "--into", "old.yaml", "-o", "new.yaml"]) == 0
    old, new = read_scene("old.yaml"), read_scene("new.yaml")
    assert new.items[: len(old.items)] == old.items
    assert [item.id for item in new.items[len(old.items) :]] == ["LP1", "T1"]
    after = (folder / "new.yaml").read_bytes().decode()
    for line in text.splitlines():
        assert line in after or "items" in line
    assert after.count("\r\n") in (0, after.count("\n"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["list.csv"], "--size: found nothing, right is --size, or --into SCENE"),
        (["list.csv", "--into", "old.yaml", *NEW], "--size: found --into beside it"),
        (["list.pdf", *NEW], "list.pdf: right is a list that ends in .csv"),
        (["none.csv", *NEW], "none.csv: No such file"),
        (["list.csv", *NEW, "--sheet", "A"], "--sheet: found no workbook"),
        (["list.csv", *NEW, "--mapping", "none.toml"], "none.toml: No such file"),
        (["list.csv", *NEW[:5], "nec-1"], 'rules: found "nec-1", right is a rule book'),
        (["list.csv", "--into", "none.yaml"], "none.yaml:1:1: found no such file"),
        (["bad.csv", *NEW], "bad.csv: row 2, column C (Width): A: found"),
        (["list.csv", *NEW, "-o", "room.txt"], "a scene ends in .yaml or .yml, not"),
        (["list.csv", *NEW, "-o", "old.yaml"], "old.yaml: is there already"),
    ],
)
def test_what_cannot_be_used_writes_nothing(
    folder: Path, words: list[str], said: str, capsys: Printed
) -> None:
    (folder / "bad.csv").write_text("Tag,Kind,Width,Depth,Height\nA,ups,1,1 m,1 m\n")
    (folder / "old.yaml").write_text(HEAD)
    before = {file: file.read_bytes() for file in folder.iterdir()}
    target = [] if "-o" in words else ["-o", "room.yaml"]
    assert main(["import", *words, *target]) == 2
    printed = capsys.readouterr()
    assert said in printed.err
    assert not printed.out
    assert {file: file.read_bytes() for file in folder.iterdir()} == before


def test_of_a_model_of_another_program_it_is_told_what_is_read(
    folder: Path, capsys: Printed
) -> None:
    """It asked for the size and the unit of a list, and named no model."""
    (folder / "model.rvt").write_bytes(b"\xd0\xcf\x11\xe0")
    words = ["import", "model.rvt", "--rules", "nec-2023", "-o", "room.yaml"]
    assert main(words) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("model.rvt: right is a list that ends in .csv")
    assert line.endswith(", a plan in .dxf, or models in .ifc or .ifczip")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="Windows has no such pipes")
@pytest.mark.parametrize(
    "words",
    [
        ["pipe.csv"],
        ["pipe.tsv"],
        ["pipe.xlsx"],
        ["list.csv", "--mapping", "pipe.toml"],
        ["plan.dxf", "--layers", "pipe.csv"],
        ["model.ifc", "--mapping", "pipe.toml"],
    ],
)
def test_a_pipe_is_not_opened(folder: Path, words: list[str], capsys: Printed) -> None:
    """To read one that nobody writes to takes for ever, and of a device all memory."""
    (folder / "plan.dxf").write_text("0\nSECTION\n0\nEOF\n")
    (folder / "model.ifc").write_text("ISO-10303-21;\nEND-ISO-10303-21;\n")
    pipe = next(word for word in words if word.startswith("pipe"))
    os.mkfifo(folder / pipe)
    new = NEW if words[0].startswith(("list", "pipe")) else NEW[4:]
    assert main(["import", *words, *new, "-o", "room.yaml"]) == 2
    assert f"{pipe}: not a plain file" in capsys.readouterr().err
    assert not (folder / "room.yaml").exists()


def workbook(folder: Path, *sheets: str) -> Path:
    book = Workbook()
    for number, name in enumerate(sheets):
        page = book.active if not number else book.create_sheet()
        assert page is not None
        page.title = name
        for row in LIST.splitlines():
            cells = row.split(",")
            page.append(
                [float(one) if one.isdecimal() else one or None for one in cells]
            )
    file = folder / "list.xlsx"
    book.save(file)
    return file


def test_a_workbook_says_the_same_as_text(folder: Path, capsys: Printed) -> None:
    workbook(folder, "Gear")
    assert main(["import", "list.csv", *NEW, "-o", "a.yaml"]) == 0
    assert main(["import", "list.xlsx", *NEW, "-o", "b.yaml"]) == 0
    first, second = (folder / name for name in ("a.yaml", "b.yaml"))
    text = second.read_text("utf-8")
    assert first.read_text("utf-8") == text.replace("list.xlsx", "list.csv")
    workbook(folder, "Gear", "Old gear")
    assert main(["import", "list.xlsx", *NEW, "-o", "c.yaml"]) == 2
    assert "found lists in Gear and Old gear, right is one" in capsys.readouterr().err
    named = ["--sheet", "Gear", "-o", "c.yaml"]
    assert main(["import", "list.xlsx", *NEW, *named]) == 0
    named = ["--sheet", "None", "-o", "d.yaml"]
    assert main(["import", "list.xlsx", *NEW, *named]) == 2
    assert "found no sheet 'None', right is one of Gear" in capsys.readouterr().err


def test_workbooks_that_cannot_be_used(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    words = ["import", "list.xlsx", *NEW, "-o", "room.yaml"]
    (folder / "list.xlsx").write_bytes(b"no workbook")
    assert main(words) == 2
    assert "found no workbook" in capsys.readouterr().err
    with zipfile.ZipFile(folder / "list.xlsx", "w") as archive:
        archive.writestr("a", "b")
    assert main(words) == 2
    assert "found no workbook" in capsys.readouterr().err
    file = workbook(folder, "Gear")
    monkeypatch.setattr(grid, "_LARGEST_INSIDE", 100)
    assert main(words) == 2
    assert "MiB inside" in capsys.readouterr().err
    with zipfile.ZipFile(file, "a") as archive:
        archive.writestr("xl/sharedStrings.xml", "<sst><si/><x:si></x:si></sst>")
    for bound, most, said in (
        ("_LARGEST_READ", 1, "MiB of cells"),
        ("_MOST_BUILT", {"texts": 1}, "more than 1 texts"),
        ("_MOST_BUILT", {"rows": 1}, "more than 1 rows"),
        ("_MOST_CELLS", 1, "more than 5000000 cells"),
    ):
        monkeypatch.undo()
        monkeypatch.chdir(folder)
        monkeypatch.setattr(grid, bound, most)
        assert main(words) == 2
        assert said in capsys.readouterr().err
    monkeypatch.undo()
    monkeypatch.chdir(folder)
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    assert main(words) == 2
    assert 'pip install "standclear[xlsx]"' in capsys.readouterr().err
    monkeypatch.undo()
    book = Workbook()
    page = book.active
    assert page is not None
    for row in (["Tag", "Kind", "Width (mm)"], ["A", "ups", "=1+1"]):
        page.append(row)
    stream = io.BytesIO()
    book.save(stream)
    file.write_bytes(stream.getvalue())
    monkeypatch.chdir(folder)
    assert main(words) == 2
    assert (
        "cell C2: found a formula that was never worked out" in capsys.readouterr().err
    )


def test_a_row_may_name_a_type_of_the_scene_as_its_kind(folder: Path) -> None:
    gear = "units: in\ntypes: {Small-Panel: {kind: panelboard, size: [20, 6, 36]}}\n"
    (folder / "gear.yaml").write_text(gear, "utf-8")
    (folder / "old.yaml").write_text(f"{HEAD}types_from: gear.yaml\n", "utf-8")
    head = "tag,kind,width,depth,height,x (m),y (m),facing,wall,along (m)"
    rows = ["P1,small panel,,,,,,,north,1", "P2,SMALL-PANEL,,,,3,2,north,,"]
    rows += ["P3,small panel,1 m,1 m,1 m,,,,,"]
    (folder / "list.csv").write_text("\n".join([head, *rows]), "utf-8")
    words = ["import", "list.csv", "--into", "old.yaml", "-o", "new.yaml"]
    assert main(words) == 0
    one, other, third = read_scene("new.yaml").items
    assert one.size == other.size == ("20 in", "6 in", "36 in")
    assert isinstance(other.place, At)
    assert other.place.at == (3000.0, 2076.2)  # half of 6 in before the back's middle
    assert third.size == ("1 m", "1 m", "1 m")
    text = (folder / "new.yaml").read_text("utf-8")
    assert text.count("type: Small-Panel") == len(rows)
    assert text.count("size:") == 2  # of the room and of P3
    again = [*words[:3], "new.yaml", "-o", "again.yaml"]
    assert main(again) == 0
    assert (folder / "again.yaml").read_text("utf-8") == text


def test_what_a_list_does_not_say_stands_in_comments(folder: Path) -> None:
    assert main(["import", "list.csv", *NEW, "-o", "room.yaml"]) == 0
    scene = read_scene("room.yaml")
    assert scene.room is not None
    assert (scene.room.walls, scene.room.doors) == (None, ())
    text = (folder / "room.yaml").read_text("utf-8")
    whole = text.replace("  # walls: concrete", "  walls: concrete")
    whole = whole.replace("  # doors:\n  #   - ", "  doors:\n    - ")
    whole = whole.replace("  # lighting: ", "  lighting: ")
    (folder / "whole.yaml").write_text(whole, "utf-8")
    room = read_scene("whole.yaml").room
    assert room is not None
    assert (room.walls, len(room.doors)) == ("concrete", 1)
    assert room.lighting is not None
    assert max(map(len, text.splitlines())) <= 98


@pytest.mark.long
@pytest.mark.parametrize(
    ("row", "rows", "said"),
    [
        (5_000_001, 1, "5000000 cells, right is a smaller list"),
        (16_384, 1, "16384 columns, right is fewer"),
        (16_000, 320, "5000000 cells, right is a smaller list"),
    ],
)
def test_a_list_of_millions_of_cells_is_told(
    folder: Path, capsys: Printed, row: int, rows: int, said: str
) -> None:
    """Thirty million were looked at one by one for headings: minutes."""
    (folder / "list.csv").write_text(LIST + ("," * row + "\n") * rows)
    assert main(["import", "list.csv", *NEW, "-o", "b.yaml"]) == 2
    assert capsys.readouterr().err == f"list.csv: found more than {said}\n"


def test_a_cell_at_the_end_of_a_sheet_is_no_long_work(
    folder: Path, capsys: Printed
) -> None:
    file = workbook(folder, "Gear")
    book = load_workbook(file)
    book["Gear"]["XFD1048576"] = "x"
    book.save(file)
    start = time.process_time()
    assert main(["import", "list.xlsx", *NEW, "-o", "b.yaml"]) == 2
    assert "more than 100000 rows" in capsys.readouterr().err
    assert time.process_time() - start < 30


def test_a_height_that_nobody_said_is_told(folder: Path, capsys: Printed) -> None:
    words = ["--size", "9000x7000", "--units", "mm", "--rules", "nec-2023"]
    assert main(["import", str(folder / "list.csv"), *words, "-o", "b.yaml"]) == 0
    said = "--size: found no height, 3000 mm is taken: say how high the ceiling is"
    assert said in capsys.readouterr().err


def test_what_a_list_left_to_be_seen_is_told(folder: Path, capsys: Printed) -> None:
    rows = "DS1,disconnect,300,200,600,north,2 m\nNotes:\n"
    head = "Tag,Kind,Width (mm),Depth (mm),Height (mm),Wall,Along\n"
    (folder / "short.csv").write_text(head + rows, "utf-8")
    assert main(["import", "short.csv", *NEW, "-o", "room.yaml"]) == 0
    assert capsys.readouterr().err.splitlines() == [
        "no Bottom or Top, so on the floor: DS1",
        "short.csv: row 3: passed over, no item: Notes:",
    ]
    unknown = (head + rows).replace("disconnect", "TELECOM BACKBOARD")
    (folder / "short.csv").write_text(unknown, "utf-8")
    assert main(["import", "short.csv", *NEW, "-o", "other.yaml"]) == 2
    line = '"TELECOM BACKBOARD" = "panelboard"'
    assert f"for --mapping a line such as {line}" in capsys.readouterr().err
    (folder / "kinds.toml").write_text(line, "utf-8")
    named = ["--mapping", "kinds.toml", "-o", "other.yaml"]
    assert main(["import", "short.csv", *NEW, *named]) == 0


@pytest.mark.parametrize(
    ("whole", "broken"),
    [
        (b"</sheetData>", b"</sheetDat>"),
        (b"<sheetData>", b"<sheetData><row r='first'/>"),
        (b"<pane ", b'<pane odd="1" '),
        (b'<c r="C2" t="n"><v>', b'<c r="C2" t="n"><v>$'),
    ],
)
def test_a_damaged_sheet_is_one_line(
    folder: Path, capsys: Printed, whole: bytes, broken: bytes
) -> None:
    # Rows are read as they are asked for: the library finds it long after opening.
    file = workbook(folder, "Gear")
    book = load_workbook(file)
    book["Gear"].freeze_panes = "A2"
    book.save(file)
    name = "xl/worksheets/sheet1.xml"
    with zipfile.ZipFile(file) as archive:
        inside = {one: archive.read(one) for one in archive.namelist()}
    assert inside[name].count(whole) == 1
    inside[name] = inside[name].replace(whole, broken)
    with zipfile.ZipFile(file, "w") as archive:
        for one, data in inside.items():
            archive.writestr(one, data)
    assert main(["import", "list.xlsx", *NEW, "-o", "room.yaml"]) == 2
    said = capsys.readouterr()
    (line,) = said.err.splitlines()
    assert line == "list.xlsx: found a damaged sheet, right is a whole .xlsx file"
    assert not (folder / "room.yaml").exists()


MODELLED = """\
title: Annex
units: mm
rules: nec-2023
room: {size: [5000, 4000], height: 3000}
items:
  - id: Board
    kind: panelboard
    name: Unit A Panelboard
    tag: "575479"
    guid: 1K7eM1Qof1dOc9$mY9I4DL
    size: [508, 146, 1270]
    place: {wall: north, along: 1000, bottom: 500}
    supply: {system: 208Y/120, amps: 600}
  - {id: A1, kind: obstacle, name: Box, size: [10, 10, 10], place: {at: [50, 50]}}
  - {id: A2, kind: obstacle, name: Box, size: [10, 10, 10], place: {at: [90, 90]}}
"""


@pytest.mark.parametrize(
    ("title", "word"),
    [
        ("Tag", "Board"),
        ("Tag", "unit a panelboard"),
        ("Tag", "575479"),
        ("Tag", "1K7eM1Qof1dOc9$mY9I4DL"),
        ("Tag,GUID", "LP-1,1K7eM1Qof1dOc9$mY9I4DL"),
    ],
)
def test_a_row_is_about_what_a_model_calls_so_and_tells_what_it_overrules(
    folder: Path, capsys: Printed, title: str, word: str
) -> None:
    (folder / "model.yaml").write_text(MODELLED)
    (folder / "gear.csv").write_text(f"{title},Amps,Door\n{word},100,left\n")
    more = ["--into", "model.yaml", "-o", "joined.yaml"]
    assert main(["import", "gear.csv", *more]) == 0
    said = capsys.readouterr().err
    assert "Board: amps: the scene said 600, the list says 100" in said.splitlines()
    board, *others = read_scene(folder / "joined.yaml").items
    assert (board.id, board.door, len(others)) == ("Board", "left", 2)
    assert board.supply is not None
    assert board.supply.amps == 100


def test_the_same_in_other_words_is_no_difference(
    folder: Path, capsys: Printed
) -> None:
    """By hand: 20 in are 508 mm, 5 3/4 in 146.05 mm, and 50 in 1270 mm."""
    (folder / "model.yaml").write_text(MODELLED)
    head = "Tag,System,Amps,Width (in),Depth (in),Height (in)"
    row = "Board,120/208 Wye,600,20,5 3/4,{}"
    told = []
    for high in (50, "50 1/8"):
        (folder / "gear.csv").write_text(f"{head}\n{row.format(high)}\n")
        assert main(["import", "gear.csv", "--into", "model.yaml", "-o", "j.yaml"]) == 0
        told.append("the scene said" in capsys.readouterr().err)
        (folder / "j.yaml").unlink()
    assert told == [False, True]


@pytest.mark.parametrize("supply", ["{to_ground: 480, amps: 600}", "{to_ground: 480}"])
def test_the_system_of_a_list_takes_the_place_of_a_models_volts(
    folder: Path, capsys: Printed, supply: str
) -> None:
    """The joined scene could not be written: both stood in it, and differ."""
    text = MODELLED.replace("{system: 208Y/120, amps: 600}", supply)
    (folder / "model.yaml").write_text(text)
    (folder / "gear.csv").write_text("Tag,System,Amps\nBoard,480Y/277,600\n")
    assert main(["import", "gear.csv", "--into", "model.yaml", "-o", "j.yaml"]) == 0
    told = capsys.readouterr().err.splitlines()
    right = "the scene said 480 V, the list says 277 V (480Y/277)"
    assert f"Board: to ground: {right}" in told
    board, *_ = read_scene(folder / "j.yaml").items
    assert board.supply is not None
    assert (board.supply.system, board.supply.volts) == ("480Y/277", 277)
    assert board.supply.to_ground is None


def test_a_row_that_may_be_about_two_is_not_joined(
    folder: Path, capsys: Printed
) -> None:
    (folder / "model.yaml").write_text(MODELLED)
    (folder / "gear.csv").write_text("Tag,Kind\nBox,machine\n")
    more = ["--into", "model.yaml", "-o", "joined.yaml"]
    assert main(["import", "gear.csv", *more]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert 'found "Box", as A1 and A2 are called, right is the id of one' in line
