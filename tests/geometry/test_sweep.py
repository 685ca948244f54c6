"""How far a leaf opens, against turning it in small steps.

The second method turns a leaf (a segment in plan) step by step and asks shapely whether
it meets what stands there.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from model3d.geometry.bodies.shapes import rod, round_section
from model3d.geometry.bodies.solid import Box
from model3d.geometry.frame import Frame
from model3d.geometry.sweep import QUARTER, Sweep

STEP = 0.1
"""Degrees of the second method."""


def stopped_at(plan: shapely.Geometry, leaf: Sweep) -> float:
    """Return the first step at which the leaf meets a plan."""
    ends = [
        leaf.frame.to_plan(leaf.radius * math.cos(angle), leaf.radius * math.sin(angle))
        for angle in np.radians(np.arange(0, QUARTER + STEP, STEP))
    ]
    hinge = (leaf.frame.x, leaf.frame.y)
    lines = shapely.linestrings([[hinge, end] for end in ends])
    shapely.prepare(plan)
    meets = shapely.intersects(lines, plan)
    return float(meets.argmax() * STEP) if meets.any() else QUARTER


def footprint(box: Box) -> shapely.Polygon:
    corners = ((0, 0), (box.width, 0), (box.width, box.depth), (0, box.depth))
    return shapely.Polygon([box.frame.to_plan(u, v) for u, v in corners])


@pytest.mark.long
@pytest.mark.parametrize("mirrored", [False, True])
def test_turned_boxes(*, mirrored: bool) -> None:
    draw = np.random.default_rng(11)
    stopped = 0
    for _ in range(120):
        x, y, bearing = (float(one) for one in draw.uniform((-5, -5, 0), (5, 5, 360)))
        frame = Frame.facing(x, y, bearing)
        leaf = Sweep(frame.mirrored() if mirrored else frame, 0.8, 0.1, 2.0)
        at = leaf.frame.to_plan(*draw.uniform(0.0, 1.1, 2))
        width, depth = draw.uniform(0.05, 0.6, 2)
        box = Box(
            Frame.facing(*at, float(draw.uniform(0, 360))), width, depth, 0.5, 1.5
        )
        expected = stopped_at(footprint(box), leaf)
        found = leaf.angle_reached(box)
        # A touch in passing may lie between two steps, or be mere contact.
        if expected >= QUARTER and found < QUARTER:
            assert (
                footprint(box).distance(shapely.Point(frame.x, frame.y)) < leaf.radius
            )
        else:
            assert found == pytest.approx(expected, abs=1.5 * STEP)
        stopped += found < QUARTER
    assert stopped > 40


@pytest.mark.long
def test_upright_pipes() -> None:
    draw = np.random.default_rng(12)
    for _ in range(100):
        leaf = Sweep(Frame.facing(1.0, 2.0, float(draw.uniform(0, 360))), 0.7, 0.0, 2.0)
        distance, angle = draw.uniform(0.2, 0.6), draw.uniform(0.4, 1.2)
        radius = float(draw.uniform(0.02, 0.06))
        at = leaf.frame.to_plan(distance * math.cos(angle), distance * math.sin(angle))
        pipe = rod((*at, -1.0), (*at, 3.0), round_section(2 * radius))
        # The tangent from the hinge: trigonometry.
        tangent = math.degrees(angle - math.asin(radius / distance))
        assert leaf.angle_reached(pipe) == pytest.approx(tangent, abs=0.01)


@pytest.mark.parametrize(("bottom", "top"), [(-1.0, 0.1), (2.0, 3.0), (2.5, 3.0)])
def test_what_is_below_or_above_the_leaf(bottom: float, top: float) -> None:
    leaf = Sweep(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)), 0.8, 0.1, 2.0)
    box = Box(Frame(0.3, 0.3, (1.0, 0.0), (0.0, 1.0)), 0.2, 0.2, bottom, top)
    assert leaf.angle_reached(box) == QUARTER


def test_a_body_that_holds_the_whole_leaf_stops_it_at_once() -> None:
    leaf = Sweep(Frame.facing(0.0, 0.0, 77.0), 0.8, 0.1, 2.0)
    big = Box(Frame.facing(0.0, 0.0, 10.0).moved(-5.0, -5.0), 10.0, 10.0, -1.0, 3.0)
    assert leaf.angle_reached(big) == 0.0


def test_a_sloping_pipe_stops_the_leaf_within_the_leaf_s_height() -> None:
    # It crosses the leaf's range of heights only far from the hinge's line: above 2.0
    # it would be nearer. Its middle line at height z is at (0.2 + 0.2 z, 0.5).
    leaf = Sweep(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)), 0.8, 0.0, 1.0)
    thin = rod((0.2, 0.5, 0.0), (1.0, 0.5, 4.0), round_section(0.001))
    expected = math.degrees(math.atan2(0.5, 0.4))
    assert leaf.angle_reached(thin) == pytest.approx(expected, abs=0.15)
