"""Surfaces that pass through themselves; spheres of trimesh's own do not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are the outside source

from model3d.geometry.bodies.self_crossing import (
    Columns,
    crosses_itself,
    is_tangle,
)
from tests.independent.meshes import box, joined

if TYPE_CHECKING:
    from tests.independent.meshes import Faces, Vertices


ROWS = np.random.default_rng(1).random((40, 3))
"""By which bodies are turned."""


def of(mesh: trimesh.Trimesh) -> tuple[Vertices, Faces]:
    return np.array(mesh.vertices), np.array(mesh.faces)


@pytest.mark.parametrize("level", [1, 3])
def test_a_sphere_does_not(level: int) -> None:
    assert not crosses_itself(*of(trimesh.creation.icosphere(level)))


def test_two_blocks_that_overlap_do() -> None:
    one, other = box((0, 0, 0), (1, 1, 1)), box((0.5, 0.5, 0.5), (2, 2, 2))
    assert crosses_itself(*joined(one, other))


@pytest.mark.parametrize("low", [(1, 0, 0), (1, 1, 0), (1, 1, 1), (1.5, 0, 0)])
def test_blocks_that_touch_or_are_apart_do_not(low: tuple[float, ...]) -> None:
    high = tuple(value + 1 for value in low)
    assert not crosses_itself(*joined(box((0, 0, 0), (1, 1, 1)), box(low, high)))


def test_a_ring_that_is_too_thick_for_its_hole_does() -> None:
    # The tube's radius is greater than the ring's: the hole is passed through.
    ring = trimesh.creation.torus(1.0, 1.5, major_sections=16, minor_sections=16)
    assert crosses_itself(*of(ring))
    ring = trimesh.creation.torus(1.0, 0.4, major_sections=16, minor_sections=16)
    assert not crosses_itself(*of(ring))


@pytest.mark.parametrize("seed", range(3))
def test_all_pairs_whose_bounds_meet_are_found_once(seed: int) -> None:
    dice = np.random.default_rng(seed)
    # Small ones and long ones, some of them flat: they lie in many columns each.
    size = dice.choice([0.02, 0.1, 0.6], 400)[:, None, None]
    triangles = dice.random((400, 1, 3)) + size * (dice.random((400, 3, 3)) - 0.5)
    triangles[::7, :, seed] = 0.5
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    meet = (low[:, None] <= high) & (low <= high[:, None])
    first, second = np.nonzero(np.triu(meet.all(axis=2), 1))
    found = [
        tuple(sorted(pair))
        for one, other in Columns(triangles).close()
        for pair in zip(one.tolist(), other.tolist(), strict=True)
    ]
    assert sorted(found) == [*zip(first.tolist(), second.tolist(), strict=True)]


def test_a_tangle_is_told_from_what_is_smooth() -> None:
    rods = [
        trimesh.creation.cylinder(0.02, 1.0, sections=200, transform=turned)
        for turned in map(trimesh.transformations.random_rotation_matrix, ROWS)
    ]
    whole = trimesh.util.concatenate(rods)
    assert isinstance(whole, trimesh.Trimesh)
    assert is_tangle(*of(whole))
    assert not is_tangle(*of(trimesh.creation.icosphere(5)))
