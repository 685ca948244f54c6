"""What a model must say of gear: as an IDS file that others read, and as a report."""

from __future__ import annotations

import warnings
from typing import TYPE_CHECKING, Any

import pytest
from ifctester import ids

from model3d import read_scene
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
