"""A cloud as a body: as triangles without area are cut, and what it covers."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.clouds.body import Cloud, dots, thinned
from model3d.geometry.clouds.sifting import sift
from model3d.geometry.frame import Frame
from model3d.geometry.plan.cover.cells import CELL, cells_of
from model3d.geometry.tolerance import TOUCH

SEEDS = st.integers(0, 2**32 - 1)
COUNTS = st.integers(1, 60)


@pytest.mark.long
@given(SEEDS, COUNTS, st.sampled_from([0.05, 1.0]))
def test_it_is_cut_as_triangles_without_area_are(
    seed: int, count: int, grid: float
) -> None:
    dice = np.random.default_rng(seed)
    points = np.round(dice.random((count, 3)) / grid) * grid
    low, high = np.sort(np.round(dice.random((2, 3)) / 0.05) * 0.05, axis=0)
    faces = np.arange(count)[:, None].repeat(3, axis=1)
    triangles = TriangleView(points, faces, points[faces], closed=False)
    cloud = Cloud(points, sift(points))
    view = cloud.seen_from(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)))
    box = (tuple(low.tolist()), tuple(high.tolist()))
    inside = ((points > low + TOUCH) & (points < high - TOUCH)).all(axis=1)
    if (high - low > 2 * TOUCH).all():
        assert view.extents(*box) == triangles.extents(*box) or not inside.any()
        assert (view.extents(*box) is not None) == inside.any()
        for x in points[inside][:, 0]:
            assert any(a < x < b for a, b in view.shadow(*box))
    edges, others = view.plan_edges(*box), triangles.plan_edges(*box)
    assert {*map(tuple, edges[:, 0])} == {*map(tuple, others[:, 0])}


@pytest.mark.long
@given(SEEDS, COUNTS)
@settings(deadline=None)
def test_it_covers_every_point_and_little_more_than_nobody_passes(
    seed: int, count: int
) -> None:
    points = np.random.default_rng(seed).random((count, 3))
    plan = cells_of(points, 0.2, 0.8)
    between = points[(points[:, 2] > 0.2) & (points[:, 2] < 0.8)]
    assert plan.is_empty == (not len(between))
    assert shapely.covers(plan, shapely.points(between[:, :2])).all()
    # Whoever keeps 50 mm away from each point keeps away from all but what is rounded.
    away = shapely.MultiPoint(between[:, :2]).buffer(0.05 + 2 * CELL + 0.005)
    assert plan.is_empty or away.covers(plan)


@pytest.mark.long
@given(SEEDS, COUNTS, st.integers(1, 20))
def test_few_are_drawn_and_always_the_same(seed: int, count: int, most: int) -> None:
    points = np.random.default_rng(seed).random((count, 3)) * 5
    found = thinned(points, most)
    assert 0 < len(found) <= most
    np.testing.assert_array_equal(found, thinned(points, most))
    assert {*map(tuple, found)} <= {*map(tuple, points)}
    vertices, faces = dots(found)
    assert len(faces) == 4 * len(found)
    assert faces.max() == len(vertices) - 1
