"""Edges, polygons and cameras of a stage, against plain geometry."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.viewer.panel_room import stage
from viewer.sheet.projection import Projection
from viewer.stage.bodies.surfaces import cover, sharp_edges
from viewer.stage.looking.cameras import (
    ASPECT,
    BEARINGS,
    MARGIN,
    NEAREST,
    between,
    framed,
    orbit,
    suited,
    towards_eye,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

STAGE = stage()

# Edges and polygons

CUBE = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], float)
CUBE_FACES = np.array(
    [*map(int, "013032467475045051237276026064157173")], dtype=np.int64
).reshape(-1, 3)


def test_a_cube_has_twelve_edges_however_its_corners_are_written() -> None:
    assert len(sharp_edges(CUBE, CUBE_FACES)) == 12
    repeated = CUBE[CUBE_FACES].reshape(-1, 3)
    rng = np.random.default_rng(1)
    noisy = repeated + rng.uniform(-1e-7, 1e-7, repeated.shape)
    assert len(sharp_edges(noisy, np.arange(36).reshape(-1, 3))) == 12


def test_a_pipe_has_two_round_ends_and_no_edges_along_it() -> None:
    conduit = STAGE.shape("C1")
    length = np.abs(np.diff(conduit.edges[..., 1], axis=1))
    assert length.max() == pytest.approx(0.0)
    assert len(conduit.edges) >= 48


@pytest.mark.long
@given(st.lists(st.floats(0.2, 3.0), min_size=3, max_size=12))
def test_triangles_cover_a_polygon_once(radii: list[float]) -> None:
    """Their areas add up to the shoelace formula's area of a star-shaped polygon."""
    angles = np.arange(len(radii)) * 2 * math.pi / len(radii)
    outline = np.array(radii)[:, None] * np.column_stack(
        [np.cos(angles), np.sin(angles)]
    )
    x, y = outline.T
    whole = float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2
    a, b, c = (outline[cover(outline)[:, n]] for n in range(3))
    parts = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2
    assert parts.sum() == pytest.approx(whole)
    assert (parts > -1e-9).all()


# Cameras


@pytest.mark.long
@given(
    st.lists(
        st.tuples(*[st.floats(-9.0, 9.0)] * 3), min_size=4, max_size=20, unique=True
    ),
    st.floats(0.0, 360.0),
    st.floats(5.0, 80.0),
    st.floats(0.5, 3.0),
)
@example([(0, 0, 0), (0, 0, 1), (0, 0, 0.5), (2, -2, 1)], 106.0, 10.0, 3.0)
@example([(0, 0, 0), (0, 0, 1), (0, 0, 0.5), (2, -3, 1)], 128.0, 6.0, 2.0)
def test_a_framed_view_holds_all_points_and_no_more_than_needed(
    points: list[tuple[float, float, float]],
    bearing: float,
    elevation: float,
    aspect: float,
) -> None:
    """By a pinhole camera: the outermost points lie on the margin, none beyond it.

    Where all lie in the cone of the nearest point, the eye would be in that point: it
    stands before it.
    """
    cloud = np.array(points)
    if np.ptp(cloud, axis=0).min() < 0.5:
        cloud = np.concatenate([cloud, cloud.mean(axis=0) + np.eye(3)])
    view = framed(cloud, towards_eye(bearing, elevation), aspect=aspect)
    seen = Projection(view, round(1000 * aspect), 1000).pixels(cloud)
    assert np.isfinite(seen).all()
    x, y = seen[:, 0] / round(1000 * aspect), seen[:, 1] / 1000
    low, high = MARGIN - 0.002, 1 - MARGIN + 0.002
    assert low <= x.min()
    assert x.max() <= high
    assert low <= y.min()
    assert y.max() <= high
    across = max(abs(x.min() - MARGIN), abs(x.max() - 1 + MARGIN))
    along = max(abs(y.min() - MARGIN), abs(y.max() - 1 + MARGIN))
    ahead = (cloud - view.eye) @ -np.array(towards_eye(bearing, elevation))
    assert ahead.min() >= NEAREST - 1e-9
    assert min(across, along) < 0.005 or ahead.min() == pytest.approx(NEAREST)


def test_views_by_name_stand_where_they_say() -> None:
    views = {view.name: view for view in STAGE.views}
    assert set(views) == {*BEARINGS, "above"}
    east, north = np.subtract(views["south-east"].eye, views["south-east"].target)[:2]
    assert east > 0 > north
    above = views["above"]
    assert above.parallel
    assert above.up == pytest.approx((0.0, 1.0, 0.0))
    assert above.eye[2] > 3.0


def test_cameras_on_a_circle_keep_their_distance() -> None:
    bearings = [0.0, 90.0, 200.0]
    views = orbit([CUBE * (4, 2, 1)] * 3, bearings)
    away = [math.dist(view.eye, view.target) for view in views]
    assert away == pytest.approx([away[0]] * 3)
    for view in views:
        seen = Projection(view, 1600, 1000).pixels(CUBE * (4, 2, 1))
        assert (seen > 0).all()
        assert (seen < (1600, 1000)).all()


def test_a_camera_on_its_way_starts_and_ends_where_it_should() -> None:
    one, other = STAGE.views[0], STAGE.views[1]
    assert between(one, other, 0.0).eye == pytest.approx(one.eye)
    assert between(one, other, 1.0).eye == pytest.approx(other.eye)


@pytest.mark.parametrize("aspect", [1.0, ASPECT, 2.4])
def test_a_view_fits_a_picture_of_another_shape(aspect: float) -> None:
    corners = np.array([STAGE.low, STAGE.high])
    for view in STAGE.views:
        fitted = suited(view, aspect)
        seen = Projection(fitted, round(500 * aspect), 500).pixels(corners)
        assert (seen >= 0).all()
        assert (seen <= (round(500 * aspect), 500)).all()
