"""A real building end to end: numbers worked out on its raw geometry beforehand.

"BSI (2020) Duplex Apartment Test Files, buildingSMART International", CC BY 4.0; looked
for in the folder that STANDCLEAR_DATA names, or in shared/data beside the project.
"""

from __future__ import annotations

import os
import warnings
from pathlib import Path

import ifcopenshell
import pytest
from ifctester import ids

from model3d import check, read_scene
from model3d.exchange.ifc.file.worker import building_of
from model3d.exchange.ifc.gear.classes import kind_of
from model3d.exchange.ifc.gear.likely_front import SURE, ElementBody, stand_of
from tests.paths import ROOT
from viewer.cli.main import main


def _models() -> list[Path]:
    named = os.environ.get("STANDCLEAR_DATA")
    above = [one / "shared" / "data" for one in ROOT.parents]
    for folder in [Path(named)] if named else above:
        files = [folder / "ifc" / f"duplex_{one}.ifc" for one in _NAMES]
        if all(file.is_file() for file in files):
            return files
    return []


_NAMES = ("architecture", "electrical")
MODELS = _models()
pytestmark = [
    pytest.mark.many,
    pytest.mark.skipif(not MODELS, reason="the models of the building are not here"),
]
BOILERS = '[[ifc]]\nwords = ["boiler"]\nkind = "control-panel"\n'


def test_the_fronts_of_devices_on_walls_are_sure() -> None:
    building = building_of(MODELS, lambda _: None)
    kinds = {one.key: kind_of(one) for one in building.solids}
    bodies = [ElementBody(one, kinds[one.key] == "wall") for one in building.solids]
    margins = {}
    for one in building.solids:
        hung = one.is_a("IfcDistributionControlElement", "IfcFlowTerminal")
        if one.key[0] == 1 and (hung or kinds[one.key] == "panelboard"):
            low, high = one.points.min(axis=0) - 1.3, one.points.max(axis=0) + 1.3
            near = [
                body
                for body in bodies
                if body.element is not one
                and (body.bounds[0] < high).all()
                and (body.bounds[1] > low).all()
            ]
            margins[one.key] = stand_of(one, near).margin, one.called
    unsure = [name for margin, name in margins.values() if margin < SURE]
    # 77 devices on walls and an appliance; lights that hang have no front at all.
    assert len(margins) - len(unsure) == 78
    assert sorted(unsure) == [*["Pendant Light - Hemisphere"] * 8, "Refrigerator"]


@pytest.mark.parametrize(
    ("guid", "floor", "pump"),
    [
        ("1K7eM1Qof1dOc9$mY9I4DL", "0.019 m", None),
        ("1K7eM1Qof1dOc9$mY9I4DR", "0.019 m", None),
        ("10k69mF8j4eeUjUpzCXCG7", "3.113 m", 0.364),
        ("1jQu9wkdr0iwNuem13Fl5i", "3.113 m", 0.463),
    ],
)
def test_panelboards_are_free_and_boilers_are_not(
    tmp_path: Path, guid: str, floor: str, pump: float | None
) -> None:
    table, room = tmp_path / "kinds.toml", tmp_path / "room.yaml"
    table.write_text(BOILERS)
    given = ["--rules", "nec-2023", "--around", guid, "--mapping", str(table)]
    assert main(["import", *map(str, MODELS), *given, "-o", str(room)]) == 0
    scene = read_scene(room)
    assert scene.origin is not None
    assert scene.origin[2] == floor
    (gear,) = [item for item in scene.items if item.guid == guid]
    (space,) = [
        one
        for one in check(scene).of(gear.id, "working-space")
        if one.verdict != "open" or pump is None
    ]
    if pump is None:
        assert space.verdict == "met"
        return
    assert space.verdict == "not-met"
    assert space.provided["depth"] == pytest.approx(pump, abs=5e-4)
    # The partition is 0.876 ahead: 24 mm short of 0.9 m, 38 mm of 36 in.
    kinds = {item.id: item.kind for item in scene.items}
    ways = {kinds.get(one.item, "wall") for one in space.intrusions}
    assert ways == {"machine", "wall"}


def test_its_boards_are_asked_by_their_names(tmp_path: Path) -> None:
    """Both are flow controllers, typed as its smoke detectors are."""
    asked = tmp_path / "gear.ids"
    assert main(["import", str(MODELS[1]), "-o", str(asked)]) == 0
    wanted = ids.open(str(asked), validate=True)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        wanted.validate(ifcopenshell.open(str(MODELS[1])), should_filter_version=True)
    found = {
        one.Name.split(":")[2]
        for about in wanted.specifications
        for one in about.applicable_entities or ()
    }
    assert found == {"Unit A Panelboard", "Unit B Panelboard", "Fire Alarm Panel"}
