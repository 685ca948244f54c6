"""Doors, clipped blocks, wide lines of a plan; what is not read is told with a place.

What each door is, is worked out by hand from where its arc is drawn: as seen from
inside, facing the wall (scene format).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest
from ezdxf.xclip import XClip
from shapely import Point

from model3d import check
from model3d.geometry.plan.footprint import footprint
from model3d.standing.arrangement import arrange
from tests.exchange.dxf.drawn_plans import (
    BOARD,
    ROOM,
    TABLE,
    Drawing,
    Folder,
    read_here,
    turned,
)

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene
    from model3d.scene.parts.room import RoomDoor

    Printed = pytest.CaptureFixture[str]

WITH_DOORS = TABLE + "DOOR,door,2100,,\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path).table(WITH_DOORS)


def doors_of(scene: Scene) -> tuple[RoomDoor, ...]:
    assert scene.room is not None
    return scene.room.doors


def said(door: RoomDoor) -> tuple[object, ...]:
    along, width = (round(float(one), 1) for one in (door.along, door.width))
    return door.wall, along, width, door.opens, door.hinge


def arc(space: Any, at: tuple[float, float], start: float, radius: float = 900) -> None:
    """Draw a quarter of a circle from an angle on, counter-clockwise."""
    layer = {"layer": "DOOR"}
    space.add_arc(at, radius, start, start + 90, dxfattribs=layer)


# Hinge, from which angle a quarter is drawn; wall, along, opens, hinge. The room is
# 6000 by 4000; the left end of the south wall, seen from inside, is its east end.
SINGLE = [
    ((1000, 0), 0, ("south", 6000 - 1900, 900.0, "in", "right")),
    ((1900, 0), 90, ("south", 6000 - 1900, 900.0, "in", "left")),
    ((1000, -200), 270, ("south", 6000 - 1900, 900.0, "out", "right")),
    ((1900, -200), 180, ("south", 6000 - 1900, 900.0, "out", "left")),
    ((2000, 4000), 270, ("north", 2000.0, 900.0, "in", "left")),
    ((2900, 4100), 90, ("north", 2000.0, 900.0, "out", "right")),
    ((6000, 1000), 90, ("east", 4000 - 1900, 900.0, "in", "right")),
    ((0, 3000), 270, ("west", 2100.0, 900.0, "in", "right")),
]


@pytest.mark.long
@pytest.mark.parametrize(("hinge", "start", "right"), SINGLE)
def test_an_arc_is_a_door(
    folder: Folder,
    capsys: Printed,
    hinge: tuple[float, float],
    start: float,
    right: tuple[object, ...],
) -> None:
    drawing = Drawing().room()
    arc(drawing.space, hinge, start)
    scene = folder.draw(drawing).scene()
    (door,) = doors_of(scene)
    assert said(door) == right
    assert (door.id, float(door.height), door.overall) == ("D1", 2100, True)
    told = capsys.readouterr().err
    assert "doors are as wide as their leaves are drawn" in told
    assert "no doors of the room" not in told
    # What is drawn is no clear opening: no way out through it is met.
    ways = [one for one in check(scene).judgements if one.requirement == "entrance"]
    assert ways
    assert all(one.verdict == "open" for one in ways)


def test_a_door_is_read_in_a_turned_room_of_many_sides(folder: Folder) -> None:
    corners = [(0, 0), (6000, 0), (6000, 3000), (5000, 3000), (5000, 4000), (0, 4000)]
    drawing = Drawing()
    drawing.closed("ROOM", turned(corners, 30, (0, 0)))
    drawing.closed("GEAR", turned(BOARD, 30, (0, 0)))
    (hinge,) = turned([(1000, 0)], 30, (0, 0))
    arc(drawing.space, hinge, 30)
    (door,) = doors_of(folder.draw(drawing).scene())
    assert said(door) == ("wall-1", 4100, 900, "in", "right")


def test_two_leaves_that_shut_together_are_a_pair(folder: Folder) -> None:
    drawing = Drawing().room()
    arc(drawing.space, (1000, 0), 0)
    arc(drawing.space, (2800, 0), 90)
    (door,) = doors_of(folder.draw(drawing).scene())
    assert said(door) == ("south", 3200, 1800, "in", "pair")


def test_leaves_that_are_not_alike_or_swing_both_ways_are_told(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    arc(drawing.space, (1000, 0), 0)
    arc(drawing.space, (2300, 0), 90, 400)
    arc(drawing.space, (3000, 4000), 270)
    arc(drawing.space, (3000, 4000), 0)
    arc(drawing.space, (3000, 4000), 0)
    south, north = doors_of(folder.draw(drawing).scene())
    assert said(south) == ("south", 3700, 1300, "in", None)
    assert said(north) == ("north", 3000, 900, None, "left")
    told = capsys.readouterr().err
    assert "D1: its two leaves are not alike" in told
    assert "D2: it swings both ways" in told


def test_a_block_of_a_door_is_turned_and_mirrored_and_has_its_mark(
    folder: Folder,
) -> None:
    drawing = Drawing().room()
    block = drawing.document.blocks.new("DOOR-900")
    block.add_line((0, 0), (0, 900))
    block.add_arc((0, 0), 900, 0, 90)
    layer = {"layer": "DOOR"}
    one = drawing.space.add_blockref("DOOR-900", (1000, 0), layer)
    one.add_attrib("MARK", "101A", (1200, 300))
    other = {"rotation": 180, "yscale": -1, **layer}
    drawing.space.add_blockref("DOOR-900", (4000, 0), other)
    half = {"rotation": 90, "xscale": 0.9, "yscale": 0.9, "zscale": 0.9, **layer}
    drawing.space.add_blockref("DOOR-900", (6000, 1000), half)
    doors = doors_of(folder.draw(drawing).scene())
    assert [(one.id, *said(one)) for one in doors] == [
        ("101A", "south", 4100, 900, "in", "right"),
        ("D1", "south", 2000, 900, "in", "left"),
        ("D2", "east", 2190, 810, "in", "right"),
    ]


def test_what_is_no_leaf_is_told_with_its_place(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    layer = {"layer": "DOOR"}
    drawing.space.add_arc((1000, 0), 900, 0, 180, dxfattribs=layer)
    arc(drawing.space, (3000, 0), 0, 50)
    arc(drawing.space, (3000, 2000), 0)
    drawing.block("SLIDER", [(0, 0), (900, 0), (900, 50), (0, 50)])
    drawing.space.add_blockref("SLIDER", (4000, 0), layer)
    drawing.space.add_spline([(10, 20), (60, 90), (90, 20)], dxfattribs=layer)
    arc(drawing.space, (30000, 0), 0)
    assert doors_of(folder.draw(drawing).scene()) == ()
    told = capsys.readouterr().err.splitlines()
    start = "left out: an arc on door layer DOOR at"
    assert f"{start} 1000, 0: it turns 180 degrees: which end is shut is not known" in (
        told
    )
    assert f"{start} 3000, 0: of 50 mm, no leaf is so wide" in told
    assert f"{start} 3000, 2000: it is in no wall of the room" in told
    right = "no arc of a leaf in it; write the door by hand"
    assert f"left out: block SLIDER on door layer DOOR at 4000, 0: {right}" in told
    (spline,) = [one for one in told if "1 spline on layer DOOR at " in one]
    assert spline.startswith("left out: ")
    assert any(one.startswith("no doors of the room are read") for one in told)


def test_a_door_needs_a_height(folder: Folder, capsys: Printed) -> None:
    folder.table(TABLE + "DOOR,door,,,\n").draw(Drawing().room())
    assert folder.run() == 2
    assert "found no height" in capsys.readouterr().err


def clipped(drawing: Drawing, corners: list[tuple[float, float]]) -> Any:
    """Insert a block with three boards, of which a clip shows what is in corners."""
    block = drawing.block("ROW", [(0, 0), (500, 0), (500, -150), (0, -150)])
    for x in (1000, 2000):
        moved = [(x + p, q) for p, q in ((0, 0), (500, 0), (500, -150), (0, -150))]
        block.add_lwpolyline(moved, close=True)
    insert = drawing.insert("ROW", (1000, 4000))
    XClip(insert).set_block_clipping_path(corners)
    return insert


def test_a_clip_hides_what_is_out_of_it(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    clipped(drawing, [(-50, -200), (1250, -200), (1250, 50), (-50, 50)])
    scene = folder.draw(drawing).scene()
    xs = [float(one.place.at[0]) for one in scene.items if one.place]  # type: ignore[union-attr]
    # The second is cut by the clip's edge: all of it stands, and that is told.
    assert xs == [1250, 2250]
    told = capsys.readouterr().err.splitlines()
    hides = "1 line that the clip of its block hides on layer GEAR at 3000, 3850"
    assert f"left out: {hides}" in told
    across = "1 line across the edge of its block's clip on layer GEAR at 2000, 3850"
    assert f"taken whole: {across}" in told


def test_a_clip_within_another_block_moves_with_it(folder: Folder) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    drawing.block("ROW", [(0, 0), (500, 0), (500, -150), (0, -150)])
    outer = drawing.document.blocks.new("OUTER")
    outer.add_blockref("ROW", (0, 0))
    hidden = outer.add_blockref("ROW", (800, 0))
    XClip(hidden).set_block_clipping_path([(600, -200), (700, 0)])
    drawing.insert("OUTER", (1000, 4000))
    scene = folder.draw(drawing).scene()
    xs = [float(one.place.at[0]) for one in scene.items if one.place]  # type: ignore[union-attr]
    assert xs == [1250]
    clip = XClip(drawing.space.query("INSERT").first)
    clip.set_block_clipping_path([(5000, 0), (6000, 1000)])
    (folder.path / "room.yaml").unlink()
    assert folder.draw(drawing).scene().items == ()
    clip.disable_clipping()
    (folder.path / "room.yaml").unlink()
    assert len(folder.draw(drawing).scene().items) == 1


@pytest.mark.parametrize("old", [False, True])
def test_a_line_drawn_wide_is_a_wall_so_thick(
    folder: Folder, capsys: Printed, *, old: bool
) -> None:
    folder.table(TABLE + "PART,wall,2400,,\n")
    drawing = Drawing().room()
    points = [(3000, 1000), (3000, 3000)]
    layer = {"layer": "PART"}
    if old:
        wide = {**layer, "default_start_width": 120, "default_end_width": 120}
        drawing.space.add_polyline2d(points, dxfattribs=wide)
    else:
        drawing.space.add_lwpolyline(points, dxfattribs={**layer, "const_width": 120})
    drawing.space.add_line((4000, 1000), (4000, 3000), layer)
    scene = folder.draw(drawing).scene()
    (wall,) = [one for one in arrange(scene).items.values() if one.id == "partition-1"]
    shape = footprint(wall.solid, 0.0, 2.0)
    assert shape.area == pytest.approx(0.12 * 2, rel=1e-6)
    assert shape.covers(Point(3.059, 2))
    told = capsys.readouterr().err
    assert "layer PART: 1 drawn 120 mm wide, taken as thick as that" in told
    assert "layer PART: 1 single line is a wall of which nobody says how" in told


def test_a_closed_wide_line_is_a_wall_around(folder: Folder, capsys: Printed) -> None:
    folder.table(TABLE + "PART,wall,2400,,\n")
    drawing = Drawing().room()
    shaft = [(3000, 1000), (4000, 1000), (4000, 2000), (3000, 2000)]
    drawing.closed("PART", shaft, const_width=100)
    scene = folder.draw(drawing).scene()
    (wall,) = [one for one in arrange(scene).items.values() if one.id == "partition-1"]
    shape = footprint(wall.solid, 0.0, 2.0)
    assert shape.area == pytest.approx(1.1**2 - 0.9**2, rel=1e-6)
    assert not shape.covers(Point(3.5, 1.5))
    # The table overrules what is drawn, and the difference is told.
    (folder.path / "room.yaml").unlink()
    (folder.path / "room.glb").unlink()
    more = "Layer,Becomes,Height (mm),Bottom (mm),Thickness (mm)\nROOM,room outline"
    folder.table(f"{more},3000,,\nGEAR,panelboard,900,900,\nPART,wall,2400,,60\n")
    (wall,) = [
        one for one in arrange(folder.scene()).items.values() if one.id == "partition-1"
    ]
    area = footprint(wall.solid, 0.0, 2.0).area
    assert area == pytest.approx(1.06**2 - 0.94**2, rel=1e-6)
    assert math.isclose(area, 0.24, rel_tol=1e-6)
    assert "drawn 100 mm wide, taken as 60 mm thick" in capsys.readouterr().err


def test_a_wide_outline_of_the_room_is_told(folder: Folder, capsys: Printed) -> None:
    drawing = Drawing()
    drawing.closed("ROOM", ROOM, const_width=200)
    drawing.closed("GEAR", BOARD)
    folder.draw(drawing).scene()
    said_ = "layer ROOM: the room outline is drawn 200 mm wide, taken by its middle"
    assert said_ in capsys.readouterr().err
