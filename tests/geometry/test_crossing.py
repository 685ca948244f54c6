"""Surfaces that pass through themselves; spheres of trimesh's own do not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are the outside source

from model3d.geometry.bodies.self_crossing import crosses_itself
from tests.independent.meshes import box, joined

if TYPE_CHECKING:
    from tests.independent.meshes import Faces, Vertices


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
