"""A large scan shows what was measured: no remedy moves it, and the reason is told.

Common practice: a scan is a record of the room as it is. The room is invented.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import trimesh  # noqa: TID251 - its writers make the meshes

from model3d import read_scene
from model3d.mending import movable
from model3d.mending.remedies import bench_of, mends

if TYPE_CHECKING:
    from pathlib import Path

Plain = dict[str, Any]


@pytest.mark.parametrize("large", [4, 1000])
def test_no_remedy_moves_a_large_scan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, large: int
) -> None:
    crate = trimesh.creation.box((0.5, 0.5, 0.8))
    crate.apply_translation((2.0, 3.2, 0.4))
    crate.update_faces([True] * 10 + [False] * 2)  # open, as scans are
    crate.export(tmp_path / "seen.ply")
    panel: Plain = {"id": "LP1", "kind": "panelboard", "size": [0.6, 0.2, 0.9]}
    panel |= {"place": {"wall": "north", "along": 1.7, "bottom": 0.9}}
    panel |= {"supply": {"system": "208Y/120", "amps": 200}, "door": "bolted"}
    seen = {"id": "SEEN", "kind": "obstacle", "mesh": "seen.ply"}
    written: Plain = {"title": "A room", "units": "m", "rules": "nec-2023"}
    room = {"size": [4, 4], "height": 3, "doors": []}
    scene = written | {"room": room, "items": [panel, seen]}
    (tmp_path / "room.yaml").write_text(json.dumps(scene), encoding="utf-8")

    monkeypatch.setattr(movable, "LARGE", large)
    (found,) = [
        one
        for one in mends(bench_of(read_scene(tmp_path / "room.yaml")))
        if one.judged.requirement == "working-space"
    ]
    moved = {name for one in found.remedies for name in one.changes}
    assert moved
    # With few triangles it may as well be a crate of which only a part was drawn.
    assert ("SEEN" in moved) == (large == 1000)


def test_why_nothing_is_offered_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wall = trimesh.creation.box((3.9, 0.1, 2.0))
    wall.apply_translation((2.0, 0.8, 1.0))
    wall.update_faces([True] * 10 + [False] * 2)
    wall.export(tmp_path / "seen.ply")
    panel: Plain = {"id": "LP1", "kind": "panelboard", "size": [3.0, 0.2, 0.9]}
    panel |= {"place": {"wall": "north", "along": 0.5, "bottom": 0.9}}
    panel |= {"supply": {"system": "208Y/120", "amps": 200}, "door": "bolted"}
    seen = {"id": "SEEN", "kind": "obstacle", "mesh": "seen.ply"}
    written: Plain = {"title": "A room", "units": "m", "rules": "nec-2023"}
    room = {"size": [4, 1.5], "height": 3, "doors": []}
    scene = written | {"room": room, "items": [panel, seen]}
    (tmp_path / "room.yaml").write_text(json.dumps(scene), encoding="utf-8")

    monkeypatch.setattr(movable, "LARGE", 4)
    (found,) = [
        one
        for one in mends(bench_of(read_scene(tmp_path / "room.yaml")))
        if one.judged.requirement == "working-space"
    ]
    assert not found.remedies
    assert found.why == "SEEN is a scan: what it shows stays where it is."
