"""Walls drawn by their faces, doors without an arc, inverted clips.

What each wall covers is worked out by hand from where its faces are drawn (common
practice of plans); areas and points by shapely.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from ezdxf.xclip import XClip
from shapely import Point

from model3d import check
from model3d.exchange.dxf.wall_faces import walls_of_faces
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
    from collections.abc import Sequence

    Printed = pytest.CaptureFixture[str]
    Points = Sequence[tuple[float, float]]

MORE = TABLE + "DOOR,door,2100,,\nPART,wall,2400,,\n"


@pytest.fixture
def folder(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> Folder:
    read_here(monkeypatch)
    return Folder(tmp_path).table(MORE)


def lines(drawing: Drawing, layer: str, *ends: Points) -> Drawing:
    for one, other in ends:
        drawing.space.add_line(one, other, {"layer": layer})
    return drawing


@pytest.mark.parametrize("degrees", [0.0, 17.0])
def test_two_faces_are_a_wall_and_fill_its_corner(
    folder: Folder, capsys: Printed, degrees: float
) -> None:
    """An L, 100 thick: 1 m east and 1 m north of its outer corner at (3000, 1500)."""
    outer = turned([(4000, 1500), (3000, 1500), (3000, 2500)], degrees, (3000, 1500))
    inner = turned([(4000, 1600), (3100, 1600), (3100, 2500)], degrees, (3000, 1500))
    drawing = Drawing().room()
    for face in (outer, inner):
        lines(drawing, "PART", *pairwise(face))
    bodies = arrange(folder.draw(drawing).scene()).items.values()
    walls = [
        footprint(one.solid, 0.0, 2.0)
        for one in bodies
        if one.kind.name == "wall" and not one.of_room
    ]
    covered = shapely.union_all(walls)
    # By hand: two arms of 1 m by 0.1 m share the corner's square of 0.1 m.
    assert covered.area == pytest.approx(0.1 + 0.1 - 0.01, rel=1e-4)
    told = capsys.readouterr().err
    assert "layer PART: walls between lines side by side: 2, 40 to 600 mm" in told
    assert "open line" not in told


def test_the_nearest_lines_are_one_wall_and_what_lies_between_walls_is_free() -> None:
    """Two walls of 100 with 400 between them, and one line far from both."""
    long = [((0.0, y), (3.0, y)) for y in (0.0, 0.1, 0.5, 0.6)]
    walls, read = walls_of_faces([*long, ((0.0, 5.0), (3.0, 5.0))])
    spans = sorted(value for one in walls for value in one.bounds[1::2])
    assert spans == pytest.approx([0.0, 0.1, 0.5, 0.6])
    assert read == {0, 1, 2, 3}


def test_a_face_in_pieces_makes_a_wall_a_piece() -> None:
    """A door of 900 in a wall of 120, closed at its jambs; and a wall that meets it."""
    south = [((0.0, 0.0), (1.0, 0.0)), ((1.9, 0.0), (4.0, 0.0))]
    north = [((0.0, 0.12), (1.0, 0.12)), ((1.9, 0.12), (2.5, 0.12))]
    north += [((2.62, 0.12), (4.0, 0.12))]
    meeting = [((2.5, 0.12), (2.5, 2.0)), ((2.62, 0.12), (2.62, 2.0))]
    jambs = [((1.0, 0.0), (1.0, 0.12)), ((1.9, 0.0), (1.9, 0.12))]
    drawn = [*south, *north, *meeting, *jambs]
    walls, read = walls_of_faces(drawn)
    assert read == set(range(len(drawn)))
    covered = shapely.union_all([one.polygon() for one in walls])
    for x, y, solid in (
        (0.5, 0.06, True),
        (1.45, 0.06, False),
        (2.2, 0.06, True),
        (3.5, 0.06, True),
        (2.56, 1.5, True),
        (3.5, 1.5, False),
    ):
        assert covered.covers(Point(x, y)) == solid, (x, y)


@pytest.mark.parametrize(
    "other",
    [
        ((0.0, 0.03), (3.0, 0.03)),  # nearer than faces are
        ((0.0, 0.7), (3.0, 0.7)),  # farther
        ((3.1, 0.1), (6.0, 0.1)),  # not beside it
        ((0.0, 0.1), (3.0, 0.3)),  # askew
        ((0.0, 0.0), (3.0, 0.0)),  # the same
    ],
)
def test_what_has_no_other_face_is_no_wall(other: Points) -> None:
    one, two = other
    assert walls_of_faces([((0.0, 0.0), (3.0, 0.0)), (one, two)]) == ([], set())


def test_a_line_alone_is_a_wall_of_which_the_thickness_is_asked(
    folder: Folder, capsys: Printed
) -> None:
    """Source: an engineer's reading of a plan; a wall that is drawn is there."""
    lone = ((2000.0, 1000.0), (2000.0, 3000.0))
    scene = folder.draw(lines(Drawing().room(), "PART", lone)).scene()
    told = capsys.readouterr().err
    assert "layer PART: 1 single line is a wall of which nobody says how thick" in told
    assert "left out: 1 open line on layer PART" not in told
    (wall,) = [one for one in arrange(scene).items.values() if one.id == "partition-1"]
    assert footprint(wall.solid, 0.0, 2.0).covers(Point(2.0, 2.0))
    assert scene.metres(scene.survey_tolerance) == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("ahead", "verdict"), [(600, "not-met"), (1100, "open"), (1300, "met")]
)
def test_what_a_single_line_may_reach_into_is_never_met(
    folder: Folder, ahead: int, verdict: str
) -> None:
    """By hand: 900 mm are asked for at 120 V to ground, and the front is at 3850."""
    folder.table(
        "Layer,Becomes,Height (mm),Bottom (mm),Facing,System\n"
        "ROOM,room outline,3000,,,\nGEAR,panelboard,900,900,,208Y/120\n"
        "PART,wall,2400,,,\n"
    )
    lone = ((500.0, 3850.0 - ahead), (4000.0, 3850.0 - ahead))
    scene = folder.draw(lines(Drawing().room(), "PART", lone)).scene()
    (gear,) = [one for one in scene.items if one.kind == "panelboard"]
    (space,) = check(scene).of(gear.id, "working-space")
    assert space.verdict == verdict


def test_lines_beside_the_room_are_no_walls_in_it(
    folder: Folder, capsys: Printed
) -> None:
    (x0, y0), (x1, y1) = ROOM[0], ROOM[1]
    on_edge = ((float(x0), float(y0)), (float(x1), float(y1)))
    scene = folder.draw(lines(Drawing().room(), "PART", on_edge)).scene()
    assert "left out: 1 open line on layer PART" in capsys.readouterr().err
    assert not scene.metres(scene.survey_tolerance)


def test_lines_of_a_door_without_an_arc_are_told(
    folder: Folder, capsys: Printed
) -> None:
    drawing = Drawing().room()
    leaf = ((1000.0, 0.0), (1000.0, 900.0))
    lines(drawing, "DOOR", leaf, ((3000, 0), (3000, -200)), ((3900, 0), (3900, -200)))
    lines(drawing, "DOOR", ((90000.0, 0.0), (90900.0, 0.0)))
    drawing.space.add_arc((1000, 0), 900, 0, 90, dxfattribs={"layer": "DOOR"})
    drawing.closed("DOOR", [(5000, -200), (5900, -200), (5900, 0), (5000, 0)])
    scene = folder.draw(drawing).scene()
    assert scene.room is not None
    assert [one.id for one in scene.room.doors] == ["D1"]
    where = "left out: 3 lines on door layer DOOR, the first at 3000, 0"
    why = "no arc of a leaf there; write the door by hand"
    assert f"{where}: {why}" in capsys.readouterr().err.splitlines()


def test_of_an_inverted_clip_all_stands_and_is_told(
    folder: Folder, capsys: Printed
) -> None:
    """Which of its paths hides is written in several ways: nothing is left out."""
    drawing = Drawing()
    drawing.closed("ROOM", ROOM)
    block = drawing.document.blocks.new("ROW")
    block.add_lwpolyline(BOARD, close=True, dxfattribs={"layer": "GEAR"})
    insert = drawing.space.add_blockref("ROW", (0, 0), {"layer": "ELSEWHERE"})
    clip = XClip(insert)
    clip.set_block_clipping_path([(900, 3800), (1600, 4100)])
    around = [(-9000, -9000), (9000, 9000)]
    clip.invert_clipping_path(around, ignore_acad_compatibility=True)
    scene = folder.draw(drawing).scene()
    assert [one.kind for one in scene.items] == ["panelboard"]
    said = "1 line under the inverted clip of block ROW on layer GEAR at 1000, 3850"
    assert f"taken whole: {said}" in capsys.readouterr().err.splitlines()
