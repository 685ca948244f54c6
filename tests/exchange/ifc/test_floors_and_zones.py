"""What is drawn in a room and is no obstacle: raised floors, pads, clearances.

Source: common practice: one stands on a raised floor, gear on its pad, and nothing on
what another program wants clear.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d import check, read_scene
from tests.exchange.ifc.test_import import BOARD, brought

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Item, Scene
    from tests.exchange.ifc.written_models import Model

    Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.long


def scene_of(model: Model, folder: Path) -> Scene:
    model.write(folder / "model.ifc")
    assert brought(folder, "--units", "m") == 0
    return read_scene(folder / "room.yaml")


def item(scene: Scene, name: str) -> Item:
    (found,) = (one for one in scene.items if one.id == name)
    return found


def test_a_raised_floor_is_what_one_stands_on(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    """By hand: its top is at 0.65, the board's underside at 1.0, the slab at 3.0."""
    model.put("IfcCovering", "panels", (10, 20, 0.62), (4, 3, 0.03),
              PredefinedType="FLOORING")  # fmt: skip
    scene = scene_of(model, tmp_path)
    assert [one.id for one in scene.items] == ["LP1"]
    assert scene.origin is not None
    assert scene.origin[2] == "0.65 m"
    assert scene.room is not None
    assert scene.room.height == pytest.approx(3.0 - 0.65)
    place = item(scene, "LP1").place
    assert place is not None
    assert place.bottom == pytest.approx(0.35)  # type: ignore[union-attr]
    assert "a raised floor 650 mm above" in capsys.readouterr().err
    (space,) = check(scene).of("LP1", "working-space")
    assert space.verdict == "met"


def test_a_platform_is_no_raised_floor(model: Model, tmp_path: Path) -> None:
    """It is over 63 % of the room: what stands beside it is on the floor."""
    model.put("IfcSlab", "platform", (10, 20, 0.35), (4, 1.9, 0.2))
    model.put("IfcFurniture", "crate", (12.1, 22.3, 0.05), (0.3, 0.3, 0.3))
    scene = scene_of(model, tmp_path)
    assert scene.origin is not None
    assert scene.origin[2] == "0.05 m"
    (space,) = check(scene).of("LP1", "working-space")
    assert space.verdict == "not-met"
    assert "crate" in {one.item for one in space.intrusions}


def test_a_pad_of_a_slab_is_a_pad(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    model.put("IfcSlab", "Housekeeping pad", (13.0, 21.0, 0.05), (0.9, 0.7, 0.1))
    gear = (13.2, 21.0, 0.15), (0.8, 0.7, 1.8)
    model.put(BOARD["IFC4"], "MSB", *gear, PredefinedType="SWITCHBOARD")
    scene = scene_of(model, tmp_path)
    assert item(scene, "Housekeeping-pad").kind == "pad"
    assert "kind not known" not in capsys.readouterr().err
    assert not check(scene).of("MSB", "as-drawn")


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("XFMR-1 75 kVA Transformer", "transformer"),
        ("Current Transformer 400/5", "obstacle"),
        ("Fused Disconnect 60 A", "disconnect"),
        ("Uninterruptible Power Supply", "ups"),
    ],
)
@pytest.mark.parametrize("drawn", ["IfcBuildingElementProxy", "IfcFlowController"])
def test_gear_is_known_by_its_name_where_its_class_tells_nothing(
    model: Model, tmp_path: Path, name: str, kind: str, drawn: str
) -> None:
    model.put(drawn, name, (13.0, 20.2, 0.05), (0.8, 0.7, 1.1))
    (found,) = (one for one in scene_of(model, tmp_path).items if one.id != "LP1")
    assert found.kind == kind


def test_a_type_that_is_said_counts_before_a_name(model: Model, tmp_path: Path) -> None:
    put = (13.0, 20.2, 0.05), (0.2, 0.2, 0.2)
    model.put("IfcTransformer", "Transformer", *put, PredefinedType="CURRENT")
    assert item(scene_of(model, tmp_path), "Transformer").kind == "obstacle"


def test_a_clearance_at_an_element_is_no_body(model: Model, tmp_path: Path) -> None:
    pump = model.put("IfcPump", "pump", (12.0, 21.0, 0.05), (0.3, 0.3, 0.3))
    only = model.put("IfcPump", "only", (10.5, 21.0, 0.05), (0.3, 0.3, 0.3))
    for element, kept in ((pump, pump.Representation.Representations), (only, ())):
        (zone,) = model.box((2.0, 2.0, 2.0)).Representations
        zone.RepresentationIdentifier = "Clearance"
        element.Representation.Representations = [*kept, zone]
    scene = scene_of(model, tmp_path)
    assert item(scene, "pump").size == pytest.approx((0.3, 0.3, 0.3))
    # Of the other nothing is known but its place: it is asked about.
    assert [one.name for one in scene.not_read] == ["only"]


@pytest.mark.parametrize(("thick", "found"), [(0.4, ["D1"]), (0.05, [])])
def test_a_door_deep_in_a_thick_wall_is_a_door_of_the_room(
    model: Model, tmp_path: Path, thick: float, found: list[str]
) -> None:
    """Its frame is at 19.6 to 19.7, the face of the south wall at 20.0.

    Behind a thin wall of the room, and air, it is a door of what is beyond.
    """
    (south,) = (one for one in model.file.by_type("IfcWall") if one.Name == "south")
    south.Representation = model.box((4, thick, 3))
    south.ObjectPlacement.RelativePlacement = model.axes((10, 20 - thick, 0))
    said: dict[str, Any] = {"OverallWidth": 900.0, "OverallHeight": 2100.0}
    said |= {"OperationType": "SINGLE_SWING_LEFT"}
    at, size = (11.9, 19.7, 0.05), (0.9, 0.1, 2.1)
    model.put("IfcDoor", "D1", at, size, x=(-1, 0), **said)
    room = scene_of(model, tmp_path).room
    assert room is not None
    assert [one.id for one in room.doors] == found
    if found:
        # The wall's left end, seen from inside, is its east end, at 14.
        assert room.doors[0].along == pytest.approx(14 - 11.9)


def test_a_space_without_a_name_has_its_identity(model: Model, tmp_path: Path) -> None:
    """The scene had no title then, and could not be written."""
    (space,) = model.file.by_type("IfcSpace")
    space.Name, space.LongName = None, " "
    assert scene_of(model, tmp_path).title == f"space {space.GlobalId}"


def test_a_space_without_a_shape_is_told(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    (space,) = model.file.by_type("IfcSpace")
    space.Representation = None
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--space", "E1") == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line == (
        "--space: found no shape of the spaces (E1 ELEC RM) in the model, right is "
        "--around ID, such as LP1"
    )
