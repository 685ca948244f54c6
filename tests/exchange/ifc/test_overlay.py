"""Spaces and findings as IFC: read again by the library, valid, and the same again."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import ifcopenshell
import ifcopenshell.geom
import numpy as np
import pytest
from ifcopenshell import validate
from ifcopenshell.util import element as util

from model3d import check, read_scene
from model3d.exchange.ifc.file.opening import SCHEMAS
from model3d.exchange.ifc.file.reader import read_building
from model3d.exchange.ifc.overlay import overlay
from model3d.scene.text.reader import read_text
from tests.exchange.ifc.test_import import board, brought
from tests.exchange.ifc.written_models import Model
from tests.exchange.rooms import PANEL, TANK, TEXT, copied, crowded, free
from tests.scenes import examples

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.long


def opened(data: bytes) -> Any:
    return ifcopenshell.file.from_string(data.decode())


def proxies(model: Any) -> dict[str, Any]:
    return {one.Name: one for one in model.by_type("IfcBuildingElementProxy")}


def faults(model: Any) -> list[tuple[str, str]]:
    """Return what is invalid in a model: what about whom, which has another number."""
    log = validate.json_logger()
    validate.validate(model, log, express_rules=False)
    said = ((str(one["message"]), str(one.get("attribute"))) for one in log.statements)
    return sorted(said)


def corners_of(element: Any) -> np.ndarray[Any, Any]:
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)  # noqa: FBT003 - its own way
    shape = ifcopenshell.geom.create_shape(settings, element)
    return np.array(shape.geometry.verts).reshape(-1, 3)


def bounds(element: Any) -> np.ndarray[Any, Any]:
    points = corners_of(element)
    return np.array([points.min(axis=0), points.max(axis=0)])


def test_copies_with_one_globalid_give_elements_of_their_own(tmp_path: Path) -> None:
    """Models copy these; in a model each may stand once."""
    model = opened(overlay(check(copied(tmp_path))))
    assert {"Tank", "Copy"} <= {name.split()[0] for name in proxies(model)}
    ids = [one.GlobalId for one in model.by_type("IfcRoot")]
    assert len(ids) == len({*ids})


@pytest.mark.filterwarnings(
    # The rules of the library leave their files open.
    "ignore::ResourceWarning",
    "ignore::pytest.PytestUnraisableExceptionWarning",
)
@pytest.mark.parametrize("schema", SCHEMAS)
def test_a_file_of_its_own_is_valid_and_says_what_was_found(
    tmp_path: Path, schema: str
) -> None:
    report = check(crowded(tmp_path))
    model = opened(overlay(report, schema=schema))
    log = validate.json_logger()
    validate.validate(model, log, express_rules=True)
    assert log.statements == []
    found = proxies(model)
    space = found["LP1 working-space"]
    said = util.get_psets(space)["Standclear_WorkingSpace"]
    assert said["EquipmentGlobalId"] == PANEL
    assert said["Result"] == "not-met"
    assert said["RequiredDepth"] == pytest.approx(0.9, abs=0.02)
    assert said["ClearDepth"] == pytest.approx(0.3)  # to the crate
    low, high = bounds(space)
    assert high[1] == pytest.approx(203.8)
    assert low[2] == pytest.approx(3.0)
    tank = found["Tank in the way of LP1 working-space"]
    finding = util.get_psets(tank)["Standclear_Finding"]
    assert finding["ClearDepth"] == pytest.approx(0.6)
    assert finding["ObstacleGlobalId"] == TANK
    assert finding["ObstacleName"] == "Tank"
    assert finding["ObstacleClass"] == "machine"
    assert {"EquipmentGlobalId", "ClearDepth", "HeightFrom"} <= finding.keys()
    assert finding["HeightTo"] == pytest.approx(1.2)
    # What is no GlobalId never stands for one (ISO 16739-1, IfcGloballyUniqueId: 22).
    sets = [util.get_psets(one) for one in found.values()]
    told = [one.get("Standclear_Finding", {}).get("ObstacleGlobalId") for one in sets]
    assert {len(one) for one in told if one is not None} == {22}
    other = util.get_psets(found["LP1 dedicated-space"])
    assert "Standclear_RequiredSpace" in other


def test_what_is_in_the_way_of_turned_gear_is_no_nearer_than_it_is_told(
    tmp_path: Path,
) -> None:
    """By hand: 1.1 m between the middles, 0.1 and 0.4 m of it within the two."""
    panel = (
        "{wall: north, along: 2, bottom: 0.9}",
        ("{at: [3, 3], facing: 150, bottom: 0.9}"),
    )
    tank = "{at: [2.3, 2.8], facing: south}", ("{at: [3.55, 2.047372056], facing: 150}")
    text = TEXT[: TEXT.index("  - id: Crate")].replace(*panel).replace(*tank)
    report = check(read_text(text, tmp_path / "room.yaml"))
    model = opened(overlay(report))
    found = proxies(model)["Tank in the way of LP1 working-space"]
    said = util.get_psets(found)["Standclear_Finding"]
    assert said["ClearDepth"] == pytest.approx(0.6, abs=1e-6)
    ahead = (corners_of(found) - (103.0, 203.0, 3.0)) @ (0.5, -math.sqrt(0.75), 0.0)
    # As far ahead as it is told; 0.3 m of it lie in the 0.9 m that are asked for.
    assert ahead.min() - 0.1 == pytest.approx(0.6, abs=1e-6)
    assert ahead.max() - 0.1 == pytest.approx(0.914, abs=0.02)


def test_no_two_findings_of_a_room_are_called_the_same() -> None:
    """Of the cells of R2 two things are in the way: the shelf above, and its tier."""
    model = opened(overlay(examples.report("battery-room")))
    every = [one.Name for one in model.by_type("IfcBuildingElementProxy")]
    named = [one for one in every if "in the way" in one]
    assert len(named) == len({*named}) >= 3
    (shelf,) = [one for one in named if one.startswith("R2 (its upper shelf) in the")]
    assert "tier" in shelf
    said = util.get_psets(proxies(model)[shelf])["Standclear_Finding"]
    assert said["ObstaclePart"] == "its upper shelf"


@pytest.mark.parametrize("sign", ["\0", "\x1b", "\u2028"])
def test_what_is_no_sign_cuts_no_name(tmp_path: Path, sign: str) -> None:
    report = replace(check(crowded(tmp_path)), scene=f"Pump{sign}house")
    model = opened(overlay(report))
    assert model.by_type("IfcProject")[0].Name == "Pump house"


def test_the_same_volume_keeps_its_identity(tmp_path: Path) -> None:
    one, other = (overlay(check(make(tmp_path))) for make in (crowded, crowded))
    assert one == other
    models = opened(overlay(check(free(tmp_path)))), opened(one)
    cleared, before = map(proxies, models)
    name = "LP1 working-space"
    assert cleared[name].GlobalId == before[name].GlobalId
    assert not [name for name in cleared if "in the way" in name]


@pytest.mark.parametrize("unit", ["mm", "m", "ft"])
@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
def test_a_copy_of_the_model_has_them_in_its_own_unit(
    tmp_path: Path, schema: str, unit: str
) -> None:
    model = Model(schema, unit)
    model.room()
    file = model.write(tmp_path / "model.ifc")
    count = len(read_building([file], lambda _: None).solids)
    report = check(crowded(tmp_path))
    data = overlay(report, into=file)
    copy = tmp_path / "copy.ifc"
    copy.write_bytes(data)
    # What is wrong with the model itself stays so, and nothing is added to it.
    assert faults(opened(data)) == faults(ifcopenshell.open(file))
    put = opened(data)  # as long as its elements are asked: they do not keep it
    found = proxies(put)
    assert np.allclose(bounds(found["LP1 working-space"])[1][1], 203.8, atol=1e-6)
    # What is put in is nobody's obstacle when the copy is read, and put in but once.
    assert len(read_building([copy], lambda _: None).solids) == count
    again = opened(overlay(report, into=copy))
    assert len(again.by_type("IfcBuildingElementProxy")) == len(found)
    assert len({one.GlobalId for one in again.by_type("IfcRoot")}) == len(
        again.by_type("IfcRoot")
    )


@pytest.mark.filterwarnings(
    "ignore::ResourceWarning",
    "ignore::pytest.PytestUnraisableExceptionWarning",
)
@pytest.mark.parametrize(("schema", "type_"), [("IFC4X3", "CLEARANCE"), ("IFC4", None)])
def test_spaces_may_be_virtual_elements(
    tmp_path: Path, schema: str, type_: str | None
) -> None:
    """Source: IFC 4.3, IfcVirtualElementTypeEnum; IFC4 has no such type."""
    report = check(crowded(tmp_path))
    model = opened(overlay(report, schema=schema, clearance=True))
    log = validate.json_logger()
    validate.validate(model, log, express_rules=True)
    assert log.statements == []
    spaces = {one.Name: one for one in model.by_type("IfcVirtualElement")}
    space = spaces["LP1 working-space"]
    assert getattr(space, "PredefinedType", None) == type_
    assert "Standclear_WorkingSpace" in util.get_psets(space)
    assert "Tank in the way of LP1 working-space" in proxies(model)
    assert not any("in the way" not in name for name in proxies(model))


def test_what_is_in_the_way_is_told_by_its_class_in_the_model(tmp_path: Path) -> None:
    model = Model("IFC4", "mm")
    model.room()
    file = model.write(tmp_path / "model.ifc")
    wall = ifcopenshell.open(file).by_type("IfcWall")[0]
    scene = read_text(TEXT.replace(TANK, wall.GlobalId), tmp_path / "room.yaml")
    put = opened(overlay(check(scene), into=file))
    tank = proxies(put)["Tank in the way of LP1 working-space"]
    said = util.get_psets(tank)["Standclear_Finding"]
    assert said["ObstacleClass"] == wall.is_a()


@pytest.mark.parametrize(("schema", "unit"), [("IFC4", "mm"), ("IFC2X3", "ft")])
def test_its_storey_is_that_of_the_model(
    tmp_path: Path, schema: str, unit: str
) -> None:
    """Source: IFC 4, IfcBuildingStorey: Elevation is in the model's own unit."""
    model = Model(schema, unit)
    model.room()
    board(model)
    model.storey.Elevation = 3.5 * model.scale
    # The one above lies nearer below the floor by its figure: only the name tells.
    upper = model.rooted("IfcBuildingStorey", "Gallery", Elevation=0.04 * model.scale)
    model.relate("IfcRelAggregates", model.building, [upper])
    file = model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 0
    scene = read_scene(tmp_path / "room.yaml")
    report = check(scene)
    whole = opened(overlay(report, schema=schema))
    (storey,) = whole.by_type("IfcBuildingStorey")
    assert storey.Name == "Ground floor"
    assert storey.Elevation == pytest.approx(3.5)
    copy = opened(overlay(report, into=file))
    spaces = [one for name, one in proxies(copy).items() if name.startswith("LP1 ")]
    assert spaces
    for one in spaces:
        assert util.get_container(one).Name == "Ground floor"


def test_an_element_in_a_space_is_on_the_storey_of_that(tmp_path: Path) -> None:
    model = Model()
    model.room()
    lamp = model.put("IfcLightFixture", "L1", (12, 21, 2), (0.2, 0.2, 0.1))
    model.inside.remove(lamp)
    (space,) = model.file.by_type("IfcSpace")
    model.rooted(
        "IfcRelContainedInSpatialStructure",
        "in the room",
        RelatedElements=[lamp],
        RelatingStructure=space,
    )
    file = model.write(tmp_path / "model.ifc")
    elements = read_building([file], lambda _: None).elements
    (one,) = [one for one in elements if one.name == "L1"]
    assert one.storey == "Ground floor"
