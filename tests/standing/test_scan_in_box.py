"""A scan beside a size: the box is judged, the points drawn, what sticks out told.

The outside source is the same room without the scan: its judgements are the same.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Final

import jsonschema
import numpy as np
import pytest

from model3d import SceneError, check
from model3d.mending.remedies import bench_of, mends
from model3d.scene.text.schema import json_schema
from model3d.standing.remarks.overhang import overhang
from tests.scene.clouds.scans import room, surface
from viewer.cli.main import main
from viewer.stage.assembly import build_stage

if TYPE_CHECKING:
    from pathlib import Path

GEAR: Final = """\
  - id: T1
    kind: transformer
    size: [0.6, 0.5, 0.8]
    points: scan.xyz
    place: {wall: north, along: 1}
    supply: {system: 480Y/277, amps: 100}
"""
BARE: Final = GEAR.replace("    points: scan.xyz\n", "")
LOW: Final = (0.0, -0.03, 0.0)
"""A handle 30 mm ahead of the front; else the scan is the box."""
HIGH: Final = (0.6, 0.5, 0.8)


@pytest.mark.long
def test_the_box_is_judged_and_the_points_are_drawn_in_it(tmp_path: Path) -> None:
    scene = room(tmp_path, GEAR, surface(LOW, HIGH))
    found, bare = check(scene), check(room(tmp_path, BARE))
    assert found.judgements == bare.judgements
    assert found.counts["met"] > 0
    assert found.arrangement is not None
    placed = found.arrangement.items["T1"]
    assert placed.solid.closed
    assert placed.surveyed is not None
    # On the north wall (y = 4) the front looks south; its right is east.
    low, high = placed.surveyed.bounds
    assert np.allclose((*low, *high), (1, 4 - 0.53, 0, 1.6, 4, 0.8))
    assert overhang(placed) == {"front": pytest.approx(0.03)}
    told = [one.what for one in found.assumed if one.item == "T1"]
    assert any("its scan stands out of it by 30 mm" in one for one in told)
    assert any(one.startswith("a scan, drawn in its box: ") for one in told)
    (drawn,) = [one for one in build_stage(scene, found).shapes if one.id == "T1"]
    assert drawn.vertices[:, 1].min() == pytest.approx(3.47, abs=0.01)
    # A dot has four corners; the box, which is judged, has its twelve edges.
    assert len(drawn.faces) > 1000
    assert len(drawn.edges) == 12


@pytest.mark.long
def test_it_hides_nothing_so_changes_are_offered(tmp_path: Path) -> None:
    near = GEAR.replace("{wall: north, along: 1}", "{at: [0.8, 1.8], facing: east}")
    scene = room(tmp_path, near, surface(LOW, HIGH))
    assert any(one.remedies for one in mends(bench_of(scene)))


def test_something_may_stand_on_it_and_copies_need_no_place(tmp_path: Path) -> None:
    on = "  - {id: B, kind: pull-box, size: [0.2, 0.2, 0.2], place: {stands_on: T1}}\n"
    report = check(room(tmp_path, GEAR + on, surface(LOW, HIGH)))
    assert report.arrangement is not None
    assert report.arrangement.items["B"].bottom == pytest.approx(0.8)
    waits = GEAR.replace("    place: {wall: north, along: 1}\n", "")
    copies = waits + "    repeat: {count: 2, step: 0.7}\n"
    assert room(tmp_path, copies, surface(LOW, HIGH)).no_place == ("T1", "T2")


@pytest.mark.long
def test_the_schema_knows_both_together(tmp_path: Path) -> None:
    scene = room(tmp_path, GEAR, surface(LOW, HIGH))
    written = json.loads(scene.model_dump_json(by_alias=True, exclude_unset=True))
    jsonschema.validate(written, json_schema())
    written["items"][1]["mesh"] = "gear.glb"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(written, json_schema())


def test_where_it_does_not_fit_is_one_line(tmp_path: Path) -> None:
    for keys, said in (
        ("shift: [0, 0, 0]", "found shift beside a size"),
        ("mesh: a.glb", "found points beside mesh"),
        ("part: a", "part beside a mesh"),
    ):
        with pytest.raises(SceneError) as caught:
            room(tmp_path, f"{GEAR}    {keys}\n", surface(LOW, HIGH))
        lines = [one for one in caught.value.mistakes if "a.glb" not in one.message]
        assert len(lines) == 1
        assert said in str(lines[0])


def test_a_mended_room_stays_in_the_folder_of_its_scan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    near = GEAR.replace("{wall: north, along: 1}", "{at: [0.8, 1.8], facing: east}")
    scene = room(tmp_path, near, surface(LOW, HIGH))
    scene.save(tmp_path / "room.yaml")
    (tmp_path / "away").mkdir()
    new = tmp_path / "away" / "new.yaml"
    words = ["mend", str(tmp_path / "room.yaml"), "--take", "1", "--write", str(new)]
    assert main(words) == 2
    assert "other files" in capsys.readouterr().err
    assert not new.exists()
