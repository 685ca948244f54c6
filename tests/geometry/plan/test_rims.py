"""Rims of triangles in plan: what they wind about is what the triangles cover.

The outside source is shapely's union of the triangles one by one.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely
import trimesh  # noqa: TID251 - its shapes are the outside source

from model3d.geometry.bodies.edges import bounds_a_volume, edges_of
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan.cover import rims as lines
from model3d.geometry.plan.cover.rims import rims
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import covered

NOTHING = np.empty(0, dtype=object)


@pytest.mark.parametrize("most", [0, 10_000])
@pytest.mark.parametrize("seed", range(12))
def test_what_rims_wind_about_is_what_the_triangles_cover(
    seed: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Few points, so that triangles share edges, fold over and lie three at an edge."""
    monkeypatch.setattr(lines, "_MANY", most)
    dice = np.random.default_rng(seed)
    points = dice.random((12, 2))
    faces = np.array([dice.permutation(12)[:3] for _ in range(3 + 3 * seed)])
    counts = dice.random(len(faces)) > 0.2
    counts[0] = True
    found = covered(NOTHING, rims(points, faces, edges_of(points, faces), counts))
    one_by_one = shapely.union_all(shapely.polygons(points[faces[counts]]))
    assert shapely.symmetric_difference(found, one_by_one).area < 1e-6


def test_of_a_ball_only_the_rim_of_its_shadow_is_left() -> None:
    ball = trimesh.creation.icosphere(subdivisions=5)
    plan, faces = np.array(ball.vertices)[:, :2], np.array(ball.faces)
    found = rims(plan, faces, edges_of(plan, faces), np.ones(len(faces), bool))
    # A square a quarter of a metre wide has a rim, too.
    assert sum(len(line) for group in found for line in group) < len(faces) / 3
    assert covered(NOTHING, found).area == pytest.approx(np.pi, rel=1e-3)


@pytest.mark.long
@pytest.mark.parametrize(("low", "high"), [(-2.0, 2.0), (-0.5, 0.25), (0.5, 2.0)])
def test_a_body_that_is_hollow_is_covered_as_far_as_it_is_solid(
    low: float, high: float
) -> None:
    """An inner wall of 0.8 in a ball of 1: areas of sections by plain geometry."""
    outer = trimesh.creation.icosphere(subdivisions=6)
    inner = trimesh.creation.icosphere(subdivisions=6, radius=0.8)
    inner.invert()
    faces = np.concatenate([outer.faces, inner.faces + len(outer.vertices)])
    shell = Mesh(np.concatenate([outer.vertices, inner.vertices]), faces)
    assert shell.closed
    near = 0.0 if low < 0 < high else min(abs(low), abs(high))
    far = max(abs(low), abs(high))
    hole = max(0.8**2 - far**2, 0.0)
    expected = np.pi * (1 - near**2 - hole)
    assert footprint(shell, low, high).area == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("change", "closed"),
    [
        (lambda faces: faces, True),
        (lambda faces: faces[:, ::-1], False),
        (lambda faces: faces[1:], False),
        (lambda faces: np.concatenate([faces, faces[:1]]), False),
        (lambda faces: np.concatenate([faces[:1, ::-1], faces[1:]]), False),
        (lambda faces: np.concatenate([faces, faces]), False),
    ],
)
def test_a_volume_is_bounded_as_trimesh_has_it(change, closed) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
    box = trimesh.creation.box()
    faces = change(np.array(box.faces))
    points = np.array(box.vertices)
    assert bounds_a_volume(points, faces) is closed
    assert bool(trimesh.Trimesh(points, faces, process=False).is_volume) is closed
