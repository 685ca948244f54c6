"""Polygons put together and taken away, also where edges almost lie on each other.

Source: areas by plain geometry; the point of every piece must be where it belongs.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import shapely

from model3d.geometry.plan.union import covered, joined, less


def wedges(count: int, radius: float, jitter: float) -> list[shapely.Polygon]:
    """Return slices of a round that meet at their sides up to some rounding."""
    draw = np.random.default_rng(count)
    angles = np.arange(count + 1) * math.tau / count
    found = []
    for a, b in itertools.pairwise(angles):
        arc = np.linspace(a, b, 60)
        ring = radius * np.column_stack([np.cos(arc), np.sin(arc)])
        ring += draw.uniform(-jitter, jitter, ring.shape)
        found.append(shapely.Polygon([(0.0, 0.0), *ring.tolist()]))
    return found


@pytest.mark.parametrize("jitter", [0.0, 1e-17, 1e-15, 1e-12, 1e-9])
@pytest.mark.parametrize("count", range(3, 24))
def test_slices_of_a_round_make_the_round(count: int, jitter: float) -> None:
    pieces = wedges(count, 0.47, jitter)
    area = sum(piece.area for piece in pieces)
    found = joined(pieces)
    assert found.area == pytest.approx(area, abs=1e-6)
    left = less(shapely.box(-1, -1, 1, 1), pieces)
    assert left.area == pytest.approx(4 - area, abs=1e-6)


def test_a_piece_that_is_lost_in_floating_point_is_found_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    union = shapely.union_all

    def careless(pieces: object, grid_size: float | None = None) -> shapely.Geometry:
        kept = np.asarray(pieces, dtype=object)
        return union(kept if grid_size else kept[1:], grid_size=grid_size)

    monkeypatch.setattr(shapely, "union_all", careless)
    pieces = [shapely.box(0, 0, 1, 1), shapely.box(2, 0, 3, 1)]
    assert joined(pieces).area == pytest.approx(2.0)
    assert less(shapely.box(0, 0, 4, 1), pieces).area == pytest.approx(2.0)


@pytest.mark.parametrize("twisted", [True, False])
def test_what_is_no_area_does_not_matter(*, twisted: bool) -> None:
    # A bow tie, and a room with a line that hangs on it.
    tie = shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)])
    room = shapely.box(0, 0, 2, 1)
    line = shapely.LineString([(2, 0), (3, 0)])
    whole = shapely.GeometryCollection([room, line]) if twisted else room
    assert less(whole, [tie]).area == pytest.approx(1.5, abs=1e-6)


def test_nothing_taken_away_leaves_the_whole() -> None:
    room = shapely.box(0, 0, 2, 1)
    assert less(room, [shapely.Polygon()]) is room


@pytest.mark.parametrize("count", [0, 1, 2, 9, 400])
def test_what_many_triangles_cover_is_their_union(count: int) -> None:
    """Against the union of shapely, another library's."""
    chance = np.random.default_rng(count)
    corners = chance.random((count, 1, 2)) + chance.random((count, 3, 2)) / 5
    triangles = shapely.polygons(corners)
    found, expected = covered(triangles), shapely.union_all(triangles)
    assert found.is_valid
    assert found.symmetric_difference(expected).area == pytest.approx(0, abs=1e-6)
    assert len(shapely.get_parts(found)) == len(shapely.get_parts(expected))


def test_a_polygon_whose_edges_meet_by_rounding_is_two() -> None:
    bay = shapely.Polygon([(0, 0), (2, 0), (2, 1), (1, 4e-9), (0, 1)])
    assert bay.is_valid
    found = joined([bay])
    assert found.is_valid
    assert found.area == pytest.approx(bay.area, abs=1e-6)
