"""Models as other programs write them: boards of parts, other origins and words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

import ifcopenshell.guid
import numpy as np
import pytest

from model3d import check, read_scene
from model3d.exchange.ifc.file.georeference import moves_of
from model3d.exchange.ifc.file.reader import read_building
from model3d.exchange.ifc.gear.rating import rating_of
from model3d.scene.parts.placement import At
from tests.exchange.ifc.test_import import board, brought, door, doors_brought
from tests.exchange.ifc.written_models import Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

    Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.long


def aggregate(model: Model, whole: Any, parts: list[Any]) -> None:
    """Make parts of a whole, which then stand in no storey by themselves."""
    for part in parts:
        model.inside.remove(part)
    model.relate("IfcRelAggregates", whole, parts)


def georeference(
    model: Model, at: tuple[float, float, float], degrees: float, unit: str | None
) -> None:
    """Say where a model's origin lies on a map, in its own unit or in metres."""
    make = model.file.create_entity
    metre = make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE") if unit else None
    scale = 1.0 if unit else model.scale
    crs = make("IfcProjectedCRS", Name="EPSG:25832", MapUnit=metre)
    east, north, high = (float(one * scale) for one in at)
    angle = math.radians(degrees)
    make("IfcMapConversion", model.context, crs, east, north, high,
         math.cos(angle), math.sin(angle), None)  # fmt: skip


def only(scene: Scene) -> Any:
    (item,) = [one for one in scene.items if one.id == "LP1"]
    return item


def test_a_board_that_is_an_assembly_is_one_board(tmp_path: Path) -> None:
    """Its sections were obstacles, and the board was left out without a word."""
    model = Model()
    model.room()
    whole = model.rooted("IfcElectricDistributionBoard", "MDB", Tag="MDB")
    model.inside.append(whole)
    model.guids["MDB"] = whole.GlobalId
    sections = [
        model.put(
            "IfcBuildingElementPart", f"S{n}", (10.5 + n, 22.4, 0.05), (1, 0.6, 2)
        )
        for n in range(2)
    ]
    aggregate(model, whole, sections)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--units", "m") == 0
    (item,) = read_scene(tmp_path / "room.yaml").items
    assert (item.id, item.kind, item.guid) == ("MDB", "panelboard", model.guids["MDB"])
    assert item.size == pytest.approx((2.0, 0.6, 2.0))
    assert isinstance(item.place, At)
    assert item.place.at == pytest.approx((1.5, 2.7))
    assert item.place.facing == "south"


def test_breakers_in_a_cabinet_are_no_gear_of_their_own(tmp_path: Path) -> None:
    model = Model()
    model.room()
    board(model)
    whole = model.inside[-1]
    said = {"PredefinedType": "CIRCUITBREAKER"}
    inner = model.put(
        "IfcProtectiveDevice", "Q1", (12.2, 22.9, 1.2), (0.1, 0.1, 0.1), **said
    )
    aggregate(model, whole, [inner])
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    (item,) = read_scene(tmp_path / "room.yaml").items
    assert (item.id, item.size) == ("LP1", (500, 200, 900))


def test_gear_and_spaces_without_a_shape_are_told(
    tmp_path: Path, capsys: Printed
) -> None:
    model = Model()
    model.room()
    model.inside.append(model.rooted("IfcElectricDistributionBoard", "GHOST"))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    told = capsys.readouterr().err
    assert "gear without a solid shape in the model, left out: GHOST" in told
    for one in ("room.yaml", "room.glb"):
        (tmp_path / one).unlink(missing_ok=True)
    flat = Model()
    space = flat.rooted("IfcSpace", "E7", LongName="ELEC")
    flat.relate("IfcRelAggregates", flat.storey, [space])
    board(flat)
    flat.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 2
    (line,) = capsys.readouterr().err.splitlines()
    right = "right is --around ID, such as LP1"
    assert line.endswith(
        f"--space: found no shape of the spaces (E7 ELEC) in the model, {right}"
    )


def test_gear_that_is_elsewhere_is_told(tmp_path: Path, capsys: Printed) -> None:
    model = Model()
    model.room()
    model.put("IfcElectricDistributionBoard", "FAR", (50, 60, 1), (0.5, 0.2, 0.9))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    told = capsys.readouterr().err
    assert "no gear is here; elsewhere in the model: FAR" in told


@pytest.mark.parametrize("degrees", [0.0, 30.0])
@pytest.mark.parametrize("map_unit", ["METRE", None])
def test_models_of_several_origins_come_into_the_frame_of_the_first(
    tmp_path: Path, capsys: Printed, degrees: float, map_unit: str | None
) -> None:
    """By hand, by IFC 4.3, IfcMapConversion: turned, then eastings and northings."""
    house = Model(unit="m")
    house.room()
    door(house)
    east, north = 500_000.0, 5_400_000.0
    georeference(house, (east, north, 300.0), 10.0, map_unit)
    house.write(tmp_path / "house.ifc")
    gear = Model(unit="mm")
    georeference(gear, (east - 100, north - 50, 305.0), 10.0 - degrees, map_unit)
    # The left back corner of a board whose right is the house's x, in either frame.
    u, v = turn(12.0, 22.8, 10.0)
    x, y = turn(u + 100, v + 50, degrees - 10.0)
    right = turn(1.0, 0.0, degrees)
    board_ = "IfcElectricDistributionBoard", "LP1", (x, y, 1.0 - 5.0), (0.5, 0.2, 0.9)
    gear.put(*board_, x=right)
    gear.write(tmp_path / "gear.ifc")
    files = [str(tmp_path / name) for name in ("house.ifc", "gear.ifc")]
    room = tmp_path / "room.yaml"
    words = ["import", *files, "--rules", "nec-2023", "-o", str(room), "--units", "m"]
    assert main(words) == 0
    item = only(read_scene(room))
    assert item.place.at == pytest.approx((2.25, 2.9), abs=1e-4)
    assert float(item.place.bottom) == pytest.approx(0.95, abs=1e-4)
    assert item.size == pytest.approx((0.5, 0.2, 0.9))
    assert item.place.facing == "south"
    told = capsys.readouterr().err
    assert "gear.ifc is moved by " in told
    assert ("turned by" in told) == bool(degrees)
    assert check(read_scene(room)).of("LP1", "working-space")[0].verdict != "not-met"


def turn(x: float, y: float, degrees: float) -> tuple[float, float]:
    """Return a place turned counter-clockwise about the origin."""
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return x * cosine - y * sine, x * sine + y * cosine


def test_origins_that_cannot_be_compared_are_told() -> None:
    far = np.eye(4)
    far[0, 3] = 9_000.0
    names = ["a.ifc", "b.ifc", "c.ifc"]
    box = np.array([[0.0, 0.0, 0.0], [10.0, 10.0, 3.0]])
    moves, chart, told = moves_of(names, [np.eye(4), None, far], [box] * 3)
    assert all((one == np.eye(4)).all() for one in moves)
    assert chart is not None
    first, second = told
    assert first.startswith("b.ifc has no georeference and a.ifc has one")
    assert second.startswith("the georeferences put c.ifc 9000 m, 0 m, 0 m from a.ifc")
    assert moves_of(names, [None] * 3, [box, box, None])[1:] == (None, [])
    # Nobody says anything, and yet they are not of one place.
    *_, told = moves_of(names, [None] * 3, [box, box, box + 300.0])
    assert len(told) == 1
    assert told[0].startswith("c.ifc lies ")
    # Of three the last two lie on a map: they keep their places to each other.
    near = np.eye(4)
    near[0, 3] = 7.0
    moves, _, told = moves_of(names, [None, np.eye(4), near], [box] * 3)
    assert [one[0, 3] for one in moves] == [0.0, 0.0, 7.0]
    assert told[0].startswith("a.ifc has no georeference and b.ifc has one")


@pytest.mark.parametrize(
    ("operation", "hinge", "told"),
    [
        ("DOUBLE_SWING_LEFT", "left", "swings both ways"),
        ("DOUBLE_DOOR_DOUBLE_SWING", "pair", "swings both ways"),
        ("DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_LEFT", "pair", "or its leaves differ"),
        ("SLIDING_TO_LEFT", None, "it slides (SLIDING_TO_LEFT), which a scene has no"),
        ("DOUBLE_DOOR_SLIDING", None, "it slides (DOUBLE_DOOR_SLIDING)"),
        ("FOLDING_TO_RIGHT", None, "it folds (FOLDING_TO_RIGHT)"),
        ("REVOLVING", None, "it revolves (REVOLVING)"),
        ("ROLLINGUP", None, "it rolls up (ROLLINGUP)"),
        ("NOTDEFINED", None, "how it swings is not said in the model"),
    ],
)
def test_a_door_of_which_no_side_can_be_said_says_none(
    tmp_path: Path, capsys: Printed, operation: str, hinge: str | None, told: str
) -> None:
    """Of these some came as opening to one side, or as if nothing were said."""
    model = Model()
    model.room()
    door(model, operation)
    (found,) = doors_brought(model, tmp_path)
    assert (found.opens, found.hinge) == (None, hinge)
    assert told in capsys.readouterr().err


def test_a_leaf_beside_a_panel_that_stays_says_its_side_alone(
    tmp_path: Path, capsys: Printed
) -> None:
    """Source: IFC 4, IfcDoorTypeOperationEnum: SWING_FIXED_LEFT."""
    model = Model()
    model.room()
    door(model, "SWING_FIXED_LEFT")
    (found,) = doors_brought(model, tmp_path)
    assert (found.opens, found.hinge) == ("out", None)
    assert "one leaf swings and one panel stays" in capsys.readouterr().err


@pytest.mark.parametrize("operation", ["SLIDING_TO_LEFT", "REVOLVING", "ROLLINGUP"])
def test_no_way_out_through_a_door_without_hinges_is_met(
    tmp_path: Path, operation: str
) -> None:
    model = Model()
    model.room()
    board(model)
    door(model, operation)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    found = check(read_scene(tmp_path / "room.yaml")).of("LP1", "entrance")
    assert [one.verdict for one in found] == ["open"]


def test_a_door_that_says_nothing_is_as_its_type_says(tmp_path: Path) -> None:
    model = Model()
    model.room()
    door(model, "NOTDEFINED")
    kind = model.rooted("IfcDoorType", "T", PredefinedType="DOOR")
    kind.OperationType = "SINGLE_SWING_RIGHT"
    model.file.create_entity(
        "IfcRelDefinesByType",
        GlobalId=ifcopenshell.guid.new(),
        RelatedObjects=[model.inside[-1]],
        RelatingType=kind,
    )
    (found,) = doors_brought(model, tmp_path)
    assert (found.opens, found.hinge) == ("out", "right")


@pytest.mark.parametrize(
    ("volts", "amps"),
    [
        ("Nennspannung", "Nennstrom"),
        ("Bemessungsspannung", "Bemessungsstrom"),
        ("Tension nominale", "Courant assign\u00e9"),
        ("Tensi\u00f3n nominal", "Corriente nominal"),
        ("Tensione nominale", "Corrente nominale"),
        ("Nominale spanning", "Nominale stroom"),
        ("Napi\u0119cie znamionowe", "Pr\u0105d znamionowy"),
        ("M\u00e6rkesp\u00e6nding", "M\u00e6rkestr\u00f8m"),
        ("M\u00e4rksp\u00e4nning", "M\u00e4rkstr\u00f6m"),
    ],
)
def test_voltage_and_current_are_known_by_their_names_in_several_languages(
    tmp_path: Path, volts: str, amps: str
) -> None:
    """Names from memory, of the words that standards of each language use."""
    model = Model()
    panel = model.put("IfcElectricDistributionBoard", "B", (0, 0, 0), (1, 1, 1))
    said = {volts: ("IfcLabel", "230/400 V"), amps: ("IfcLabel", "630 A")}
    model.say(panel, "Works", **said, Extension=("IfcLabel", "15 kV line"))
    model.write(tmp_path / "model.ifc")
    (found,) = read_building([tmp_path / "model.ifc"], lambda _: None).elements
    assert rating_of(found).supply == {"system": "400Y/230", "amps": 630.0}


def test_a_current_that_may_be_a_thousand_times_another_is_none(tmp_path: Path) -> None:
    model = Model()
    panel = model.put("IfcElectricDistributionBoard", "B", (0, 0, 0), (1, 1, 1))
    model.say(panel, "Works", Nennstrom=("IfcLabel", "1.250 A"))
    model.write(tmp_path / "model.ifc")
    (found,) = read_building([tmp_path / "model.ifc"], lambda _: None).elements
    assert rating_of(found).supply == {}


@pytest.mark.parametrize("unit", ["mm", "ft"])
def test_without_a_space_the_floor_is_the_one_before_the_front(
    tmp_path: Path, capsys: Printed, unit: str
) -> None:
    """The reach went on past the slab, which then was no floor: gear stood on it."""
    model = Model(unit=unit)
    model.put("IfcSlab", "floor", (9, 19, -0.15), (3, 3, 0.2))
    model.put("IfcSlab", "over", (9, 19, 2.85), (3, 3, 0.2))
    model.put("IfcWall", "north", (9, 22, 0), (3, 0.2, 2.8))
    model.put("IfcElectricDistributionBoard", "LP1", (10, 21.8, 0.95), (0.6, 0.2, 0.9))
    model.write(tmp_path / "model.ifc")
    more = ["--rules", "nec-2023", "--units", "mm", "--around", "LP1"]
    words = [str(tmp_path / "model.ifc"), *more, "-o", str(tmp_path / "room.yaml")]
    assert main(["import", *words]) == 0
    scene = read_scene(tmp_path / "room.yaml")
    # The slab ends at 0.05 and the one over it begins at 2.85; the board at 0.95.
    assert scene.room is not None
    assert scene.room.height == pytest.approx(2800)
    place = only(scene).place
    assert isinstance(place, At)
    assert place.bottom == pytest.approx(900)
    assert place.facing == "south"
    assert "taken as" not in capsys.readouterr().err


def test_where_no_floor_and_no_ceiling_are_they_are_told(
    tmp_path: Path, capsys: Printed
) -> None:
    model = Model()
    model.put("IfcElectricDistributionBoard", "LP1", (10, 21.8, 0.95), (0.6, 0.2, 0.9))
    model.write(tmp_path / "model.ifc")
    words = [
        "--rules",
        "nec-2023",
        "--around",
        "LP1",
        "-o",
        str(tmp_path / "room.yaml"),
    ]
    assert main(["import", str(tmp_path / "model.ifc"), *words]) == 0
    told = capsys.readouterr().err
    assert "no floor of the model is before it: its bottom is taken as the" in told
    # 0.9 of the board and 2 over it.
    assert "over it: the room is taken as 2.9 m high" in told


@pytest.mark.parametrize(
    ("schema", "board", "words", "kind"),
    [
        ("IFC2X3", "IfcElectricDistributionPoint", "SWITCHBOARD", "switchboard"),
        ("IFC2X3", "IfcElectricDistributionPoint", "ALARMPANEL", "control-panel"),
        ("IFC2X3", "IfcElectricDistributionPoint", "CONSUMERUNIT", "panelboard"),
        ("IFC4", "IfcBuildingElementProxy", "Distribution board 7", "panelboard"),
        ("IFC4X3_ADD2", "IfcBuildingElementProxy", "Switchgear A", "switchgear"),
        ("IFC4", "IfcBuildingElementProxy", "Bench", "obstacle"),
    ],
)
def test_boards_by_their_function_and_proxies_by_their_names(
    tmp_path: Path, schema: str, board: str, words: str, kind: str
) -> None:
    model = Model(schema)
    model.room()
    is_function = schema == "IFC2X3"
    said = {"DistributionPointFunction": words} if is_function else {}
    name = "LP1" if is_function else words
    model.put(board, name, (11, 22.8, 0.95), (0.6, 0.2, 0.9), Tag="LP1", **said)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    (item,) = read_scene(tmp_path / "room.yaml").items
    assert item.kind == kind


def test_a_hole_in_the_floor_is_a_pit(tmp_path: Path, capsys: Printed) -> None:
    """A slab of two parts, with 0.6 m between them, under the front of the board."""
    model = Model()
    model.room()
    (floor,) = [one for one in model.inside if one.Name == "floor"]
    model.inside.remove(floor)
    model.file.remove(floor)
    model.put("IfcSlab", "west", (9, 19, -0.15), (2, 5, 0.2))
    model.put("IfcSlab", "east", (11.6, 19, -0.15), (3.4, 5, 0.2))
    model.put("IfcElectricDistributionBoard", "LP1", (11, 22.8, 0.95), (0.6, 0.2, 0.9))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--units", "mm") == 0
    scene = read_scene(tmp_path / "room.yaml")
    (pit,) = [one for one in scene.items if one.kind == "pit"]
    assert pit.size is not None
    # As wide as the gap, and from wall to wall: the room is 3 m deep.
    assert sorted(map(float, pit.size[:2])) == pytest.approx([600, 3000])
    assert isinstance(pit.place, At)
    assert pit.place.at == pytest.approx((1300, 1500))
    assert "pit-1: the model has no floor here" in capsys.readouterr().err
    (said,) = check(scene).of("LP1", "clear-floor")
    assert said.verdict == "not-met"


@pytest.mark.parametrize("unit", ["mm", "ft"])
def test_what_is_drawn_by_its_bounding_box_alone_stands_there_as_that(
    tmp_path: Path, unit: str
) -> None:
    """Source: IFC 4, IfcBoundingBox: corner and three sizes in the element's axes."""
    model = Model("IFC4", unit)
    model.room()
    board(model)
    tank = model.put("IfcTank", "Tank", (12.1, 21.9, 0.05), (0.1, 0.1, 0.1))
    (shape,) = tank.Representation.Representations
    corner = model.file.create_entity("IfcCartesianPoint", (0.0, 0.0, 0.0))
    sizes = [one * model.scale for one in (0.4, 0.5, 1.0)]
    box = model.file.create_entity("IfcBoundingBox", corner, *sizes)
    shape.RepresentationIdentifier, shape.RepresentationType = "Box", "BoundingBox"
    shape.Items = [box]
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    (space,) = check(read_scene(tmp_path / "room.yaml")).of("LP1", "working-space")
    assert space.verdict == "not-met"
    # The board's front is at 22.8, the tank's north side at 22.4.
    assert space.provided["depth"] == pytest.approx(0.4, abs=1e-3)


THROUGH: Final = [(10.0, 22.0, 1.05), (14.0, 22.0, 1.05)]
"""From wall to wall, 0.8 m ahead of the board's front."""
ASIDE: Final = [(10.2, 20.3, 0.05), (10.2, 20.3, 2.45)]
"""Upright in the corner that is farthest from the board."""


@pytest.mark.parametrize(
    ("schema", "unit", "kind"),
    [
        ("IFC4", "mm", "IfcPipeSegment"),
        ("IFC4X3_ADD2", "m", "IfcCableCarrierSegment"),
        ("IFC2X3", "ft", "IfcFlowSegment"),
    ],
)
def test_what_is_drawn_by_a_line_alone_leaves_open_what_it_may_break(
    tmp_path: Path, capsys: Printed, schema: str, unit: str, kind: str
) -> None:
    """Source: IFC 4, the axis of a segment is its representation without a body."""
    model = Model(schema, unit)
    model.room()
    board(model)
    model.draw(kind, "Drain", THROUGH)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    assert "Drain: drawn by lines alone" in capsys.readouterr().err
    report = check(read_scene(tmp_path / "room.yaml"))
    (space,) = report.of("LP1", "working-space")
    assert space.verdict == "open"
    assert "Say how large Drain is" in space.missing


def test_what_is_drawn_by_a_line_elsewhere_changes_nothing(
    tmp_path: Path, capsys: Printed
) -> None:
    told = []
    for name in ("bare", "more"):
        folder = tmp_path / name
        folder.mkdir()
        model = Model()
        model.room()
        board(model)
        if name == "more":
            model.draw("IfcPipeSegment", "Riser", ASIDE)
            # These lie under the floor, over the ceiling and in the room's own wall.
            model.draw("IfcPipeSegment", "Main", [(10, 22, -2), (14, 22, -2)])
            model.draw("IfcPipeSegment", "Vent", [(10, 22, 9), (14, 22, 9)])
            model.draw("IfcWall", "Lining", [(10, 22.98, 0), (14, 22.98, 0)])
            model.draw("IfcAnnotation", "Note", THROUGH)
            model.draw("IfcGrid", "Axes", THROUGH)
        model.write(folder / "model.ifc")
        assert brought(folder) == 0
        report = check(read_scene(folder / "room.yaml"))
        told.append([(one.key, one.verdict) for one in report.judgements])
    assert told[0] == told[1]
    assert "working-space" in {key[0] for key, verdict in told[0] if verdict == "met"}
    err = capsys.readouterr().err
    assert "Riser: drawn by lines alone" in err
    for other in ("Main", "Vent", "Lining", "Note", "Axes"):
        assert other not in err


def test_what_is_drawn_in_plan_alone_may_stand_at_any_height(tmp_path: Path) -> None:
    """Source: IFC 4, the axis of a wall is a curve in plan at its foot."""
    model = Model()
    model.room()
    board(model)
    model.draw("IfcWall", "Screen", [(10, 22, 0), (14, 22, 0)], ("Axis", "Curve2D"))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    scene = read_scene(tmp_path / "room.yaml")
    (screen,) = [one for one in scene.items if one.uncertain]
    assert screen.kind == "wall"
    (space,) = check(scene).of("LP1", "working-space")
    assert space.verdict == "open"


def test_gear_that_is_drawn_by_a_symbol_alone_may_be_in_the_way(
    tmp_path: Path, capsys: Printed
) -> None:
    model = Model()
    model.room()
    board(model)
    kind = "IfcElectricDistributionBoard"
    model.draw(kind, "LP9", [(12, 22, 0.1), (12.5, 22, 0.1)], ("FootPrint", "Curve2D"))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    assert "the working space at it is not judged" in capsys.readouterr().err
    report = check(read_scene(tmp_path / "room.yaml"))
    assert report.of("LP1", "working-space")[0].verdict == "open"


def test_an_arc_is_drawn_by_many_lines_and_stands_in_its_box(tmp_path: Path) -> None:
    model = Model()
    model.room()
    board(model)
    arc = [(12 + math.cos(n / 20), 21 + math.sin(n / 20), 1.0) for n in range(0, 63, 2)]
    model.draw("IfcPipeSegment", "Bend", arc)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    (bend,) = [one for one in read_scene(tmp_path / "room.yaml").items if one.uncertain]
    assert bend.size is not None
    # A half of a round of 1 m, and 0.25 m beyond on every side.
    assert sorted(map(float, bend.size)) == pytest.approx([500, 1500, 2500], abs=2)
