"""Lists of equipment, as offices write them, and every mistake in them with its cell.

The lists are invented. What a spreadsheet calls a column is common practice (A to Z,
then AA); how numbers are grouped is ISO 80000-1, 7.3; that an unnamed unit is a mistake
is the product's own contract.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d import Item, Room, Scene, check
from model3d.exchange.schedule.amounts import AmountError, NumberSigns, length
from model3d.exchange.schedule.grid import GridError, grids_of_text
from model3d.exchange.schedule.joined import Joined, joined, names_in
from model3d.exchange.schedule.kind_words import KindError, kind_of, mapping_of
from model3d.exchange.schedule.listing import ScheduleError
from model3d.exchange.schedule.schedule import read_schedule
from model3d.units import to_metres

ROOM = Scene(
    title="Annex",
    units="mm",
    rules="nec-2023",
    room=Room(size=(9000, 7000), height=3000, walls="block"),
)


def read(
    text: str | bytes,
    *,
    into: Scene = ROOM,
    room: str | None = None,
    mapping: str = "",
) -> Joined:
    data = text if isinstance(text, bytes) else text.encode()
    there = names_in(into)
    kinds = mapping_of(mapping)
    schedule = read_schedule(
        grids_of_text(data),
        "list.csv",
        units=into.units,
        kinds=kinds,
        room=room,
        there=there,
    )
    return joined(into, schedule)


def items(text: str | bytes, **more: str) -> dict[str, Item]:
    return {item.id: item for item in read(text, **more).scene.items}  # type: ignore[arg-type]


def mistakes(text: str, into: Scene = ROOM) -> list[str]:
    with pytest.raises(ScheduleError) as caught:
        read(text, into=into)
    return [str(one).removeprefix("list.csv: ") for one in caught.value.mistakes]


HEAD = "Tag,Kind,Width (mm),Depth (mm),Height (mm)"
LISTS = Path(__file__).parent / "lists"
"""As offices in America write them, and as spreadsheets in Europe do."""


def test_a_list_as_american_offices_write_it() -> None:
    found = items((LISTS / "american.csv").read_bytes())
    assert [item.kind for item in found.values()] == [
        "switchboard",
        "transformer",
        "panelboard",
        "battery-cabinet",
    ]
    board = found["MSB-1"]
    assert board.size == ("96 in", "24 in", "90 in")
    assert board.written()["place"] == {"wall": "north", "along": "4 ft 0 in"}
    assert board.written()["supply"] == {"system": "480Y/277", "amps": 2000}
    assert found["T-1"].size == ("30 in", "24 1/2 in", "48 in")
    assert found["T-1"].place is None
    assert found["LP-1"].supply is not None
    assert found["LP-1"].supply.volts == 120
    assert found["LP-1"].supply.amps == 225
    batteries = found["BATT-1"].supply
    assert batteries is not None
    assert (batteries.volts, batteries.direct_current) == (125, True)


def test_a_list_as_european_offices_write_it() -> None:
    found = items((LISTS / "european.csv").read_bytes())
    assert found["LP-1"].size == (508, 146, 1000)
    assert found["LP-1"].name == "Lights north"
    assert found["LP-1"].written()["place"] == {
        "wall": "north",
        "along": 1200.5,
        "bottom": 900,
    }
    assert found["MSB"].size == (2400, 600, "7 ft 1/2 in")
    assert found["MSB"].supply is not None
    assert found["MSB"].supply.amps == 1600
    assert found["DS-1"].size == ("16 in", "6 1/2 in", "24 in")


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_every_way_to_write_a_table(sign: str, coding: str, end: str) -> None:
    rows = [HEAD.split(","), ["K\xfcche", "ups", "600", "600", "1800"], [], [""] * 5]
    text = "".join(f"{sign.join(row)}{end}" for row in rows)
    (item,) = items(text.encode(coding)).values()
    assert (item.id, item.kind, item.size) == ("K\xfcche", "ups", (600, 600, 1800))


def test_what_a_spreadsheet_says_of_its_own_sign() -> None:
    assert [*items(f"sep=;\n{HEAD.replace(',', ';')}\nA;ups;1;1;1\n")] == ["A"]
    said = mistakes(f"sep=;\n{HEAD.replace(',', ';')}\nA;zebra;1;1;1\n")
    assert said[0].startswith("row 3, column B (Kind): A: found")


def test_a_size_in_one_cell() -> None:
    order = "Tag,Kind,W x H x D (in)\nA,ups,20 x 40 x 5 3/4\n"
    assert items(order)["A"].size == ("20 in", "5 3/4 in", "40 in")
    letters = 'Tag,Kind,Dimensions\nA,ups,"16""W x 6.5""D x 24""H"\n'
    assert items(letters)["A"].size == ("16 in", "6.5 in", "24 in")
    shared = "Tag,Kind,Size DxWxH\nA,ups,200x600x1800 mm\n"
    assert items(shared)["A"].size == (600, 200, 1800)
    (said,) = mistakes("Tag,Kind,Size (mm)\nA,ups,600 x 400 x 200\n")
    assert "right is each with W, D or H, or a heading" in said


def test_units_may_stand_in_a_row_of_their_own() -> None:
    text = "Tag,Kind,Width,Depth,Height\n,,mm,mm,in\nA,ups,600,600,70\n"
    assert items(text)["A"].size == (600, 600, "70 in")


def test_a_place_by_the_middle_of_the_back() -> None:
    """60 cm deep, its back at y = 4 m, facing south: its middle is at 3.7 m."""
    text = "Tag,Kind,W (cm),D (cm),H (cm),X (m),Y (m),Front\nA,ups,60,60,180,3,4,{}\n"
    south, east = (items(text.format(way))["A"] for way in ("South", "90"))
    assert south.written()["place"] == {"at": (3000, 3700), "facing": "south"}
    assert east.written()["place"] == {"at": (3300, 4000), "facing": 90}
    placed = check(read(text.format("90")).scene).arrangement
    assert placed is not None
    low, high = placed.items["A"].solid.bounds
    assert (low[0], low[1], high[0], high[1]) == pytest.approx((3.0, 3.7, 3.6, 4.3))


def test_items_stand_on_one_another() -> None:
    text = (
        f"{HEAD},Wall,Along (mm),Stands on,Over,Gap (mm)\n"
        "P,pad,700,700,100,north,500,,,\nT,transformer,600,500,800,,,P,,\n"
        "W,wireway,600,200,150,,,,T,50\n"
    )
    found = items(text)
    assert found["T"].written()["place"] == {"stands_on": "P"}
    assert found["W"].written()["place"] == {"over": "T", "gap": 50}


def test_other_columns_of_an_item() -> None:
    text = (
        f"{HEAD},Voltage LL,Voltage LG,Door,Door width (mm),Line-up,Global ID,Rear\n"
        "A,switchboard,800,600,2000,480,277,left,800,L,0Kx,Bolted\n"
    )
    item = items(text)["A"].written()
    assert item["supply"] == {"system": "480Y/277"}
    assert item["doors"] == ({"hinge": "left", "width": 800},)
    assert (item["line_up"], item["guid"], item["rear"]) == ("L", "0Kx", "bolted")


def test_kinds_by_words_and_by_a_mapping() -> None:
    for words, kind in (
        ("MCC", "motor-control-center"),
        ("Panelboards", "panelboard"),
        ("Wall-mounted lighting panel", "panelboard"),
        ("automatic transfer switch, 4-pole", "transfer-switch"),
        ("Pad mounted transformer", "transformer"),
        ("wall", "wall"),
    ):
        assert kind_of(words, {}) == kind
    for words, right in (
        ("UPS output panelboard", "one of panelboard or ups"),
        ("Widget", "a kind such as panelboard"),
        ("panelbord", "nearest: panelboard"),
    ):
        with pytest.raises(KindError, match=right):
            kind_of(words, {})
    mapping = '[kinds]\n"UPS output panelboard" = "panelboard"\n'
    text = f"{HEAD}\nA,UPS Output  Panelboard,600,200,900\n"
    assert items(text, mapping=mapping)["A"].kind == "panelboard"
    for wrong in ('"A" = "panelbord"', "A = 3", "kinds = 3", "A"):
        with pytest.raises(KindError, match="found "):
            mapping_of(wrong)


MISTAKES = [
    ("Width\n500", "C (Width)", 'found "500", right is a length with its unit'),
    ("Width\n", "C (Width)", "found nothing, right is the width"),
    ("Width\n5 stone", "C (Width)", "right is a length with mm, cm, m, in or ft"),
    ("Width\n-5 mm", "C (Width)", "right is a length above zero"),
    ('Width\n"1,200 m"', "C (Width)", "right is 1200 or 1.2: it may be either"),
    ("Width (mm)\n1.508", "C (Width (mm))", "right is 1508 or 1.508: it may be either"),
    ("Width\n1/0 in", "C (Width)", "a fraction with a denominator above zero"),
    ("Width\n10000001 m", "C (Width)", "right is a length below 10000 km"),
    ("Width (in)\n99999999999999", "C (Width (in))", "a length below 10000 km"),
    (f"Width\n{'9' * 400} m", "C (Width)", "right is a finite length"),
]


@pytest.mark.parametrize(("cell", "column", "said"), MISTAKES)
def test_a_mistake_in_a_length(cell: str, column: str, said: str) -> None:
    title, text = cell.split("\n")
    rows = f"Tag,Kind,{title},Depth,Height\nA,ups,{text},5 mm,5 mm\n"
    (line,) = mistakes(rows)
    assert line.startswith(f"row 2, column {column}: A: ")
    assert said in line


def test_a_mistake_at_a_tag_without_end_is_one_line_to_be_read() -> None:
    rows = f"Tag,Kind,Width {'w' * 900},Depth\n{'A' * 9000},ups,5 mm,x\n"
    for line in mistakes(rows):
        assert len(line) < 400
        assert "A" * 60 + "..." in line or "Width" in line


def test_every_mistake_is_told_at_once_with_row_and_column() -> None:
    text = (
        f"{HEAD},Wall,Along,Volts,Amps,Door\n"
        "A,panelboard,500,150,900,north,1 m,208Y/120,225,left\n"
        "A,ups,1,1,1,,,,,\n"
        ",ups,1,1,1,,,,,\n"
        "B,widget,1,1,1,nroth,2 m,999Q,x,lefft\n"
        "C,ups,,,,east,,,,\n"
        "D,ups,1,1,1,,30 mm,,,\n"
        "E,,1,1,1,,,,,\n"
    )
    said = mistakes(text)
    assert [line.split(": ")[0] for line in said] == [
        "row 3, column A (Tag)",
        "row 4, column A (Tag)",
        "row 5, column B (Kind)",
        "row 5, column F (Wall)",
        "row 5, column H (Volts)",
        "row 5, column I (Amps)",
        "row 5, column J (Door)",
        "row 6, column C (Width (mm))",
        "row 6, column G (Along)",
        "row 7, column G (Along)",
        "row 8, column B (Kind)",
    ]
    assert 'found "A" again, as in row 2' in said[0]
    assert "nearest: north" in said[3]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b\n1,2\n", "found no headings"),
        ("", "found no headings"),
        ("Kind,Width\nups,1\n", "found no column Tag"),
        ("Tag,Kind,Width,W\nA,ups,1,1\n", "found the same as in column C (Width)"),
        ("Tag,Kind,Width,Depth,Height\n", "found no rows"),
        ("Tag,Kind,AFF\nA,ups,48 in\n", 'found "AFF", right is Bottom or Top'),
        ("Tag,Kind,Elev.\nA,ups,48 in\n", "right is Bottom or Top"),
        ("Tag,Kind\nA,ups,7,8\n", 'found "7" and "8" behind the last heading'),
        ("Tag,Kind,Room\nA,ups,E1\nB,ups,E2\n", 'found the rooms "E1" and "E2"'),
    ],
)
def test_what_is_no_list(text: str, said: str) -> None:
    assert said in mistakes(text)[0]


def test_only_the_rows_of_a_room_are_taken() -> None:
    text = f"Room,{HEAD}\nELEC 215,A,ups,1,1,1\nMech,B,zebra,1,1,1\n"
    assert [*items(text, room="elec 215")] == ["A"]
    with pytest.raises(ScheduleError, match='found no room "X", right is "ELEC 215"'):
        read(text, room="X")


def test_a_list_is_joined_by_id() -> None:
    old = Item(
        id="A",
        kind="panelboard",
        size=(500, 150, 900),
        place={"wall": "north", "along": 500},
        supply={"system": "208Y/120", "amps": 100},
        door="left",
    )
    scene = ROOM.with_item(old)
    found = read("Tag,Amps,Description\nA,225,Lights\n", into=scene)
    assert found.new == ()
    assert found.scene.items[0].written() == {
        **old.written(),
        "name": "Lights",
        "supply": {"system": "208Y/120", "amps": 225},
    }
    # A description says what is new; it makes nothing else of what is there.
    described = f"Tag,Description,{HEAD.partition('Kind,')[2]}\n"
    assert items(f"{described}B,Lights panelboard,1,1,1\n")["B"].kind == "panelboard"
    assert "right is a kind" in mistakes(f"{described}B,Lights,1,1,1\n")[0]
    # What the scene does not have must be whole.
    said = mistakes("Tag,Amps\nB,225\n", into=scene)
    assert [line.rsplit(": ", 1)[-1] for line in said] == [
        "no column Kind",
        "found no size, right is width, depth and height",
    ]


def test_what_does_not_fit_the_scene_is_a_mistake_of_the_row() -> None:
    (said,) = mistakes(f"{HEAD},Stands on\nA,ups,1,1,1,B\n")
    assert said.startswith('row 2, column F (Stands on): A: found "B", right is the id')
    (said,) = mistakes(f"{HEAD}\nfloor,ups,1,1,1\n")
    assert said.startswith('row 2, column A (Tag): floor: found "floor", a part of the')


LENGTHS = st.decimals(1, 99_999, places=2)


@pytest.mark.long
@given(LENGTHS, st.sampled_from(["mm", "in", "ft", "m"]), st.booleans(), st.booleans())
def test_a_number_is_read_as_it_is_grouped(
    value: object, unit: str, comma: object, grouped: object
) -> None:
    text = f"{value:,.2f}" if grouped else f"{value:.2f}"
    if comma:
        text = text.translate({ord(","): ".", ord("."): ","})
    signs = NumberSigns(comma=bool(comma), dot=not comma)
    written = length(f"{text} {unit}", None, "mm", signs)
    wanted = to_metres(float(str(value)), unit)
    assert to_metres(written, "mm") == pytest.approx(wanted, rel=1e-9)


@given(st.integers(1, 300), st.integers(0, 15), st.sampled_from(['"', "in", " Inches"]))
def test_a_fraction_of_an_inch_is_read(whole: int, sixteenths: int, unit: str) -> None:
    text = f"{whole} {sixteenths}/16{unit}"
    written = length(text, "mm", "mm", NumberSigns(comma=False, dot=False))
    assert to_metres(written, "mm") == pytest.approx((whole + sixteenths / 16) * 0.0254)


@given(st.text("0123456789., '\"-/xmincftX ", max_size=12))
def test_no_text_is_a_fault(text: str) -> None:
    """A bare number never gets through, whatever is written around it."""
    try:
        written = length(text, None, "mm", NumberSigns(comma=False, dot=False))
    except AmountError:
        return
    assert any(sign in text.casefold() for sign in ("m", "i", "f", "'", '"'))
    assert to_metres(written, "mm") is not None


@given(st.binary(max_size=200))
def test_no_bytes_are_a_fault(data: bytes) -> None:
    with suppress(GridError, ScheduleError):
        read(data)


# Drawn as one text: drawing each cell for itself takes five times as long.
cells = st.text(
    st.sampled_from(";;;\n\"'.,/-x 0189mfta") | st.characters(), max_size=250
)


@pytest.mark.long
@given(cells)
def test_no_table_is_a_fault(rows: str) -> None:
    text = f"{HEAD.replace(',', ';')}\n{rows}"
    with suppress(GridError, ScheduleError):
        read(text.encode("utf-8", "replace"))


def test_a_rating_is_no_thousandth() -> None:
    """1.200 is 1200 where commas part decimals (ISO 80000-1), and 1.2 elsewhere."""
    head = "Tag;Kind;Width (mm);Depth (mm);Height (mm);Amps\n"
    row = "A;switchboard;2000;600;2000;1.200\n"
    (line,) = mistakes(f"{head}{row}")
    assert "right is 1200 or 1.2: it may be either" in line
    supply = items(f"{head}{row}B;ups;500,5;600;900;\n")["A"].supply
    assert supply is not None
    assert supply.amps == 1200


def test_tags_that_differ_by_letters_and_blanks_are_one() -> None:
    head = "Tag,Kind,Width (mm),Depth (mm),Height (mm)\n"
    (line,) = mistakes(f"{head}LP 1,ups,5,5,5\nLP  1,ups,5,5,5\n")
    assert 'found "LP 1" again, as in row 2' in line
    (line,) = mistakes(f"{head}LP1,ups,5,5,5\nlp1,ups,5,5,5\n")
    assert 'found "lp1" beside "LP1", right is one way to write it' in line
    (line,) = mistakes(f"{head}LP1,ups,5,5,5\nLP\uff11,ups,5,5,5\n")
    assert 'beside "LP1", right is one way to write it' in line
    (line,) = mistakes(f"{head}LP\u200b1,ups,5,5,5\n")
    assert "right is a tag without the sign U+200B, which nobody sees" in line
    assert "\u200b" not in line


def test_what_a_heading_leaves_open_is_told_once() -> None:
    rows = "A,ups,5 x 6 x 7\nB,ups,5 x 6 x 7\nC,ups,5 mm x 6 mm x 7 mm\n"
    (line,) = mistakes(f"Tag,Kind,Size W x D x H\n{rows}D,ups,5 x 6 x 7\n")
    assert 'row 2, column C (Size W x D x H): A: found "5"' in line
    assert line.endswith("762 mm, 30 in (as in 2 more rows)")
    lines = mistakes("Tag,Wall\nA,\nB,\n")
    kind, size = (line.partition(": A: ")[2] for line in lines)
    assert kind.endswith("such as panelboard: no column Kind (as in 1 more row)")
    assert size == "found no size, right is width, depth and height (as in 1 more row)"


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ('"900\nLP2,ups,5,5,5\n', "row 2: found a quote that is not closed, right is"),
        ("9" * 200_000, "row 2: found more than 131072 characters in a cell"),
    ],
)
def test_a_cell_without_an_end(cell: str, said: str) -> None:
    # RFC 4180, 2: a field in quotes ends with one.
    head = "Tag,Kind,Width (mm),Depth (mm),Height (mm)\n"
    with pytest.raises(GridError) as caught:
        grids_of_text(f"{head}LP1,ups,5,5,{cell}".encode())
    assert str(caught.value).startswith(said)
    assert "field" not in str(caught.value)
    (closed, *_) = grids_of_text(f'{head}LP1,ups,5,5,"900\n"'.encode())
    assert closed.rows[1] == ("LP1", "ups", "5", "5", "900")


def test_headings_in_two_rows_as_merged_cells_leave_them() -> None:
    text = (
        "GEAR,,,,,\n"
        "Tag,Description,Dimensions (in),,,Amps\n"
        ",,W,D,H,\n"
        "LP-1,Panelboard,20,5.75,36,225\n"
    )
    board = items(text)["LP-1"]
    assert board.size == ("20 in", "5.75 in", "36 in")
    assert board.supply is not None
    assert board.supply.amps == 225
    said = mistakes(text.replace("36", "tall"))
    assert said[0].startswith("row 4, column E (Dimensions (in) H): LP-1: found")
    # What stands below headings is no second row of them where it says an item.
    plain = items(f"{HEAD}\nPanel,panelboard,20,6,36\n")
    assert plain["Panel"].kind == "panelboard"


def test_titles_and_notes_between_the_items_are_passed_over_and_told() -> None:
    rows = ["PANELBOARDS", "LP-1,panelboard,500,150,900", ",,,,", "Notes:"]
    text = "\n".join([HEAD, *rows, "1. All by the owner of the house"])
    schedule = read_schedule(
        grids_of_text(text.encode()), "list.csv", units="mm", kinds={}
    )
    assert [entry.id for entry in schedule.entries] == ["LP-1"]
    assert [row for row, _ in schedule.asides] == [2, 5, 6]
    # What may be a tag is an item that says nothing.
    assert mistakes(f"{HEAD}\nLP-9\n")[0].startswith("row 2, column B (Kind): LP-9")
    assert mistakes(f"{HEAD}\nMSB\n")[0].startswith("row 2, column B (Kind): MSB")


def test_a_mounting_in_words_is_a_note_and_a_height_asks_for_its_end() -> None:
    text = f"{HEAD},Mounting,Wall,Dist. from left corner\n"
    row = "LP-1,panelboard,500,150,900,{},north,2 m\n"
    found = items(text + row.format("SURFACE"))["LP-1"]
    assert found.written()["place"] == {"wall": "north", "along": "2 m"}
    (said,) = mistakes(text + row.format("48 in"))
    assert said.startswith('row 1, column F (Mounting): found "Mounting", right is')


def test_a_list_in_german_french_and_spanish() -> None:
    """Headings and kinds as such lists have them: common practice."""
    german = (
        "BMK;Bezeichnung;Breite [m];Tiefe [m];Höhe [m];Nennspannung;Nennstrom [A]\n"
        "=E01;Unterverteilung;0,600;0,250;1,200;400/230;63\n"
        "=E02;Niederspannungs-Hauptverteilung;2,400;0,600;2,100;400/230;630\n"
        "=E03;Trafo;0,800;0,600;1,000;400/230;160\n"
    )
    read_in = items(german)
    kinds = ["panelboard", "switchboard", "transformer"]
    assert [one.kind for one in read_in.values()] == kinds
    assert read_in["=E01"].size == ("0.6 m", "0.25 m", "1.2 m")
    french = (
        "Repère;Type;Largeur (cm);Profondeur (cm);Hauteur (cm)\nA;TGBT;60,5;60;210\n"
    )
    assert items(french.encode("cp1252"))["A"].kind == "switchboard"
    spanish = (
        "Etiqueta\tTipo\tAncho (mm)\tFondo (mm)\tAltura (mm)\nA\tSeccionador\t1\t2\t3\n"
    )
    assert items(spanish)["A"].kind == "disconnect"


def test_units_of_their_own_row_or_column_and_what_is_no_item() -> None:
    rows = (
        "Mark,Description,Width,Depth,Height,Volts,Amps\n"
        ",,(mm),(mm),(mm),(V),(A)\n"
        "A,Panelboard,508,146,914,208Y/120,225\n"
        "Total,1,,,,,225\n"
    )
    schedule = read_schedule(grids_of_text(rows.encode()), "l", units="mm", kinds={})
    assert [one.id for one in schedule.entries] == ["A"]
    assert schedule.asides == ((4, "Total 1 225"),)
    column = "Tag,Kind,W,D,H,Unit\nA,panelboard,20,6,36,in\nB,pad,700,600,100,mm\n"
    sizes = [one.size for one in items(column).values()]
    assert sizes == [("20 in", "6 in", "36 in"), (700.0, 600.0, 100.0)]
    none = column.replace(",mm\n", ",EA\n")
    assert len(mistakes(none)) == 3


def test_what_is_written_again_and_again_is_no_tag() -> None:
    text = (
        "Item,Equipment,Width (mm),Depth (mm),Height (mm)\n"
        "E-1,Panelboard,508,146,914\nE-2,ATS,600,400,1500\nE-3,Panelboard,508,146,914\n"
    )
    kinds = {name: item.kind for name, item in items(text).items()}
    assert kinds == {"E-1": "panelboard", "E-2": "transfer-switch", "E-3": "panelboard"}


def test_several_things_in_one_row() -> None:
    head = "Tag,Qty,Kind,Width (mm),Depth (mm),Height (mm)"
    rows = 'P-09 thru P-11,3 EA,ups,5,5,5\n"T1, T2",2,pad,5,5,5\nMSB,1,ups,5,5,5\n'
    text = f"{head}\n{rows}"
    assert [*items(text)] == ["P-09", "P-10", "P-11", "T1", "T2", "MSB"]
    said = mistakes(
        f"{head}\nP1,2,ups,5,5,5\nP2,3,ups,5,5,5\nP3-P4,3,ups,5,5,5\nP7,2,ups,5,5,5\n"
    )
    right = "right is one row an item, or as many tags as P1-P3 or P1, P2, P3 are"
    assert said[0] == (f'row 2, column B (Qty): P1: found "2", {right} (also in row 5)')
    assert len(said) == 2
    placed = f"{head},Wall,Along (mm)\nP1-P2,2,ups,5,5,5,north,0\n"
    (line,) = mistakes(placed)
    assert line.endswith("P1-P2: found one place for 2, right is a row for each")


def test_what_is_wrong_alike_is_told_once_with_its_rows() -> None:
    rows = "".join(f"P{n},{'ladle' if n % 2 else 'ups'},5,5,5\n" for n in range(30))
    (line,) = mistakes(f"{HEAD}\n{rows}")
    assert line.startswith('row 3, column B (Kind): P1: found "ladle", right is a kind')
    assert line.endswith("(also in rows 5, 7, 9, 11, 13, 15, 17, 19 and 6 more)")
    (line,) = mistakes(f"{HEAD},Wall,From the door\nP1,ups,5,5,5,north,2 m\n")
    assert line.endswith("no place yet (nothing is known of From the door)")


def test_headings_and_cells_of_other_offices() -> None:
    """As common practice has them; none is asked for anywhere."""
    text = (
        "SCHEDULE OF GEAR,,,,,,,\n"
        "Panel Name,Panel Type,Size (WxDxH) in,Volts L-L,Volts L-N,Bus (A),Doors,Wall,"
        "From left,To underside\n"
        "LP-1,Receptacle panel,20 x 6 x 48,480,277,100,Left hinged,N. wall,0 in,0 in\n"
        "LP-2,Branch panel,20 x 6 x 48,480,277,100,RH,wall-east,4 ft,30 in\n"
    )
    first, second = items(text).values()
    assert (first.kind, first.size) == ("panelboard", ("20 in", "6 in", "48 in"))
    assert first.supply is not None
    assert first.supply.system == "480Y/277"
    assert first.written()["place"] == {
        "wall": "north",
        "along": "0 in",
        "bottom": "0 in",
    }
    assert (first.door, second.door) == ("left", "right")
    assert second.written()["place"]["wall"] == "east"
    (said,) = mistakes(text.replace("20 x 6 x 48,480,277,100,RH", "tall,,,,"))
    assert said.startswith("row 4, column C (Size (WxDxH) in): LP-2: found")
    volts = items(f"{HEAD},Voltage (V),Current (A)\nT1,ups,5,5,5,480-208Y/120V,63\n")
    assert volts["T1"].written()["supply"] == {"system": "480", "amps": 63}
    tags = "Equipment,Size W x D x H (mm)\nPanelboard A,5x6x7\nUPS 2,5x6x7\n"
    assert [one.kind for one in items(tags).values()] == ["panelboard", "ups"]
    sections = (
        "Tag,Width (mm),Depth (mm),Height (mm)\nPANELBOARDS\nA,5,6,7\nB,5,6,7\n"
        "Safety switches:\nC,5,6,7\nTotal,15,18,21\n"
    )
    kinds = [one.kind for one in items(sections).values()]
    assert kinds == ["panelboard", "panelboard", "disconnect"]
    (said,) = mistakes(sections.replace("PANELBOARDS", "Gear:"))
    assert said.endswith("no column Kind (as in 1 more row)")
    german = (
        "Kennzeichen;Art;Breite [mm];Tiefe [mm];Höhe [mm];Wand;Abstand links [mm];"
        "Unterkante [mm]\nUV1;Unterverteiler;600,5;250;1.800,0;Süd;700;200\n"
    )
    place = {"wall": "south", "along": 700, "bottom": 200}
    assert items(german)["UV1"].written()["place"] == place
