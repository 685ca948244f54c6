"""What of a model cannot be read is no wrong met: it may stand there, or is asked for.

Source: common practice: a reviewer does not take for free what a model holds and nobody
has seen. Which bodies the library cannot make was tried out; each test says so again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from model3d import check, read_scene
from model3d.exchange.ifc.file.bounds import most_of
from model3d.exchange.ifc.file.reader import read_building
from tests.exchange.ifc.test_import import brought
from tests.exchange.ifc.written_models import Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report, Scene

    Printed = pytest.CaptureFixture[str]
    Place = tuple[float, float, float]

pytestmark = pytest.mark.long

AHEAD = (12.0, 22.0, 0.05)
"""A corner of what reaches from here to 0.4 m ahead of the board's front, at 22.8."""
SIZE = (0.5, 0.4, 1.2)


def shaped(element: Any, kind: str, items: Sequence[Any]) -> Any:
    """Give an element another body."""
    (shape,) = element.Representation.Representations
    shape.RepresentationType, shape.Items = kind, list(items)
    return element


def holed(model: Model, size: Place = SIZE) -> Any:
    """Return triangles of which one has a corner that is not there: none is made."""
    ends = np.array([0.0, 1.0])
    corners = np.stack(np.meshgrid(*(ends * one * 1000 for one in size)), -1)
    points = [tuple(map(float, one)) for one in corners.reshape(-1, 3)]
    make = model.file.create_entity
    listed = make("IfcCartesianPointList3D", points)
    return make("IfcTriangulatedFaceSet", listed, None, None, [(1, 2, 99)], None)


def endless(model: Model) -> Any:
    """Return a solid of no height: nothing tells how high it was meant to be."""
    (solid,) = model.box(SIZE).Representations[0].Items
    solid.Depth = 0.0
    return solid


def lost(model: Model, name: str, at: Place, body: Any, kind: str = "") -> Any:
    """Put something into the storey of which the library can make nothing."""
    element = model.put(kind or "IfcFurniture", name, at, SIZE)
    return shaped(element, "Tessellation", [body])


def scene_of(model: Model, folder: Path, *more: str) -> Scene:
    model.write(folder / "model.ifc")
    assert brought(folder, "--units", "m", *more) == 0
    return read_scene(folder / "room.yaml")


def space(report: Report) -> Any:
    (one,) = report.of("LP1", "working-space")
    return one


def test_a_body_whose_corners_are_known_is_at_most_the_box_around_them(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    lost(model, "Cupboard", AHEAD, holed(model))
    scene = scene_of(model, tmp_path)
    (item,) = [one for one in scene.items if one.uncertain]
    assert (item.id, item.kind) == ("Cupboard", "furniture")
    assert item.size == pytest.approx(SIZE)
    assert not scene.not_read
    report = check(scene)
    assert space(report).verdict == "open"
    assert "Say how large Cupboard is" in space(report).missing
    # What is known stays: without it the board has the room's whole depth.
    assert not report.of("room", "as-drawn")
    assert "Cupboard: its body cannot be read" in capsys.readouterr().err


def test_gear_whose_body_cannot_be_read_may_stand_there(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    body = holed(model)
    lost(model, "LP2", AHEAD, body, "IfcElectricDistributionBoard")
    scene = scene_of(model, tmp_path)
    (item,) = [one for one in scene.items if one.id == "LP2"]
    assert (item.kind, item.uncertain) == ("obstacle", True)
    assert space(check(scene)).verdict == "open"
    assert "the working space at it is not judged" in capsys.readouterr().err


def test_a_body_of_which_nothing_is_known_is_asked_about(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    assert space(check(scene_of(model, tmp_path))).verdict == "met"
    for made in ("room.yaml", "room.glb"):
        (tmp_path / made).unlink()
    lost(model, "Cupboard", AHEAD, endless(model))
    lost(model, "Upstairs", (12.0, 22.0, 6.65), endless(model))
    lost(model, "Somewhere", (0.0, 0.0, 0.0), endless(model))
    # The room's floor is at 0.05 and its ceiling 3 m above the storey, at 2.95.
    scene = scene_of(model, tmp_path)
    names = [one.name for one in scene.not_read]
    assert names == ["Somewhere", "Cupboard", "Upstairs"]
    places = [one.at for one in scene.not_read]
    assert places[0] is None
    assert places[1] == pytest.approx((2.0, 2.0, 0.0))
    assert places[2] == pytest.approx((2.0, 2.0, 6.6))
    assert scene.not_read[1].guid == model.guids["Cupboard"]
    told = capsys.readouterr().err
    assert "could not be read: 3 (Somewhere, Cupboard, Upstairs); check asks" in told
    report = check(scene)
    assert space(report).verdict == "open"
    assert space(report).reason.startswith("Cupboard could not be read and may reach")
    (judged,) = report.of("room", "as-drawn")
    assert judged.verdict == "open"
    assert "holds 3 things that could not be read" in judged.reason
    assert (
        "Somewhere, nobody knows where, Cupboard, placed in the room" in judged.reason
    )
    assert "Upstairs, placed 3650 mm" in judged.reason


def test_what_the_mapping_leaves_out_is_not_asked_about(
    model: Model, tmp_path: Path
) -> None:
    lost(model, "Cupboard", AHEAD, endless(model))
    table = tmp_path / "kinds.toml"
    table.write_text('[[ifc]]\nclass = "IfcFurniture"\nkind = "none"\n')
    scene = scene_of(model, tmp_path, "--mapping", str(table))
    assert not scene.not_read


def test_of_what_is_read_in_part_the_rest_is_asked_about(
    model: Model, tmp_path: Path
) -> None:
    half = model.put("IfcFurniture", "half", (12.0, 20.2, 0.05), SIZE)
    (shape,) = half.Representation.Representations
    shape.Items = [*shape.Items, endless(model)]
    # What only was to be cut away is no loss to whoever asks what is in the way.
    whole = model.put("IfcFurniture", "whole", (11.0, 20.2, 0.05), SIZE)
    (solid,) = whole.Representation.Representations[0].Items
    cut = model.file.create_entity(
        "IfcBooleanResult", "DIFFERENCE", solid, endless(model)
    )
    shaped(whole, "CSG", [cut])
    scene = scene_of(model, tmp_path)
    sure = [one.id for one in scene.items if not one.uncertain]
    assert sure == ["LP1", "half", "whole"]
    assert [one.name for one in scene.not_read] == ["a part of half"]


def test_what_the_model_has_and_does_not_draw_is_asked_about(
    model: Model, tmp_path: Path
) -> None:
    for kind in ("IfcFurniture", "IfcElectricDistributionBoard", "IfcPump"):
        model.inside.append(model.rooted(kind, f"bare {kind}"))
    # A whole is drawn by its parts; an opening is nothing that stands there.
    whole = model.rooted("IfcElementAssembly", "rack")
    part = model.put("IfcBuildingElementPart", "shelf", (10.2, 20.2, 0.05), SIZE)
    model.inside.remove(part)
    model.relate("IfcRelAggregates", whole, [part])
    model.inside += [whole, model.rooted("IfcVirtualElement", "line")]
    model.rooted("IfcOpeningElement", "hole")
    scene = scene_of(model, tmp_path)
    told = sorted(one.name for one in scene.not_read)
    kinds = ("IfcElectricDistributionBoard", "IfcFurniture", "IfcPump")
    assert told == [f"bare {kind}" for kind in kinds]


def bare(model: Model, kind: str, name: str, at: Place, **more: str) -> Any:
    """Put something into the storey of which the model draws nothing."""
    element = model.rooted(kind, name, **more)
    element.ObjectPlacement = model.file.create_entity(
        "IfcLocalPlacement", None, model.axes(at)
    )
    model.inside.append(element)
    return element


IN_BOARD = (12.3, 22.9, 1.2)
"""The board reaches from (12.0, 22.8, 1.0) to (12.5, 23.0, 1.9)."""


def test_wiring_that_is_not_drawn_leaves_its_board_judged(
    model: Model, tmp_path: Path
) -> None:
    """Common practice: cables are placed where they end, and not drawn on their way."""
    for name in ("C1", "C2"):
        bare(model, "IfcCableSegment", name, IN_BOARD)
    bare(model, "IfcProtectiveDevice", "Q1", IN_BOARD, PredefinedType="CIRCUITBREAKER")
    scene = scene_of(model, tmp_path)
    told = [(one.name, one.count, one.at) for one in scene.not_read]
    assert told == [("Q1", 1, None), ("undrawn wiring such as C1", 2, None)]
    report = check(scene)
    assert space(report).verdict == "met"
    (judged,) = report.of("room", "as-drawn")
    assert judged.verdict == "open"
    assert "holds 3 things that could not be read" in judged.reason


@pytest.mark.parametrize(
    ("kind", "at", "more"),
    [
        ("IfcPipeSegment", IN_BOARD, {}),
        ("IfcCableCarrierSegment", IN_BOARD, {}),
        ("IfcProtectiveDevice", AHEAD, {"PredefinedType": "CIRCUITBREAKER"}),
    ],
)
def test_what_else_is_not_drawn_may_be_where_it_is_placed(
    model: Model, tmp_path: Path, kind: str, at: Place, more: dict[str, str]
) -> None:
    bare(model, kind, "X1", at, **more)
    scene = scene_of(model, tmp_path)
    assert [one.name for one in scene.not_read] == ["X1"]
    assert space(check(scene)).verdict == "open"


def test_a_cable_whose_body_is_lost_may_be_where_it_is_placed(
    model: Model, tmp_path: Path
) -> None:
    lost(model, "C1", AHEAD, endless(model), "IfcCableSegment")
    assert space(check(scene_of(model, tmp_path))).verdict == "open"


@pytest.mark.parametrize(
    ("kind", "more", "verdict"),
    [
        ("IfcCableSegment", {}, "met"),
        ("IfcCableCarrierSegment", {"PredefinedType": "CONDUITSEGMENT"}, "met"),
        ("IfcPipeSegment", {}, "open"),
    ],
)
def test_wiring_drawn_by_its_axis_into_a_board_is_as_wide_as_the_widest_conduit(
    model: Model, tmp_path: Path, kind: str, more: dict[str, str], verdict: str
) -> None:
    """Source: ANSI C80.1: 168 mm across; 150 mm past the front are allowed."""
    line = [(12.25, 22.9, 1.9), (12.25, 22.9, 2.95)]
    model.draw(kind, "C1", line)
    for name, value in more.items():
        setattr(model.file.by_guid(model.guids["C1"]), name, value)
    scene = scene_of(model, tmp_path)
    (item,) = [one for one in scene.items if one.id == "C1"]
    assert item.uncertain
    assert space(check(scene)).verdict == verdict


def test_a_cable_is_wiring_and_a_busbar_a_busway(model: Model, tmp_path: Path) -> None:
    for name, kind in (("C1", "CABLESEGMENT"), ("B1", "BUSBARSEGMENT")):
        at = (12.2, 22.9, 1.9)
        model.put("IfcCableSegment", name, at, (0.1, 0.1, 1.05), PredefinedType=kind)
    kinds = {one.id: one.kind for one in scene_of(model, tmp_path).items}
    assert (kinds["C1"], kinds["B1"]) == ("conduit", "busway")


def test_a_second_model_with_an_origin_of_its_own_says_nothing_by_it(
    model: Model, tmp_path: Path
) -> None:
    """All its bodies may be placed at its origin, wherever that is in the first."""
    other = Model()
    for name, at in (("none", (0.0, 0.0, 0.0)), ("some", (1.0, 0.0, 0.0))):
        lost(other, name, at, endless(other))
    files = [model.write(tmp_path / "a.ifc"), other.write(tmp_path / "b.ifc")]
    building = read_building(files, lambda _: None)
    assert [one.called for one in building.elements if one.unread] == ["none", "some"]
    room = tmp_path / "room.yaml"
    words = ["import", *map(str, files), "--rules", "nec-2023", "-o", str(room)]
    assert main(words) == 0
    places = {one.name: one.at for one in read_scene(room).not_read}
    assert places["none"] is None
    assert places["some"] is not None


def box_of(element: Any) -> Any:
    """Return the ends of what an element is at most, less its place, metres."""
    found = most_of(element, 0.001)
    assert found is not None
    ends = np.array([found.min(axis=0), found.max(axis=0)]) - AHEAD
    return (ends.round(6) + 0.0).tolist()


def test_how_large_a_body_is_at_most(model: Model) -> None:
    """By hand: a difference lies in what it is cut from, a union in both."""
    make = model.file.create_entity
    wide, deep, high = SIZE
    whole = [[0.0, 0.0, 0.0], [wide, deep, high]]
    element = model.put("IfcFurniture", "A", AHEAD, SIZE)
    (solid,) = element.Representation.Representations[0].Items
    assert box_of(element) == whole
    cut = make("IfcBooleanResult", "DIFFERENCE", solid, endless(model))
    assert box_of(shaped(element, "CSG", [cut])) == whole
    (aside,) = model.box((0.1, 0.1, 0.1), (1.0, 0.0, 0.0)).Representations[0].Items
    both = make("IfcBooleanResult", "UNION", solid, aside)
    assert box_of(shaped(element, "CSG", [both])) == [
        whole[0],
        [1.1, deep, high],
    ]
    unknown = make("IfcBooleanResult", "UNION", solid, endless(model))
    assert most_of(shaped(element, "CSG", [unknown]), 0.001) is None
    sheet = shaped(element, "Tessellation", [holed(model, (wide, 0.0, high))])
    assert box_of(sheet) == [[0.0, -0.005, 0.0], [wide, 0.005, high]]
    point = shaped(element, "Tessellation", [holed(model, (0.0, 0.0, 0.0))])
    assert most_of(point, 0.001) is None


def test_a_body_that_a_type_gives_is_put_where_it_is(model: Model) -> None:
    """By hand: turned by 90 degrees and moved, x becomes y, and -y x."""
    make = model.file.create_entity
    element = model.put("IfcFurniture", "A", AHEAD, SIZE)
    (shape,) = element.Representation.Representations
    mapped = make(
        "IfcShapeRepresentation", model.context, "Body", "Tessellation", [holed(model)]
    )
    source = make("IfcRepresentationMap", model.axes((0, 0, 0)), mapped)
    target = make(
        "IfcCartesianTransformationOperator3D",
        make("IfcDirection", (0.0, 1.0, 0.0)),
        make("IfcDirection", (-1.0, 0.0, 0.0)),
        make("IfcCartesianPoint", (100.0, 0.0, 0.0)),
        1.0,
        make("IfcDirection", (0.0, 0.0, 1.0)),
    )
    shape.RepresentationType = "MappedRepresentation"
    shape.Items = [make("IfcMappedItem", source, target)]
    wide, deep, high = SIZE
    assert box_of(element) == [[round(0.1 - deep, 6), 0.0, 0.0], [0.1, wide, high]]


def test_round_faces_stand_out_by_no_more_than_they_are_wide(model: Model) -> None:
    """A cylinder's edges are circles; its corners alone would tell of no width."""
    make, true = model.file.create_entity, {"SameSense": True}
    element = model.put("IfcFurniture", "A", AHEAD, SIZE)
    point = make("IfcVertexPoint", make("IfcCartesianPoint", (0.0, 0.0, 0.0)))
    circle = make("IfcCircle", model.axes((0, 0, 0)), 300.0)
    edge = make("IfcEdgeCurve", point, point, circle, **true)
    loop = make(
        "IfcEdgeLoop", [make("IfcOrientedEdge", EdgeElement=edge, Orientation=True)]
    )
    bound = make("IfcFaceOuterBound", loop, Orientation=True)
    surface = make("IfcCylindricalSurface", model.axes((0, 0, 0)), 300.0)
    face = make("IfcAdvancedFace", [bound], surface, **true)
    shell = make("IfcClosedShell", [face])
    body = make("IfcAdvancedBrep", shell)
    low, high = box_of(shaped(element, "AdvancedBrep", [body]))
    assert max(low) <= -0.3
    assert min(high) >= 0.3
