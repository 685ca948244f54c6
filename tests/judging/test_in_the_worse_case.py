"""What is in the way only by what is not known is told apart, and takes no width.

Source: NEC 2023 110.26(A)(1): by Condition 1 the depth at 480Y/277 is 900 mm (3 ft), by
Condition 2, opposite something grounded, 1.0 m (3 ft 6 in). Of what is ahead here
nobody says whether it is grounded.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
import trimesh  # noqa: TID251 - writes a mesh with the reference library

from model3d import Scene, check
from model3d.scene.scene import Origin

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.judging.results import Judgement

NEAR = {"low": (0.2, 0.8), "high": (0.3, 1.05)}
"""Metres along the front and ahead of it: in the way by either condition."""
FAR = {"low": (0.3, 0.95), "high": (1.4, 1.05)}
"""In the way only if it is grounded."""


def body(part: dict[str, tuple[float, float]]) -> trimesh.Trimesh:
    """Return a body 1 m high ahead of the panelboard, in the room."""
    (left, near), (right, far) = part["low"], part["high"]
    corners = [[2.0 + left, 3.9 - far, 0.0], [2.0 + right, 3.9 - near, 1.0]]
    made: trimesh.Trimesh = trimesh.creation.box(bounds=corners)
    return made


def working_space(folder: Path, **meshes: trimesh.Trimesh) -> Judgement:
    panel: dict[str, Any] = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [1500, 100, 1900],
        "place": {"wall": "north", "along": 2000},
        "supply": {"system": "480Y/277"},
        "door": "none",
    }
    items: list[dict[str, Any]] = [panel]
    for name, mesh in meshes.items():
        mesh.export(folder / f"{name}.stl")
        items.append(
            {"id": name, "kind": "obstacle", "mesh": f"{name}.stl", "units": "m"}
        )
    room = {"size": [6000, 4000], "height": 3000, "walls": "gypsum"}
    scene = {"title": "Room", "units": "mm", "rules": "nec-2023", "measures": "si"}
    made = Scene.model_validate(
        {**scene, "room": room, "items": items}, context=Origin(folder / "scene.yaml")
    )
    (found,) = check(made).of("LP1", "working-space")
    return found


def test_what_is_in_the_way_perhaps_is_told_apart(tmp_path: Path) -> None:
    found = working_space(tmp_path, NEAR=body(NEAR), FAR=body(FAR))
    assert found.verdict == "not-met"
    assert "Perhaps in the way: FAR." in found.reason
    assert "Also in the way" not in found.reason


def test_it_takes_nothing_of_the_width_in_one_piece_either(tmp_path: Path) -> None:
    apart = working_space(tmp_path, NEAR=body(NEAR), FAR=body(FAR))
    both = trimesh.boolean.union([body(NEAR), body(FAR)], engine="manifold")
    whole = working_space(tmp_path, BOTH=both)
    # By Condition 1 nothing but the near part stands there: 1500 less 300.
    assert apart.provided["width"] == pytest.approx(1.2, abs=1e-4)
    assert whole.provided["width"] == pytest.approx(1.2, abs=1e-4)
    assert whole.margin == pytest.approx(apart.margin, abs=1e-4)
