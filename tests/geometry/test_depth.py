"""How deep bodies lie in one another, against moving them apart.

The outside check is the definition: moved that far one way they only touch, and moved
any way by less they still share something, by the boolean engine.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.geometry.bodies.shapes import rod, round_section
from model3d.geometry.bodies.solid import Box, Mesh, shared_by_meshes
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.depth import depth
from model3d.geometry.straight_lines import distance, from_point

TENTHS = st.integers(-10, 10).map(lambda n: n / 10)
SIZES = st.integers(1, 10).map(lambda n: n / 10)
NEAR = 1e-3
"""Metres: what the engine of single precision and a many-sided round leave."""


def box(x: float, y: float, z: float, size: tuple[float, ...], bearing: float) -> Box:
    frame = Frame.facing(x, y, bearing)
    return Box(frame, size[0], size[1], z, z + size[2])


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    size = draw(SIZES), draw(SIZES), draw(SIZES)
    bearing = draw(st.sampled_from([0.0, 90.0, 180.0, 30.0, 217.0]))
    return box(draw(TENTHS), draw(TENTHS), draw(TENTHS), size, bearing)


def moved(body: Box, way: np.ndarray) -> Box:
    x, y, z = way
    frame = Frame(body.frame.x + x, body.frame.y + y, body.frame.right, body.frame.out)
    return Box(frame, body.width, body.depth, body.bottom + z, body.top + z)


def share(one: Box, other: Box) -> bool:
    return shared_by_meshes(one, other) is not None


@pytest.mark.long
@settings(max_examples=60)
@given(boxes(), boxes(), st.integers(0, 2**32))
def test_moved_by_less_two_boxes_still_share_something(
    one: Box, other: Box, seed: int
) -> None:
    deep = depth(one, other)
    assert depth(other, one) == pytest.approx(deep, abs=1e-9)
    if deep <= NEAR:
        return
    ways = np.random.default_rng(seed).normal(size=(6, 3))
    for way in ways / np.linalg.norm(ways, axis=1, keepdims=True):
        assert share(one, moved(other, way * (deep - NEAR)))


@pytest.mark.long
@settings(max_examples=60)
@given(boxes(), boxes())
def test_moved_that_far_the_right_way_they_are_apart(one: Box, other: Box) -> None:
    deep = depth(one, other)
    axes = [(*one.frame.right, 0), (*one.frame.out, 0), (0, 0, 1)]
    axes += [(*other.frame.right, 0), (*other.frame.out, 0)]
    ways = [sign * np.array(axis) for axis in axes for sign in (-1.0, 1.0)]
    assert any(not share(one, moved(other, way * (deep + NEAR))) for way in ways)


def test_a_body_within_another_is_as_deep_as_its_way_out() -> None:
    outer = box(0, 0, 0, (1.0, 1.0, 1.0), 180)
    inner = box(0.4, -0.4, 0.8, (0.1, 0.1, 0.1), 180)
    assert depth(outer, inner) == pytest.approx(0.2)
    assert depth(inner, outer) == pytest.approx(0.2)


@pytest.mark.parametrize("apart", [0.0, 0.03, 0.069])
def test_a_round_run_beside_a_box(apart: float) -> None:
    block = box(0, 0, 0, (1.0, 1.0, 1.0), 180)
    pipe = rod((-1.0, -0.5, 1.0 + apart), (2.0, -0.5, 1.0 + apart), round_section(0.14))
    assert depth(block, pipe) == pytest.approx(0.07 - apart, abs=2e-5)
    assert depth(pipe, block) == pytest.approx(0.07 - apart, abs=2e-5)


def test_a_slanted_run_past_an_edge_is_as_deep_as_across_the_edge() -> None:
    # Along the line x + z = 1.9 the middle is 0.05 * sqrt(2) inside the edge at (1, 1).
    block = box(0, 0, 0, (1.0, 1.0, 1.0), 180)
    pipe = rod((0.9, -0.5, 1.0), (1.9, -0.5, 0.0), round_section(0.2))
    assert depth(block, pipe) == pytest.approx(0.1 + 0.1 / math.sqrt(2), abs=1e-4)


def test_two_round_runs() -> None:
    one = rod((-1, 0, 1.0), (1, 0, 1.0), round_section(0.10))
    other = rod((0, -1, 1.06), (0, 1, 1.06), round_section(0.06))
    assert depth(one, other) == pytest.approx(0.02, abs=2e-5)
    assert depth(one, rod((0, -1, 1.09), (0, 1, 1.09), round_section(0.06))) == 0.0


def bracket(low: float) -> Mesh:
    """Return an angle of two plates of 100 x 10 in one mesh: it has a hollow."""
    plan = [(0, 0), (100, 0), (100, 10), (10, 10), (10, 100), (0, 100)]
    triangles = np.array([(0, 1, 2), (0, 2, 3), (0, 3, 5), (3, 4, 5)])
    outline = np.array(plan) / 1000
    count = len(plan)
    vertices = np.zeros((2 * count, 3))
    vertices[:count, :2] = vertices[count:, :2] = outline
    vertices[:count, 2], vertices[count:, 2] = low, low + 0.05
    here = np.arange(count)
    after = np.roll(here, -1)
    sides = np.column_stack([here, after, after + count])
    others = np.column_stack([here, after + count, here + count])
    faces = np.concatenate([triangles[:, ::-1], triangles + count, sides, others])
    return Mesh(vertices, faces)


def test_what_stands_in_a_hollow_is_in_nothing() -> None:
    angle = bracket(0.0)
    assert angle.closed
    inside = box(0.02, 0.09, 0.0, (0.07, 0.07, 0.05), 180)
    assert depth(angle, inside) == 0.0
    deeper = box(0.004, 0.09, 0.0, (0.07, 0.07, 0.05), 180)
    assert depth(angle, deeper) == pytest.approx(0.006, abs=1e-6)


def test_two_bodies_with_hollows() -> None:
    assert depth(bracket(0.0), bracket(0.06)) == 0.0
    assert depth(bracket(0.0), bracket(0.042)) == pytest.approx(0.008, abs=1e-6)


def test_of_two_open_meshes_nothing_is_said() -> None:
    angle = bracket(0.0)
    open_one = Mesh(angle.vertices, angle.faces[1:])
    assert depth(open_one, angle) == 0.0
    # In a box it is as deep as its way out.
    block = box(-0.5, 0.5, 0.03, (1.0, 1.0, 1.0), 180)
    assert depth(open_one, block) == pytest.approx(0.02, abs=1e-6)


@pytest.mark.long
@given(st.lists(st.tuples(TENTHS, TENTHS, TENTHS), min_size=4, max_size=4, unique=True))
def test_the_distance_of_lines_is_the_least_of_their_points(
    ends: list[tuple[float, float, float]],
) -> None:
    one, other = (ends[0], ends[1]), (ends[2], ends[3])
    found = distance(one, other)
    assert found == pytest.approx(distance(other, one), abs=1e-9)
    shares = np.linspace(0, 1, 101)[:, None]
    points = np.array(one[0]) * (1 - shares) + np.array(one[1]) * shares
    by_points = min(from_point(tuple(point), other) for point in points)
    step = math.dist(*one) / 100
    assert by_points - step <= found <= by_points + 1e-9
