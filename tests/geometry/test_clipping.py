"""Cut triangles against half-space arithmetic, points and solid angles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.geometry.bodies.clipping import BOX_FACES, corners, cut, winding

LOW, HIGH = (0.0, 0.0, 0.0), (1.0, 1.0, 1.0)
NUMBER = st.floats(-2, 3, allow_nan=False, width=32)
TRIANGLE = st.lists(st.tuples(NUMBER, NUMBER, NUMBER), min_size=3, max_size=3)


def area(triangles: np.ndarray) -> float:
    a, b, c = triangles.transpose(1, 0, 2)
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


@pytest.mark.long
@settings(max_examples=200)
@given(st.lists(TRIANGLE, min_size=1, max_size=4))
def test_every_piece_is_inside(points: list[list[tuple[float, float, float]]]) -> None:
    pieces = cut(np.array(points), LOW, HIGH)
    assert (pieces >= -1e-9).all()
    assert (pieces <= 1 + 1e-9).all()


@pytest.mark.long
@settings(max_examples=100)
@given(TRIANGLE, st.integers(0, 2**32 - 1))
def test_pieces_have_the_points_that_are_inside(
    triangle: list[tuple[float, float, float]], seed: int
) -> None:
    corners_ = np.array(triangle)
    pieces = cut(corners_[None], LOW, HIGH)
    draw = np.random.default_rng(seed)
    shares = draw.dirichlet((1, 1, 1), 4000)
    points = shares @ corners_
    inside = ((points >= 0) & (points <= 1)).all(axis=1)
    # What share of the triangle's points is inside is its share of the area.
    whole = area(corners_[None])
    if whole > 1e-3:
        found = area(pieces) / whole if len(pieces) else 0.0
        assert found == pytest.approx(inside.mean(), abs=0.05)
    if inside.any():
        low, high = pieces.min(axis=(0, 1)), pieces.max(axis=(0, 1))
        assert (points[inside] >= low - 1e-6).all()
        assert (points[inside] <= high + 1e-6).all()


def test_a_triangle_that_lies_in_a_face_is_inside() -> None:
    flat = np.array([[[0.2, 0.2, 1.0], [0.8, 0.2, 1.0], [0.2, 0.8, 1.0]]])
    assert cut(flat, LOW, HIGH) == pytest.approx(flat)


def test_nothing_of_a_triangle_far_away_is_left() -> None:
    far = np.array([[[2.0, 0.2, 0.5], [3.0, 0.2, 0.5], [2.0, 0.8, 0.5]]])
    assert len(cut(far, LOW, HIGH)) == 0


def test_a_square_cut_by_a_corner_keeps_its_area() -> None:
    # Two triangles of a square of side 2 about the corner (1, 1): a quarter is inside.
    square = np.array(
        [
            [[0.0, 0.0, 0.5], [2.0, 0.0, 0.5], [2.0, 2.0, 0.5]],
            [[0.0, 0.0, 0.5], [2.0, 2.0, 0.5], [0.0, 2.0, 0.5]],
        ]
    )
    assert area(cut(square, LOW, HIGH)) == pytest.approx(1.0)


@pytest.mark.parametrize("sides_turned", [False, True])
def test_winding_numbers_of_a_box(*, sides_turned: bool) -> None:
    # Inside 1 (-1 turned inside out), outside 0, on a face a half: solid angle / 4 pi.
    faces = BOX_FACES[:, ::-1] if sides_turned else BOX_FACES
    triangles = corners(LOW, HIGH)[faces]
    draw = np.random.default_rng(3)
    inside = draw.uniform(0.05, 0.95, (50, 3))
    outside = draw.uniform(1.05, 3.0, (50, 3))
    sign = -1 if sides_turned else 1
    assert winding(triangles, inside) == pytest.approx(sign * np.ones(50))
    assert winding(triangles, outside) == pytest.approx(np.zeros(50), abs=1e-9)


def test_the_faces_of_a_box_look_outwards() -> None:
    points = corners(LOW, HIGH)[BOX_FACES]
    a, b, c = points.transpose(1, 0, 2)
    normals, middles = np.cross(b - a, c - a), points.mean(axis=1)
    assert (np.einsum("ij,ij->i", normals, middles - 0.5) > 0).all()
    assert area(points) == pytest.approx(6.0)
