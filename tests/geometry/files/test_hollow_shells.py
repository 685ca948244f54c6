"""Shells within one another; volumes worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its writers make the files

from model3d.geometry.bodies.solid import Mesh, volume
from model3d.geometry.files import shells
from model3d.geometry.files.mesh import read_mesh

if TYPE_CHECKING:
    from pathlib import Path


def block(side: float, at: tuple[float, float, float], turned: int) -> trimesh.Trimesh:
    """Return a cube that looks outwards, or inwards where it is turned by -1."""
    found: trimesh.Trimesh = trimesh.creation.box((side, side, side))
    found.apply_translation(at)
    if turned < 0:
        found.invert()
    return found


MIDDLE = (0.0, 0.0, 0.0)
CASES = {
    "a room": ([(4.0, MIDDLE, 1), (3.0, MIDDLE, -1)], 64.0 - 27.0, False),
    "a thing in a room": (
        [(4.0, MIDDLE, 1), (3.0, MIDDLE, -1), (1.0, (0.5, 0.0, 0.0), 1)],
        64.0 - 27.0 + 1.0,
        False,
    ),
    # Counted twice as they are: they have to be united.
    "a body in a body": ([(4.0, MIDDLE, 1), (1.0, MIDDLE, 1)], 64.0, True),
    "a body half in a body": (
        [(4.0, MIDDLE, 1), (2.0, (2.0, 0.0, 0.0), 1)],
        64.0 + 4.0,
        True,
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_hollows_are_not_united_and_what_is_counted_twice_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    blocks, expected, must_unite = CASES[name]
    asked: list[int] = []
    union = shells.union_of

    def counted(parts: list[trimesh.Trimesh]) -> trimesh.Trimesh:
        asked.append(len(parts))
        return union(parts)

    monkeypatch.setattr(shells, "union_of", counted)
    whole = trimesh.util.concatenate([block(*one) for one in blocks])
    assert isinstance(whole, trimesh.Trimesh)
    whole.apply_translation((10.0, 20.0, 2.0))
    whole.export(tmp_path / "a.ply")
    mesh = Mesh(*read_mesh(tmp_path / "a.ply"))
    assert mesh.closed
    assert volume(mesh) == pytest.approx(expected, rel=1e-6)
    assert bool(asked) == must_unite
    assert np.isfinite(mesh.vertices).all()
