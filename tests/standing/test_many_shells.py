"""One mesh of many closed shells against each shell as a mesh of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes and its volumes are the outside source

from model3d import check
from model3d.scene.text.reader import read_text
from tests.scenes.heap_room import ROOM

if TYPE_CHECKING:
    from pathlib import Path

SPACE = ((0.919, 1.9, 0.0), (1.681, 2.8, 2.0))
"""Of the board: 0.762 wide, 0.9 deep (condition 1), 2 m high, in its middle place."""


def shells(apart: float) -> list[trimesh.Trimesh]:
    """Return 27 turned screws in three rows, so far apart or in one another."""
    found = []
    turns = np.random.default_rng(1).random((27, 3))
    for number, turn in enumerate(turns):
        place = np.array((number % 3, number // 3 % 3, number // 9))
        one = trimesh.creation.icosphere(1, 0.05)
        one.apply_scale((1.0, 0.7, 1.4))
        one.apply_transform(trimesh.transformations.random_rotation_matrix(turn))
        one.apply_translation((1.1, 2.2, 0.6) + apart * place)
        found.append(one)
    return found


def judged(folder: Path, meshes: list[trimesh.Trimesh]) -> dict[str, Any]:
    rows = []
    for number, mesh in enumerate(meshes):
        mesh.export(folder / f"m{number}.ply")
        rows.append(f"  - {{id: M{number}, kind: obstacle, mesh: m{number}.ply}}\n")
    text = ROOM + "".join(rows)
    report = check(read_text(text, folder / "room.yaml"))
    return {
        one.requirement: one
        for one in report.judgements
        if one.subject == "P" and not getattr(one, "leaf", None)
    }


@pytest.mark.long
@pytest.mark.parametrize("apart", [0.2, 0.06])
def test_it_is_judged_as_all_of_them(tmp_path: Path, apart: float) -> None:
    parts = shells(apart)
    whole = trimesh.util.concatenate(parts)
    assert isinstance(whole, trimesh.Trimesh)
    one, many = judged(tmp_path, [whole]), judged(tmp_path, parts)
    assert {name: found.verdict for name, found in one.items()} == {
        name: found.verdict for name, found in many.items()
    }
    mine, theirs = one["working-space"], many["working-space"]
    assert mine.margin == pytest.approx(theirs.margin, abs=1e-5)
    assert mine.provided == pytest.approx(theirs.provided, abs=1e-5)
    box = trimesh.creation.box(bounds=SPACE)
    united = trimesh.boolean.union(parts, engine="manifold")
    shared = trimesh.boolean.intersection([united, box], engine="manifold")
    (found,) = mine.intrusions
    assert found.volume == pytest.approx(shared.volume, rel=1e-4)
    widths = [found["entrance"].provided for found in (one, many)]
    assert widths[0] == pytest.approx(widths[1], abs=2e-4)
