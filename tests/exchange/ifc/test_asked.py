"""What a model must say of gear: as an IDS file that others read, and as a report."""

from __future__ import annotations

import warnings
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

import pytest
from ifctester import ids

from model3d import read_scene
from model3d.exchange.ifc.gear.classes import table_of
from model3d.exchange.ifc.gear.ids import ids_text
from tests.exchange.ifc.written_models import Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.long

BOARD = {
    "IFC2X3": "IfcElectricDistributionPoint",
    "IFC4": "IfcElectricDistributionBoard",
    "IFC4X3_ADD2": "IfcDistributionBoard",
}
CURRENT = {"IFC2X3": "NominalCurrent"}
OLDER = (
    ("DS1", "IfcSwitchingDeviceType", "SWITCHDISCONNECTOR"),
    ("light switch", "IfcSwitchingDeviceType", "TOGGLESWITCH"),
    ("CB1", "IfcProtectiveDeviceType", "CIRCUITBREAKER"),
    ("Lighting PanelBoard A", "IfcProtectiveDeviceType", "USERDEFINED"),
    ("Smoke Detector", "IfcProtectiveDeviceType", "USERDEFINED"),
    ("Main (SWITCHBOARD)", "IfcSwitchingDeviceType", "NOTDEFINED"),
)
"""Names of flow controllers, and the class and predefined type of their types."""
NAMESPACE = "http://standards.buildingsmart.org/IDS"


def written(folder: Path, schema: str = "IFC4", **front: str) -> Path:
    """Write a model with a board; what it says of its front as property."""
    model = Model(schema)
    model.room()
    said = {"DistributionPointFunction": "DISTRIBUTIONBOARD"}
    board = model.put(
        BOARD[schema], "LP1", (12.5, 23.0, 1.0), (0.5, 0.2, 0.9), x=(-1, 0),
        **(said if schema == "IFC2X3" else {}),
    )  # fmt: skip
    if front:
        values: dict[str, Any] = {
            name: ("IfcLabel", one) for name, one in front.items()
        }
        values["Distribution System"] = ("IfcLabel", "480Y/277 V")
        model.say(board, "Standclear_Gear", **values)
        amps = {
            CURRENT.get(schema, "RatedCurrent"): ("IfcElectricCurrentMeasure", 225.0)
        }
        model.say(board, "Pset_ElectricalDeviceCommon", **amps)
    return model.write(folder / "model.ifc")


def asked(folder: Path) -> Any:
    """Return the file as an outside reader has it, held against the official schema."""
    file = folder / "gear.ids"
    if not file.exists():
        assert main(["import", str(folder / "model.ifc"), "-o", str(file)]) == 0
    return ids.open(str(file), validate=True)


@pytest.mark.parametrize("schema", [*BOARD])
def test_an_outside_reader_finds_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], schema: str
) -> None:
    import ifcopenshell  # noqa: PLC0415 - not where the extra is missing

    for front in ({}, {"Front": "south"}):
        model = ifcopenshell.open(str(written(tmp_path, schema, **front)))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            wanted = asked(tmp_path)
            wanted.validate(model, should_filter_version=True)
        (about,) = [one for one in wanted.specifications if one.applicable_entities]
        assert bool(about.status) == bool(front)
        room = tmp_path / f"room{len(front)}.yaml"
        given = ("--rules", "nec-2023", "-o", str(room))
        capsys.readouterr()
        assert main(["import", str(tmp_path / "model.ifc"), *given]) == 0
        told = [one for one in capsys.readouterr().err.splitlines() if "not say" in one]
        lacks = ["LP1: the model does not say voltage, current, front"]
        assert told == ([] if front else lacks)


def test_older_boards_are_asked_by_their_types_and_names(tmp_path: Path) -> None:
    """IFC2X3 has no class of its own for them: interchange, 1.5."""
    model = Model("IFC2X3")
    model.room()
    for number, (name, kind, predefined) in enumerate(OLDER):
        at = (10.5 + number, 23.0, 1.0)
        one = model.put("IfcFlowController", name, at, (0.5, 0.2, 0.9), x=(-1, 0))
        model.relate(
            "IfcRelDefinesByType",
            model.rooted(kind, f"T{number}", PredefinedType=predefined),
            [one],
        )
    written_there = model.write(tmp_path / "model.ifc")
    wanted = asked(tmp_path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        wanted.validate(_opened(written_there), should_filter_version=True)
    found = {
        one.Name
        for about in wanted.specifications
        for one in about.applicable_entities or ()
    }
    assert found == {"DS1", "CB1", "Lighting PanelBoard A", "Main (SWITCHBOARD)"}
    assert not any(one.status for one in wanted.specifications if one.failed_entities)
    # Whoever leaves a class out is not asked about it.
    rows = table_of('[[ifc]]\nclass = "IfcFlowController"\nkind = "none"\n')
    named = [
        one
        for one in ET.fromstring(ids_text(rows)).iter(f"{{{NAMESPACE}}}specification")  # noqa: S314 - made here
        if one.get("name", "").startswith("named") and one.get("ifcVersion") == "IFC2X3"
    ]
    assert named
    assert not any(b"IFCFLOWCONTROLLER" in ET.tostring(one) for one in named)


def test_a_word_of_the_users_own_is_no_pattern(tmp_path: Path) -> None:
    model = Model()
    model.room()
    for number, name in enumerate(("a UPS-1 (50% $)", "a UPSx1 x50x x")):
        model.put("IfcPump", name, (11 + number, 22.0, 1.0), (0.5, 0.2, 0.9))
    file = model.write(tmp_path / "model.ifc")
    rows = table_of('[[ifc]]\nwords = ["UPS-1 (50% $)"]\nkind = "ups"\n')
    (tmp_path / "gear.ids").write_bytes(ids_text(rows))
    wanted = asked(tmp_path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        wanted.validate(_opened(file), should_filter_version=True)
    (about,) = [one for one in wanted.specifications if one.applicable_entities]
    assert [one.Name for one in about.applicable_entities] == ["a UPS-1 (50% $)"]


def _opened(file: Path) -> Any:
    import ifcopenshell  # noqa: PLC0415 - not where the extra is missing

    return ifcopenshell.open(str(file))


def test_a_front_that_the_model_states_counts(tmp_path: Path) -> None:
    written(tmp_path, Front="90")
    room = tmp_path / "room.yaml"
    given = ("--rules", "nec-2023", "--around", "LP1", "-o", str(room))
    assert main(["import", str(tmp_path / "model.ifc"), *given]) == 0
    (panel,) = [one for one in read_scene(room).items if one.id == "LP1"]
    assert getattr(panel.place, "facing", None) == "east"


def test_room_switches_are_not_asked() -> None:
    text = ids_text().decode()
    assert "TOGGLESWITCH" not in text
    assert "SWITCHDISCONNECTOR" in text
    assert ids_text().decode() == text
