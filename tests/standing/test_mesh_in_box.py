"""A mesh beside a size: the box is judged, the mesh drawn, what sticks out told."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import jsonschema
import numpy as np
import pytest

from model3d import Scene, SceneError, check
from model3d.geometry.bodies.clipping import BOX_FACES, corners
from model3d.geometry.files.mesh_parts import MeshPart, glb
from model3d.scene.text.reader import read_text
from model3d.scene.text.schema import json_schema
from model3d.standing.remarks.overhang import overhang
from viewer.stage.assembly import build_stage

if TYPE_CHECKING:
    from pathlib import Path

HEAD = """\
title: A
units: m
rules: nec-2023
room: {size: [4, 3], height: 3}
items:
"""
PANEL = """\
  - id: P
    kind: panelboard
    size: [0.5, 0.2, 0.9]
    mesh: gear.glb
    place: {wall: east, along: 1, bottom: 0.9}
"""


def scene(folder: Path, items: str, *parts: MeshPart) -> Scene:
    (folder / "gear.glb").write_bytes(glb(parts, {}))
    return read_text(HEAD + items, folder / "room.yaml")


def box(name: str, low: Any, high: Any) -> MeshPart:  # noqa: ANN401 - three numbers
    return MeshPart(name, corners(low, high), BOX_FACES)


def test_the_box_is_judged_and_the_mesh_is_drawn_in_it(tmp_path: Path) -> None:
    # To the right 0..0.5, from the front to the back 0..0.2; a handle 40 mm ahead.
    handle = box("P", (0.1, -0.04, 0.3), (0.5, 0.2, 0.9))
    found = check(scene(tmp_path, PANEL, handle))
    assert found.arrangement is not None
    placed = found.arrangement.items["P"]
    plain = check(scene(tmp_path, PANEL.replace("    mesh: gear.glb\n", ""), handle))
    assert found.judgements == plain.judgements
    assert overhang(placed) == {"front": pytest.approx(0.04)}
    assert placed.drawn is not None
    low, high = placed.drawn.bounds
    # On the east wall (x = 4) the front looks west; its right is north.
    assert np.allclose((low[0], high[0]), (4 - 0.2 - 0.04, 4.0))
    assert np.allclose((low[2], high[2]), (1.2, 1.8))
    assert [one.item for one in found.assumed].count("P") == 2
    told = next(one.what for one in found.assumed if "mesh" in one.what)
    assert "40 mm (1 9/16 in) at the front" in told
    stage = build_stage(found.arrangement.scene, found)
    shape = next(one for one in stage.shapes if one.id == "P")
    assert shape.vertices[:, 0].min() == pytest.approx(3.76)


@pytest.mark.long
def test_the_schema_knows_both_together(tmp_path: Path) -> None:
    handle = box("P", (0, 0, 0), (0.5, 0.2, 0.9))
    written = json.loads(scene(tmp_path, PANEL, handle).model_dump_json(
        by_alias=True, exclude_unset=True
    ))  # fmt: skip
    jsonschema.validate(written, json_schema())
    written["items"][0]["part"] = "P"
    jsonschema.validate(written, json_schema())
    del written["items"][0]["mesh"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(written, json_schema())


def test_a_mesh_that_stays_inside_is_told_nothing_of(tmp_path: Path) -> None:
    found = check(scene(tmp_path, PANEL, box("P", (0, 0, 0), (0.5, 0.2, 0.9))))
    assert not [one for one in found.assumed if "mesh" in one.what]


def test_a_part_of_a_file_is_taken_by_its_name(tmp_path: Path) -> None:
    one = "  - {id: O, kind: obstacle, mesh: gear.glb, part: b}\n"
    parts = box("a", (0, 0, 0), (1, 1, 1)), box("b", (2, 1, 0), (3, 2, 1.5))
    found = check(scene(tmp_path, one, *parts))
    assert found.arrangement is not None
    low, high = found.arrangement.items["O"].solid.bounds
    assert np.allclose((*low, *high), (2, 1, 0, 3, 2, 1.5))


@pytest.mark.parametrize(
    ("items", "said"),
    [
        (
            "  - {id: O, kind: obstacle, mesh: gear.glb, part: pump}\n",
            "(nearest: pumps)",
        ),
        ("  - {id: O, kind: obstacle, size: [1, 1, 1], part: b}\n", "beside a mesh"),
        (
            "  - {id: O, kind: pad, size: [1, 1, 1], mesh: gear.glb, shift: [0, 0, 0]}",
            "found shift beside a size",
        ),
        ("  - {id: O, kind: panelboard, mesh: gear.glb}\n", "right is size"),
        (
            "  - {id: O, kind: obstacle, mesh: gear.glb, diameter: 1}\n",
            "right is one shape",
        ),
    ],
)
def test_what_does_not_fit_is_one_line(tmp_path: Path, items: str, said: str) -> None:
    with pytest.raises(SceneError) as caught:
        scene(tmp_path, items, box("pumps", (0, 0, 0), (1, 1, 1)))
    assert len(caught.value.mistakes) == 1
    assert said in str(caught.value)
