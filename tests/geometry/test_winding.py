"""How often a surface winds about a point: by rays as by the solid angle of all."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are what is looked at

from model3d.geometry.bodies import clipping
from model3d.geometry.bodies.clipping import winding


def triangles(name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return the triangles of a closed body, shape (n, 3, 3)."""
    ball = trimesh.creation.icosphere(4, 1.0)
    if name == "rough":
        ball.vertices += np.random.default_rng(1).normal(0, 0.05, ball.vertices.shape)
    if name == "inside out":
        ball.invert()
    if name == "twice":
        small = trimesh.creation.icosphere(3, 0.7)
        return np.concatenate([ball.triangles, small.triangles])
    if name == "square":
        ball = trimesh.creation.box((1.5, 1.5, 1.5))
        for _ in range(4):
            ball = ball.subdivide()
    return np.array(ball.triangles)


@pytest.mark.parametrize("name", ["smooth", "rough", "inside out", "twice", "square"])
def test_rays_tell_what_the_solid_angle_tells(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    body = triangles(name)
    points = np.random.default_rng(2).uniform(-1.2, 1.2, (60, 3))
    # On lines through corners and edges too, where a ray tells nothing.
    points[:20] = points[:20].round(1)
    points[20:30, 1:] = body[:10, 0, 1:]
    points[0] = 0.0
    found = winding(body, points)
    monkeypatch.setattr(clipping, "_MANY", len(body))
    assert found == pytest.approx(winding(body, points), abs=1e-6)
    assert len(np.unique(found.round())) > 1
