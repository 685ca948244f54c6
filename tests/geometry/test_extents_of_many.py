"""Extents of a body of very many triangles are those of all that lies in the box."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are what is asked about

from model3d.geometry.bodies import triangle_view
from model3d.geometry.bodies.extents import bounds_of
from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.frame import Frame

FRAME = Frame.facing(0.0, 0.0, 0.0)


def _shapes() -> list[tuple[trimesh.Trimesh, bool]]:
    ball = trimesh.creation.icosphere(3, 0.5)
    block = trimesh.creation.box((1.0, 1.0, 1.0)).subdivide().subdivide().subdivide()
    half = block.slice_plane([0, 0, 0.1], [0, 0.2, 1.0])
    return [(ball, True), (block, True), (half, False)]


@pytest.mark.long
@pytest.mark.parametrize("number", range(3))
def test_extents_of_many_are_the_bounds_of_what_lies_in_the_box(
    monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    monkeypatch.setattr(triangle_view, "_LARGE", 100)
    shape, closed = _shapes()[number]
    view = TriangleView.of(
        np.asarray(shape.vertices), np.asarray(shape.faces), FRAME, closed=closed
    )
    dice = np.random.default_rng(number)
    # Often just at a side of the shape, or as thin as contact, or far away.
    places = np.array([-0.5, 0.5, 0.0, 0.25, -0.1, 0.50005, -0.49995, 3.0])
    asked = met = 0
    for _ in range(600):
        ends = np.where(
            dice.random((2, 3)) < 0.6,
            dice.choice(places, (2, 3)),
            dice.uniform(-0.8, 0.8, (2, 3)),
        )
        low, high = tuple(ends.min(axis=0).tolist()), tuple(ends.max(axis=0).tolist())
        points = view.points(low, high)
        right = bounds_of(points) if len(points) else None
        assert view.extents(low, high) == right
        asked, met = asked + 1, met + (right is not None)
    assert asked > met > 100
