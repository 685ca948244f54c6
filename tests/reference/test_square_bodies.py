"""What a space shares with a box that stands square, against trimesh.

Source: trimesh with its manifold engine, which is what intersects everything else.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from model3d.geometry.bodies.extents import bounds_of
from model3d.geometry.bodies.solid import Box, boolean
from model3d.geometry.bodies.upright import Column
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.shared import Body, shared_body
from model3d.geometry.sweep import Sweep

TOLD = 7
"""Decimal places of a cubic metre that are told."""
lengths = some.integers(50, 2500).map(lambda millimetres: millimetres / 1000)
places = some.integers(-400, 2000).map(lambda millimetres: millimetres / 1000)
boxes = some.builds(
    lambda x, y, z, w, d, h: Box(Frame(x, y, (1.0, 0.0), (0.0, 1.0)), w, d, z, z + h),
    *(places, places, places),
    *(lengths, lengths, lengths),
)
OWN = Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0))


def agrees(found: Body) -> bool:
    """Compare a body with what the engine makes; False where the engine has none."""
    seen = found.solid.seen_from(found.frame).surface()
    size, points, faces = boolean(found.space.mesh, seen)
    if not len(faces) or size < 1e-9:
        return False
    assert found.volume is not None
    assert found.volume == pytest.approx(size, rel=1e-9)
    assert round(found.volume, TOLD) == round(size, TOLD)
    expected = bounds_of(found.frame.world(points))
    assert np.array_equal(bounds_of(found.corners), expected)
    return True


@pytest.mark.long
@given(boxes, lengths, lengths, lengths, places)
def test_a_box_in_a_box(
    box: Box, wide: float, deep: float, high: float, low: float
) -> None:
    space = Column.box((0.0, 0.0, low), (wide, deep, low + high))
    agrees(Body(OWN, space, box))


@pytest.mark.long
@given(boxes, lengths, lengths, places)
def test_a_box_in_what_a_leaf_sweeps(
    box: Box, radius: float, high: float, low: float
) -> None:
    agrees(Sweep(OWN, radius, low, low + high).body(box))


def test_the_comparison_compares() -> None:
    box = Box(Frame(0.1, 0.2, (1.0, 0.0), (0.0, 1.0)), 0.3, 0.3, 0.0, 0.6)
    for space in (Column.box((0.0, 0.0, 0.0), (1.0, 1.0, 2.0)),):
        assert agrees(shared_body(OWN, space, box))
    assert agrees(Sweep(OWN, 0.45, 0.3, 1.9).body(box))


def test_of_what_only_touches_the_engine_s_answer_stands() -> None:
    box = Box(Frame(1.0, 0.0, (1.0, 0.0), (0.0, 1.0)), 0.3, 0.3, 0.0, 0.6)
    found = shared_body(OWN, Column.box((0.0, 0.0, 0.0), (1.0, 1.0, 2.0)), box)
    assert found.volume == pytest.approx(0.0, abs=1e-12)
