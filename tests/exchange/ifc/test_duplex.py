"""A real building end to end: numbers worked out on its raw geometry beforehand.

"BSI (2020) Duplex Apartment Test Files, buildingSMART International", CC BY 4.0; looked
for in the folder that STANDCLEAR_DATA names, or in shared/data beside the project.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from model3d import check, read_scene
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
