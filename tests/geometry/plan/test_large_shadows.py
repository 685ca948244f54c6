"""Shadows of scans of a hall: quick, and they cover all that the scan has.

The outside source is shapely's own union, which knows no squares and smooths nothing.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.clouds.body import Cloud
from model3d.geometry.clouds.sifting import sift
from model3d.geometry.frame import Frame
from model3d.geometry.plan import footprint as shadows
from model3d.geometry.plan import union
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import covered
from tests.bench.least import by_turns

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.float64]


def sheet(count: int, side: float = 4.0) -> tuple[Points, NDArray[np.int64]]:
    """Return a ragged sheet a metre above the floor, as a scan has it: open."""
    dice = np.random.default_rng(3)
    x, y = np.meshgrid(*[np.linspace(0, side, count)] * 2, indexing="ij")
    flat = np.stack([x.ravel(), y.ravel(), np.full(count * count, 1.0)], axis=1)
    flat += dice.normal(0, 0.002, flat.shape)
    first = (np.arange(count - 1)[:, None] * count + np.arange(count - 1)).ravel()
    one = np.stack([first, first + count, first + 1], axis=1)
    two = np.stack([first + 1, first + count, first + count + 1], axis=1)
    faces = np.concatenate([one, two])
    return flat, faces[dice.random(len(faces)) > 0.02]


def test_many_polygons_put_together_in_squares_are_those_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    points, faces = sheet(30)
    polygons = shapely.polygons(points[faces][:, :, :2])
    whole = shapely.union_all(polygons, grid_size=1e-9)
    for many in (10, 100_000):
        monkeypatch.setattr(union, "_MANY", many)
        found = covered(polygons)
        assert shapely.is_valid(found)
        assert shapely.symmetric_difference(found, whole).area < 1e-5


def test_the_ragged_shadow_of_a_scan_covers_it_and_little_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    mesh = Mesh(*sheet(40))
    exact = footprint(mesh, 0.0, 2.0)
    monkeypatch.setattr(shadows, "SCAN", 100)
    smooth = footprint(Mesh(*mesh.mesh), 0.0, 2.0)
    assert smooth.covers(exact)
    assert len(shapely.get_coordinates(smooth)) < len(shapely.get_coordinates(exact))
    # Not more than 4 mm about it; what is farther in it nobody gets through to.
    beyond = shapely.difference(smooth, exact.buffer(0.0041))
    assert beyond.buffer(-0.1001).is_empty
    outside = exact.convex_hull.buffer(0.0041, join_style="mitre")
    assert outside.covers(smooth)


@pytest.mark.parametrize("bearing", [0.0, 37.0, 90.0])
def test_points_are_found_in_every_box_of_a_frame_as_by_looking_at_each(
    bearing: float,
) -> None:
    dice = np.random.default_rng(7)
    points = dice.random((4000, 3)) * (9.0, 5.0, 3.0)
    sifted = sift(points)
    frame = Frame.facing(4.0, 2.0, bearing)
    view = Cloud(sifted.points, sifted).seen_from(frame)
    every = frame.local(sifted.points)
    far = float("inf")
    for low, high in (
        ((-1.0, -1.0, 0.0), (1.0, 1.0, 2.0)),
        ((-0.4, 0.0, 0.5), (0.4, far, 1.5)),
        ((-far, -far, 1.0), (far, far, 1.2)),
        ((50.0, 50.0, 0.0), (51.0, 51.0, 2.0)),
    ):
        inside = ((every > np.add(low, 1e-4)) & (every < np.subtract(high, 1e-4))).all(
            axis=1
        )
        found = view.points(low, high)
        assert np.allclose(found, every[inside], atol=1e-12)


@pytest.mark.bench
@pytest.mark.long
def test_a_shadow_grows_no_faster_than_the_scan() -> None:
    def shadow(count: int) -> None:
        footprint(Mesh(*sheet(count, 8.0)), 0.0, 2.0)

    shadow(40)
    few, many = by_turns(2, partial(shadow, 160), partial(shadow, 320))
    # Four times as many triangles; putting them together at once takes fifteen times.
    assert many < 9 * few


@pytest.mark.parametrize("degrees", [0.0, 31.0])
def test_the_upright_sides_of_an_open_mesh_are_put_together_once(
    monkeypatch: pytest.MonkeyPatch, degrees: float
) -> None:
    """Of a wall in strips there are as many sides in plan as columns, not triangles.

    By hand: a sheet 2 m wide and 1 m high in 40 columns and 30 rows, one triangle
    missing; each column has its bottom, and its diagonals lie over that.
    """
    u, z = np.meshgrid(np.linspace(0, 2, 41), np.linspace(0.5, 1.5, 31), indexing="ij")
    angle = np.radians(degrees)
    points = np.stack([u * np.cos(angle), u * np.sin(angle), z], axis=-1).reshape(-1, 3)
    first = (np.arange(40)[:, None] * 31 + np.arange(30)).ravel()
    one = np.stack([first, first + 31, first + 1], axis=1)
    two = np.stack([first + 1, first + 31, first + 32], axis=1)
    mesh = Mesh(points, np.concatenate([one, two])[:-1])
    given: list[int] = []

    def counted(
        polygons: NDArray[np.object_], rims: Sequence[Sequence[Points]]
    ) -> shapely.Geometry:
        given.append(len(polygons) + sum(map(len, rims)))
        return covered(polygons, rims)

    monkeypatch.setattr(shadows, "covered", counted)
    found = footprint(mesh, 0.0, 2.0)
    # Upright edges are points in plan: at most one for each end of a column.
    assert sum(given) <= 40 + 41
    line = shapely.LineString([(0, 0), (2 * np.cos(angle), 2 * np.sin(angle))])
    assert found.buffer(1e-6).covers(line)
    assert found.area == pytest.approx(0, abs=1e-2)
