"""Parts of one GLB file: written, read by their names, and told in their extras."""

from __future__ import annotations

import json
import struct
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.geometry.bodies.clipping import BOX_FACES, corners
from model3d.geometry.files.mesh import read_mesh, read_parts
from model3d.geometry.files.mesh_parts import MeshPart, glb

if TYPE_CHECKING:
    from pathlib import Path

ONE = MeshPart(
    "a$_1", corners((0, 0, 0), (1, 2, 3)), BOX_FACES, extras={"guid": "a$_1"}
)
TWO = MeshPart("b", corners((5, 0, 0), (6, 1, 1)), BOX_FACES, (255, 0, 0, 77))


def test_parts_come_back_by_their_names(tmp_path: Path) -> None:
    file = tmp_path / "parts.glb"
    file.write_bytes(glb([ONE, TWO], {"units": "m"}))
    parts = read_parts(file)
    assert [*parts] == ["a$_1", "b"]
    for part in (ONE, TWO):
        points, faces = parts[part.name]
        # As they stand in the file: y is up.
        world = points[:, [0, 2, 1]] * (1.0, -1.0, 1.0)
        assert np.allclose(world.min(axis=0), part.points.min(axis=0))
        assert np.allclose(world.max(axis=0), part.points.max(axis=0))
        assert len(faces) == 12
    assert len(read_mesh(file)[1]) == 24


def test_a_file_says_the_same_each_time_and_what_its_parts_are() -> None:
    data = glb([ONE, TWO], {"units": "m"})
    assert data == glb([ONE, TWO], {"units": "m"})
    (size,) = struct.unpack_from("<I", data, 12)
    header = json.loads(data[20 : 20 + size])
    assert {node.get("name") for node in header["nodes"]} >= {"a$_1", "b"}
    assert header["meshes"][0]["extras"]["guid"] == "a$_1"
    assert header["scenes"][0]["extras"]["units"] == "m"
    assert header["materials"][1]["alphaMode"] == "BLEND"


@pytest.mark.parametrize("many", [1, 40])
def test_one_part_is_as_exact_as_single_precision(tmp_path: Path, many: int) -> None:
    parts = [
        MeshPart(f"p{n}", corners((n, 0, 0), (n + 0.1, 1, 1)), BOX_FACES)
        for n in range(many)
    ]
    file = tmp_path / "many.glb"
    file.write_bytes(glb(parts, {}))
    found = read_parts(file)
    assert len(found) == many
    wide = np.ptp(found[f"p{many - 1}"][0][:, 0])
    assert abs(wide - 0.1) < 1e-5
