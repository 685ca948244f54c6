"""Frames against the compass and against rotation matrices."""

from __future__ import annotations

import math

import numpy as np
import pytest

from model3d.geometry.frame import Frame, turned

BEARINGS = (0.0, 30.0, 90.0, 123.4, 180.0, 270.0, 359.9, -45.0, 360.0)


@pytest.mark.parametrize(
    ("bearing", "right", "out"),
    [
        # A person in front looks back at the item: north of it, right is west.
        (0.0, (-1.0, 0.0), (0.0, 1.0)),
        (90.0, (0.0, 1.0), (1.0, 0.0)),
        (180.0, (1.0, 0.0), (0.0, -1.0)),
        (270.0, (0.0, -1.0), (-1.0, 0.0)),
    ],
)
def test_the_compass(
    bearing: float, right: tuple[float, float], out: tuple[float, float]
) -> None:
    frame = Frame.facing(0.0, 0.0, bearing)
    assert frame.right == right
    assert frame.out == out


@pytest.mark.parametrize("bearing", BEARINGS)
def test_axes_are_at_right_angles_and_a_person_s_right_is_right(bearing: float) -> None:
    frame = Frame.facing(2.0, 3.0, bearing)
    (rx, ry), (ox, oy) = frame.right, frame.out
    assert math.hypot(rx, ry) == pytest.approx(1.0)
    assert rx * ox + ry * oy == pytest.approx(0.0)
    # Right, out, up is left-handed: the person looks against out.
    assert rx * oy - ry * ox == pytest.approx(-1.0)
    assert frame.mirrors
    assert not frame.mirrored().mirrors


@pytest.mark.parametrize("bearing", BEARINGS)
def test_there_and_back(bearing: float) -> None:
    frame = Frame.facing(-7.0, 11.0, bearing)
    points = np.random.default_rng(1).uniform(-9, 9, (20, 3))
    assert frame.world(frame.local(points)) == pytest.approx(points)
    for u, v, _ in points:
        assert frame.to_frame(*frame.to_plan(u, v)) == pytest.approx((u, v))
    moved = frame.moved(0.4, -0.3)
    assert (moved.x, moved.y) == pytest.approx(frame.to_plan(0.4, -0.3))


@pytest.mark.parametrize("bearing", BEARINGS)
def test_bounds_hold_every_corner(bearing: float) -> None:
    frame = Frame.facing(1.0, 2.0, bearing)
    low, high = (-0.3, 0.1, 0.0), (1.2, 0.9, 2.0)
    corners = np.array(
        [(u, v, z) for u in (-0.3, 1.2) for v in (0.1, 0.9) for z in (0.0, 2.0)]
    )
    world = frame.world(corners)
    found = frame.bounds(low, high)
    assert found[0] == pytest.approx(world.min(axis=0))
    assert found[1] == pytest.approx(world.max(axis=0))


@pytest.mark.parametrize("bearing", range(-360, 361, 15))
def test_sine_and_cosine(bearing: int) -> None:
    angle = math.radians(bearing)
    expected = (math.sin(angle), math.cos(angle))
    assert turned(float(bearing)) == pytest.approx(expected, abs=1e-15)
    if bearing % 90 == 0:
        assert set(turned(float(bearing))) <= {0.0, 1.0, -1.0}
