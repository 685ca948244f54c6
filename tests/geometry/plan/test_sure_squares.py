"""Squares that a body surely covers; the outside source is shapely's own union."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
import trimesh  # noqa: TID251 - its shapes are what is looked at

from model3d.geometry.bodies.edges import edges_of
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan import footprint as shadows
from model3d.geometry.plan.cover.sure_squares import sure_squares
from model3d.geometry.plan.footprint import footprint

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Shape = Callable[[], trimesh.Trimesh]


def rough(shape: trimesh.Trimesh) -> trimesh.Trimesh:
    """Return a shape with folds all over, as a closed scan has them."""
    off = np.random.default_rng(1).normal(0, 0.01, shape.vertices.shape)
    return trimesh.Trimesh(shape.vertices + off, shape.faces, process=False)


def tower() -> trimesh.Trimesh:
    """Return a body that is wider above than below, and goes on past all heights."""
    shape = trimesh.creation.icosphere(4, 1.0)
    points = np.array(shape.vertices)
    points[:, :2] *= 0.6 + 0.2 * points[:, 2:]
    return trimesh.Trimesh(points * (1, 1, 4), shape.faces, process=False)


def two() -> trimesh.Trimesh:
    """Return a mesh of two balls that lie apart."""
    balls = [trimesh.creation.icosphere(4, 0.4) for _ in range(2)]
    balls[1].apply_translation((1.1, 0.0, 0.0))
    whole = trimesh.util.concatenate(balls)
    assert isinstance(whole, trimesh.Trimesh)
    return whole


SHAPES: dict[str, Shape] = {
    "ball": lambda: rough(trimesh.creation.icosphere(4, 0.8)),
    "ring": lambda: rough(trimesh.creation.torus(0.7, 0.2, 90, 40)),
    "tower": lambda: rough(tower()),
    "two": lambda: rough(two()),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("band", [(-2.0, 2.0), (-0.1, 0.15), (-9.0, 0.0)])
def test_the_shadow_is_that_of_all_triangles(
    monkeypatch: pytest.MonkeyPatch, name: str, band: tuple[float, float]
) -> None:
    shape = SHAPES[name]()
    mesh = Mesh(np.array(shape.vertices), np.array(shape.faces))
    assert mesh.closed
    whole = footprint(mesh, *band)
    monkeypatch.setattr(shadows, "SCAN", 100)
    found = footprint(Mesh(*mesh.mesh), *band)
    assert max(whole.difference(found).area, found.difference(whole).area) < 1e-9
    for one, other in ((whole, found), (found, whole)):
        assert one.difference(other.buffer(1e-5)).area < 1e-12


@pytest.mark.long
@pytest.mark.parametrize("name", SHAPES)
def test_each_of_them_is_covered_and_most_triangles_lie_in_them(name: str) -> None:
    shape = SHAPES[name]()
    points, faces = np.array(shape.vertices), np.array(shape.faces)
    counts = np.ones(len(faces), dtype=bool)
    level = float(points[:, 2].mean())
    found = sure_squares(points, faces, edges_of(points, faces), counts, level)
    plan: NDArray[np.float64] = points[faces][:, :, :2]
    solid = shapely.union_all(shapely.polygons(plan), grid_size=1e-9)
    covered = shapely.union_all(found.boxes)
    assert covered.difference(solid).area < 1e-9
    assert covered.area > 0.4 * solid.area
    hidden = shapely.polygons(plan[found.hide(plan)])
    assert max(shapely.area(shapely.difference(hidden, covered))) < 1e-12
    assert len(hidden) > 0.3 * len(plan)
