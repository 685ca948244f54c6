"""A large scan shows what was measured: no remedy moves it, and the reason is told.

Common practice: a scan is a record of the room as it is. The rooms are invented.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import trimesh  # noqa: TID251 - its writers make the meshes

from model3d import read_scene
from model3d.mending import movable
from model3d.mending.remedies import Mend, bench_of, mends

if TYPE_CHECKING:
    from pathlib import Path

Plain = dict[str, Any]
Triple = tuple[float, float, float]
Mesh = tuple[Triple, Triple]
"""Size and middle of a box of which not all sides were seen."""


def mended(folder: Path, room: tuple[float, float], wide: float, seen: Mesh) -> Mend:
    """Return what cures the working space of a panel with a scan ahead of it."""
    size, middle = seen
    mesh = trimesh.creation.box(size)
    mesh.apply_translation(middle)
    mesh.update_faces([True] * 10 + [False] * 2)  # open, as scans are
    mesh.export(folder / "seen.ply")
    panel: Plain = {"id": "LP1", "kind": "panelboard", "size": [wide, 0.2, 0.9]}
    along = (room[0] - wide) / 2
    panel |= {"place": {"wall": "north", "along": along, "bottom": 0.9}}
    panel |= {"supply": {"system": "208Y/120", "amps": 200}, "door": "bolted"}
    scan = {"id": "SEEN", "kind": "obstacle", "mesh": "seen.ply"}
    written: Plain = {"title": "A room", "units": "m", "rules": "nec-2023"}
    written |= {"room": {"size": [*room], "height": 3, "doors": []}}
    written |= {"items": [panel, scan]}
    file = folder / "room.yaml"
    file.write_text(json.dumps(written), encoding="utf-8")
    (found,) = [
        one
        for one in mends(bench_of(read_scene(file)))
        if one.judged.requirement == "working-space"
    ]
    return found


CRATE: Mesh = ((0.5, 0.5, 0.8), (2.0, 3.2, 0.4))
PARTITION: Mesh = ((3.9, 0.1, 2.0), (2.0, 0.8, 1.0))


@pytest.mark.long
@pytest.mark.parametrize("large", [4, 1000])
def test_no_remedy_moves_a_large_scan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, large: int
) -> None:
    monkeypatch.setattr(movable, "LARGE", large)
    found = mended(tmp_path, (4, 4), 0.6, CRATE)
    moved = {name for one in found.remedies for name in one.changes}
    assert moved
    # With few triangles it may as well be a crate of which only a part was drawn.
    assert ("SEEN" in moved) == (large == 1000)


def test_why_nothing_is_offered_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(movable, "LARGE", 4)
    found = mended(tmp_path, (4, 1.5), 3.0, PARTITION)
    assert not found.remedies
    assert found.why == "SEEN is a scan: what it shows stays where it is."
