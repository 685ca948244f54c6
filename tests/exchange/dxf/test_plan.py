"""Plans as scenes: what is drawn, where it stands, what it is called."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
import trimesh  # noqa: TID251 - an outside look at what was made
from shapely import Point

from model3d import read_scene
from model3d.geometry.plan.footprint import footprint
from model3d.scene.parts.placement import At
from model3d.standing.arrangement import arrange
from model3d.units import to_metres
from tests.exchange.dxf.drawn_plans import (
    BOARD,
    INCHES,
    NONE,
    ROOM,
    TABLE,
    Drawing,
    Folder,
    by_hand,
    polyline,
    read_here,
    turned,
)
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.room import Room

    Printed = pytest.CaptureFixture[str]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path)


def only(scene: Scene, kind: str = "panelboard") -> Item:
    (item,) = (one for one in scene.items if one.kind == kind)
    return item


def room_of(scene: Scene) -> Room:
    assert scene.room is not None
    return scene.room


def at(item: Item) -> tuple[float, ...]:
    assert isinstance(item.place, At)
    return tuple(round(float(one), 2) for one in item.place.at)


def facing(item: Item) -> object:
    assert isinstance(item.place, At)
    return item.place.facing


def test_a_room_and_a_board(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    drawing.text("LP1", 1100, 3900)
    drawing.text("ELEC 101", 3000, 2000, "ROOM")
    scene = folder.draw(drawing).scene()
    assert scene.title == "ELEC 101"
    assert scene.units == "mm"
    assert room_of(scene).size == (6000, 4000)
    assert room_of(scene).height == 3000
    item = only(scene)
    assert item.id == "LP1"
    assert item.size == (500, 150, 900)
    assert at(item) == (1250, 3925)
    assert facing(item) == "south"
    assert item.place is not None
    assert item.place.bottom == 900  # type: ignore[union-attr]
    told = capsys.readouterr().err
    assert "LP1: front inferred as south (margin " in told
    assert "LP1: the plan does not say voltage, current" in told
    assert "no doors of the room are read" in told
    assert folder.made() == ["room.yaml"]


def test_what_no_library_wrote_is_read_alike(folder: Folder) -> None:
    drawn = folder.draw(Drawing().room()).scene()
    folder.write(by_hand(polyline("ROOM", ROOM), polyline("GEAR", BOARD)))
    (folder.path / "room.yaml").unlink()
    scene = folder.scene()
    assert room_of(scene).size == (6000, 4000)
    assert [one.written() for one in scene.items] == [
        one.written() for one in drawn.items
    ]


def test_a_polyline_by_hand_bulges_as_its_reference_says(folder: Folder) -> None:
    # Two vertices with a bulge of 1 are two half circles: a circle of 400 mm.
    round_ = polyline("COL", [(3000, 1000), (3400, 1000)], bulge=1.0)
    folder.table(TABLE + "COL,column,,,\n")
    folder.write(by_hand(polyline("ROOM", ROOM), polyline("GEAR", BOARD), round_))
    only(folder.scene(), "column")
    mesh = trimesh.load_mesh(folder.path / "room.glb")
    low, high = mesh.bounds * 1000
    circle = math.pi * 200**2
    area = mesh.volume * 1e6 / 3
    # glTF's y is up: x, height, -y. Outside the circle, and no millimetre too far.
    assert circle < area < math.pi * 201.1**2
    assert low == pytest.approx((3000, 0, -1200), abs=1.1)
    assert high == pytest.approx((3400, 3000, -800), abs=1.1)


def test_the_same_plan_gives_the_same_bytes(folder: Folder) -> None:
    drawing = Drawing().room()
    drawing.closed("M", [(0, 0), (800, 0), (800, 400), (400, 400), (400, 900)])
    folder.table(TABLE + "M,machine,1200,,\n").draw(drawing)
    assert folder.run() == 0
    (folder.path / "other").mkdir()
    assert folder.run(name="other/room.yaml") == 0
    for name in ("room.yaml", "room.glb"):
        one, other = folder.path / name, folder.path / "other" / name
        assert one.read_bytes() == other.read_bytes()


@pytest.mark.parametrize(
    ("side", "points"),
    [
        ("south", BOARD),
        ("north", [(1000, 0), (1500, 0), (1500, 150), (1000, 150)]),
        ("east", [(0, 1000), (150, 1000), (150, 1500), (0, 1500)]),
        ("west", [(5850, 1000), (6000, 1000), (6000, 1500), (5850, 1500)]),
    ],
)
def test_a_front_looks_away_from_its_wall(
    folder: Folder, side: str, points: list[tuple[float, float]]
) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.closed("GEAR", points)
    assert facing(only(folder.draw(drawing).scene())) == side


def test_a_front_that_nothing_tells_is_asked_for(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.closed("GEAR", [(2700, 1800), (3300, 1800), (3300, 2200), (2700, 2200)])
    folder.draw(drawing)
    assert folder.run() == 2
    said = capsys.readouterr().err
    assert "panelboard-1 on layer GEAR: nothing tells where its front is" in said
    assert "right is --front panelboard-1=SIDE, or column Facing" in said
    assert folder.made() == []
    assert facing(only(folder.scene("--front", "panelboard-1=east"))) == "east"
    (folder.path / "room.yaml").unlink()
    folder.table(TABLE.replace("900,900,", "900,900,north"))
    assert facing(only(folder.scene())) == "north"


def test_a_front_that_is_not_sure_is_told_below_its_item(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    # 300 mm before the north wall: free before it, less so behind it.
    drawing.closed("GEAR", [(2700, 3300), (3300, 3300), (3300, 3700), (2700, 3700)])
    assert facing(only(folder.draw(drawing).scene())) == "south"
    assert "front not sure (margin 0." in capsys.readouterr().err
    text = (folder.path / "room.yaml").read_text("utf-8")
    assert "    # front not sure (margin 0." in text
    assert "say --front panelboard-1=SIDE\n" in text


def test_gear_at_an_angle_is_a_box(folder: Folder) -> None:
    points = turned(BOARD, 30, (1250, 3925))
    drawing = Drawing()
    drawing.closed("ROOM", turned(ROOM, 30, (1250, 3925)))
    drawing.closed("GEAR", points)
    item = only(folder.draw(drawing).scene())
    assert item.size == (500, 150, 900)
    assert item.mesh is None
    assert facing(item) == pytest.approx(150, abs=1e-4)


def test_blocks_are_turned_mirrored_and_scaled(folder: Folder) -> None:
    # One metre by one, from its lower left corner, at layer 0: the insert's counts.
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.block("UNIT", [(0, 0), (1, 0), (1, 1), (0, 1)])
    panel = drawing.document.blocks.new("PANEL")
    panel.add_blockref("UNIT", (0, 0), {"layer": "0", "xscale": 500, "yscale": 150})
    one = drawing.insert("PANEL", (2000, 4000), yscale=-1)
    one.add_attrib("MARK", "LP1", (2100, 3000))
    one.add_attrib("LOAD", "40 kVA", (2100, 3900))
    other = drawing.insert("PANEL", (150, 1000), rotation=90)
    other.add_attrib("MARK", "LP2", (400, 1000))
    drawing.insert("PANEL", (4500, 4000), rotation=180)
    scene = folder.draw(drawing).scene()
    found = {one.id: (at(one), facing(one), one.size) for one in scene.items}
    size = (500, 150, 900)
    assert found == {
        "LP1": ((2250, 3925), "south", size),
        "LP2": ((75, 1250), "east", size),
        "panelboard-1": ((4250, 3925), "south", size),
    }


def test_rows_of_a_block_are_all_there(folder: Folder) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.block("PANEL", [(0, 0), (500, 0), (500, -150), (0, -150)])
    said = {"column_count": 3, "column_spacing": 800}
    drawing.insert("PANEL", (1000, 4000), **said)
    scene = folder.draw(drawing).scene()
    assert [at(one) for one in scene.items] == [
        (1250, 3925),
        (2050, 3925),
        (2850, 3925),
    ]


def test_lines_whose_ends_meet_are_a_board(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    ends = list(zip(BOARD, [*BOARD[1:], BOARD[0]], strict=True))
    for number, (one, other) in enumerate(ends):
        pair = (other, one) if number % 2 else (one, other)
        drawing.space.add_line(*pair, {"layer": "GEAR"})
    # A leaf that begins at its corner is no part of it.
    drawing.space.add_line(BOARD[0], (1000, 3350), {"layer": "GEAR"})
    item = only(folder.draw(drawing).scene())
    assert (at(item), item.size) == ((1250, 3925), (500, 150, 900))
    told = capsys.readouterr().err
    assert "layer GEAR: 1 joined from lines whose ends meet" in told
    assert "left out: 1 open line on layer GEAR" in told


def test_a_small_gap_is_closed_and_a_wide_one_is_told(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    said = {"layer": "GEAR"}
    drawing.space.add_lwpolyline([*BOARD, (1000, 3854)], dxfattribs=said)
    far = [(x + 2000, y) for x, y in BOARD]
    drawing.space.add_lwpolyline([*far, (3000, 3860)], dxfattribs=said)
    assert at(only(folder.draw(drawing).scene())) == (1250, 3925)
    told = capsys.readouterr().err
    assert "layer GEAR: 1 closed over gaps of up to 4 mm" in told
    assert "left out: 1 open line on layer GEAR" in told


def test_what_is_not_flat_is_told(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    said = {"layer": "GEAR"}
    drawing.space.add_polyline3d([(0, 0, 0), (9, 0, 50), (9, 9, 0)], dxfattribs=said)
    drawing.closed("GEAR", BOARD, extrusion=(0, 1, 0))
    drawing.space.add_spline([(0, 0), (10, 20), (30, 40)], dxfattribs=said)
    only(folder.draw(drawing).scene())
    told = capsys.readouterr().err
    for what in ("line not level", "tilted outline", "spline"):
        assert f"left out: 1 {what} on layer GEAR" in told


def test_several_that_are_not_read_are_told_together(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    for x in (0, 100):
        points = [(x, 0, 0), (x + 9, 0, 50), (x + 9, 9, 0)]
        drawing.space.add_polyline3d(points, dxfattribs={"layer": "GEAR"})
    only(folder.draw(drawing).scene())
    assert "left out: 2 lines not level on layer GEAR" in capsys.readouterr().err


def test_a_mirrored_extrusion_is_seen_from_above(folder: Folder) -> None:
    # In the system of an extrusion down, x counts the other way (DXF reference).
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.closed("GEAR", [(-x, y) for x, y in BOARD], extrusion=(0, 0, -1))
    assert at(only(folder.draw(drawing).scene())) == (1250, 3925)


def test_hatches_rounds_and_walls(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing().room()
    hatch = drawing.space.add_hatch(dxfattribs={"layer": "GEAR"})
    hatch.paths.add_polyline_path(BOARD, is_closed=True)
    drawing.space.add_circle((3000, 1500), 150, {"layer": "COLS"})
    drawing.space.add_line((2000, 0), (2000, 900), {"layer": "PART"})
    # A shaft of walls: a ring within a ring, a thing within the hole of it.
    square = [(4000, 500), (5000, 500), (5000, 1500), (4000, 1500)]
    drawing.closed("WALL", square)
    drawing.closed("WALL", [(4100, 600), (4900, 600), (4900, 1400), (4100, 1400)])
    folder.table(
        "Layer,Becomes,Height (mm),Bottom (mm),Thickness (mm)\n"
        "ROOM,room outline,3000,,\nGEAR,panelboard,900,900,\nCOL*,column,,,\n"
        "PART,wall,2400,,100\nWALL,wall,,,\n"
    )
    scene = folder.draw(drawing).scene()
    assert "layer GEAR: 1 drawn twice, taken once" in capsys.readouterr().err
    column = only(scene, "column")
    assert column.from_ == (3000, 1500, 0)
    assert column.to == (3000, 1500, 3000)
    assert column.diameter == 300
    ring, part = (one for one in scene.items if one.kind == "wall")
    assert (at(part), part.size) == ((2000, 450), (100, 900, 2400))
    mesh = trimesh.load_mesh(folder.path / "room.glb")
    assert ring.part is not None
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx((1 - 0.8**2) * 3, rel=1e-6)


def test_the_room_is_flattened_inwards(folder: Folder, capsys: Printed) -> None:
    # The north side is an arc that swells out by 500 mm.
    drawing = Drawing()
    wall = [(0, 0, 0), (6000, 0, 0), (6000, 4000, 500 / 3000), (0, 4000, 0)]
    drawing.space.add_lwpolyline(
        wall, format="xyb", close=True, dxfattribs={"layer": "ROOM"}
    )
    drawing.closed("GEAR", [(1000, 0), (1500, 0), (1500, 150), (1000, 150)])
    scene = folder.draw(drawing).scene()
    assert "layer ROOM: 1 with curves" in capsys.readouterr().err
    outline = room_of(scene).outline or ()
    radius = (3000**2 + 500**2) / (2 * 500)
    off = [
        radius - math.hypot(float(x) - 3000, float(y) - (4500 - radius))
        for x, y in outline
        if float(y) > 4000
    ]
    assert len(off) > 10
    assert min(off) >= -0.01  # as finely as a scene is written
    corners = [(float(x), float(y)) for x, y in outline]
    middles = [
        ((x0 + x1) / 2, (y0 + y1) / 2)
        for (x0, y0), (x1, y1) in pairwise(corners)
        if y0 > 4000 < y1
    ]
    for x, y in middles:
        sagitta = radius - math.hypot(x - 3000, y - (4500 - radius))
        assert -0.01 <= sagitta <= 1.02


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "ft"])
def test_a_plan_without_a_unit_asks_for_it(
    folder: Folder, capsys: Printed, unit: str
) -> None:
    scale = {"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}[unit]
    drawing = Drawing(NONE)
    for layer, points in (("ROOM", ROOM), ("GEAR", BOARD)):
        drawing.closed(layer, [(x / scale, y / scale) for x, y in points])
    folder.draw(drawing)
    assert folder.run() == 2
    said = capsys.readouterr().err
    assert "found a plan that says no unit" in said
    assert "right is --drawn-in mm, cm, m, in or ft" in said
    assert folder.made() == []
    scene = folder.scene("--drawn-in", unit)
    assert scene.units == ("in" if unit in {"in", "ft"} else "mm")
    width, depth = (to_metres(one, scene.units) for one in room_of(scene).size or ())
    assert (width, depth) == pytest.approx((6, 4), abs=1e-5)


def test_a_room_of_a_size_that_no_room_has_doubts_the_unit(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing(INCHES).room()  # and drawn in millimetres
    assert folder.draw(drawing).run() == 2
    said = capsys.readouterr().err
    assert "found a room of 152.4 m by 101.6 m, for" in said
    assert "right is --drawn-in" in said
    assert room_of(folder.scene("--drawn-in", "mm")).size == (6000, 4000)


def test_far_coordinates_are_moved_and_told(folder: Folder, capsys: Printed) -> None:
    far = 3_512_345_600.0, 5_402_211_700.0
    drawing = Drawing()
    for layer, points in (("ROOM", ROOM), ("GEAR", BOARD)):
        drawing.closed(layer, [(x + far[0], y + far[1]) for x, y in points])
    scene = folder.draw(drawing).scene()
    assert at(only(scene)) == (1250, 3925)
    assert scene.origin == ("3512345.6 m", "5402211.7 m", "0 m")
    told = capsys.readouterr().err
    assert "moved: its south-west corner lies at 3512345.6 m, 5402211.7 m" in told


def test_of_several_rooms_one_is_chosen_by_a_text_in_it(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    drawing.text("ELEC 101", 3000, 2000)
    drawing.closed("ROOM", [(x + 9000, y) for x, y in ROOM])
    drawing.text("STORE", 12000, 2000)
    folder.draw(drawing)
    assert folder.run() == 2
    said = capsys.readouterr().err
    assert "found 2 rooms, right is one: --space with a text within it" in said
    assert "6.00 m x 4.00 m: STORE" in said
    assert folder.run("--space", "ELEC 110") == 2
    assert "a text within a room outline" in capsys.readouterr().err
    assert only(folder.scene("--space", "elec 101")).id == "panelboard-1"


def test_what_lies_within_the_room_s_outline_is_solid(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    drawing.closed("ROOM", [(3000, 1000), (4000, 1000), (4000, 2000), (3000, 2000)])
    scene = folder.draw(drawing).scene()
    shaft = only(scene, "wall")
    assert (at(shaft), shaft.size) == ((3500, 1500), (1000, 1000, 3000))
    assert "1 outlines within the room, taken as solid" in capsys.readouterr().err
    # A wall's two faces instead: then the gear would stand in what is solid.
    both = Drawing()
    both.closed("ROOM", [(-200, -200), (6200, -200), (6200, 4200), (-200, 4200)])
    (folder.path / "room.yaml").unlink()
    folder.draw(both.room())
    assert folder.run() == 2
    assert "right is one outline of the room" in capsys.readouterr().err


def test_several_texts_or_one_for_several_make_no_id(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    drawing.text("LP1", 1100, 3900)
    drawing.text("225 A", 1300, 3900)
    for x in (2000, 4000):
        drawing.closed("GEAR", [(p + x, q) for p, q in BOARD])
        drawing.text("LP7", 1100 + x, 3900)
    scene = folder.draw(drawing).scene()
    assert [one.id for one in scene.items] == [f"panelboard-{n}" for n in (1, 2, 3)]
    assert [one.name for one in scene.items] == ["LP1 / 225 A", "LP7", "LP7"]
    told = capsys.readouterr().err
    assert "panelboard-1: several texts in it" in told
    assert "panelboard-2: several things are called LP7" in told


def test_gear_that_is_no_box_keeps_its_shape_in_one(folder: Folder) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    shape = [(1000, 3400), (1400, 3400), (1400, 3700), (1800, 3700)]
    drawing.closed("GEAR", [*shape, (1800, 4000), (1000, 4000)])
    item = only(folder.draw(drawing).scene("--front", "panelboard-1=south"))
    assert (at(item), item.size) == ((1400, 3700), (800, 600, 900))
    assert item.mesh == "room.glb"
    # In the box: to the right, from the front to the back, and up.
    mesh = trimesh.load_mesh(folder.path / "room.glb")
    assert mesh.extents == pytest.approx((0.8, 0.9, 0.6), abs=1e-6)
    assert mesh.volume == pytest.approx((0.8 * 0.6 - 0.4 * 0.3) * 0.9, rel=1e-6)


def test_a_list_joins_the_scene_of_a_plan(folder: Folder) -> None:
    drawing = Drawing().room()
    drawing.text("LP1", 1100, 3900)
    folder.draw(drawing)
    assert folder.run() == 0
    (folder.path / "list.csv").write_text("Tag,Volts,Amps\nLP1,480Y/277,225\n")
    names = [str(folder.path / name) for name in ("list.csv", "room.yaml", "all.yaml")]
    assert main(["import", names[0], "--into", names[1], "-o", names[2]]) == 0
    supply = only(read_scene(names[2])).supply
    assert supply is not None
    assert (supply.system, supply.amps) == ("480Y/277", 225)


@pytest.mark.parametrize("degrees", [0.0, 17.0])
def test_walls_drawn_one_by_one_fill_their_corner(
    folder: Folder, degrees: float
) -> None:
    """By hand: two walls of 100 by their middles meet at (3000, 2000)."""
    corner = (3000.0, 2000.0)
    ends = turned([(3000.0, 3000.0), (2000.0, 2000.0)], degrees, corner)
    drawing = Drawing().room()
    for end in ends:
        drawing.space.add_line(corner, end, {"layer": "PART"})
    folder.table(
        "Layer,Becomes,Height (mm),Bottom (mm),Thickness (mm)\n"
        "ROOM,room outline,3000,,\nGEAR,panelboard,900,900,\nPART,wall,2400,,100\n"
    )
    standing = arrange(folder.draw(drawing).scene()).items.values()
    walls = [one for one in standing if one.kind.name == "wall" and not one.of_room]
    (outer,) = turned([(3049.0, 1951.0)], degrees, corner)
    x, y = outer[0] / 1000, outer[1] / 1000
    covered = [footprint(one.solid, 0.0, 2.0) for one in walls]
    assert any(shape.covers(Point(x, y)) for shape in covered)
    (free,) = turned([(3049.0, 3050.0)], degrees, corner)
    beyond = Point(free[0] / 1000, free[1] / 1000)
    assert not any(shape.covers(beyond) for shape in covered)
