"""A large mesh is looked at once from a side, however often it is drawn.

A drawing is laid out again till its letters fit, and several look the same way.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import trimesh  # noqa: TID251 - its writer makes the mesh

from model3d import Item, check, read_scene
from tests.viewer.written_rooms import room_scene
from viewer.figure.drafting.axes import NORTH_UP
from viewer.figure.things.scenery import pieces

if TYPE_CHECKING:
    from pathlib import Path

WINDOW = ((-100.0, -100.0), (100.0, 100.0))


def test_a_large_mesh_is_seen_once_from_a_side(tmp_path: Path) -> None:
    body = trimesh.creation.icosphere(subdivisions=4, radius=0.4)
    body.apply_translation([1.0, 1.0, 0.5])
    body.export(tmp_path / "body.stl")
    file = tmp_path / "room.yaml"
    room_scene().save(file)
    item = Item(id="M9", kind="machine", mesh="body.stl", units="m")
    arrangement = check(read_scene(file).with_item(item)).arrangement
    assert arrangement is not None
    one, other = (
        {each.placed.id: each for each in pieces(arrangement, NORTH_UP, WINDOW)}
        for _ in range(2)
    )
    assert one.keys() == other.keys()
    assert one["M9"] is other["M9"]
    # From above a ball is round: its outline is as wide as it is.
    assert abs(float((one["M9"].high - one["M9"].low).min()) - 0.8) < 0.01
