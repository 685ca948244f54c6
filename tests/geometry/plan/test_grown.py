"""Polygons grown by a distance.

Source: a polygon grown by a distance is all that is within that distance of it, which
shapely's ``distance`` tells of any point, a second way.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from model3d.geometry.plan.grown import grown, rim

ROUND = 3e-5
"""Metres. Rounds are many-sided by 0.02 mm."""


def star(seed: int) -> shapely.Polygon:
    draw = np.random.default_rng(seed)
    count = int(draw.integers(3, 24))
    angles = (np.arange(count) + draw.uniform(0.1, 0.9, count)) * math.tau / count
    radius = draw.uniform(0.3, 1.5, count)
    ring = np.column_stack([radius * np.cos(angles), radius * np.sin(angles)])
    found = shapely.Polygon(ring)
    return found.difference(shapely.box(-0.1, -0.1, 0.12, 0.1)) if seed % 2 else found


@pytest.mark.parametrize("seed", range(24))
def test_points_are_inside_as_far_as_the_distance(seed: int) -> None:
    plan, distance = star(seed), 0.05 + 0.02 * seed
    pieces = shapely.union_all(grown([plan], distance))
    draw = np.random.default_rng(seed)
    points = shapely.points(draw.uniform(-2.5, 2.5, (4000, 2)))
    away = shapely.distance(points, plan)
    inside = shapely.covers(pieces, points)
    assert inside[away <= distance - ROUND].all()
    assert not inside[away > distance + ROUND].any()


@pytest.mark.long
@pytest.mark.parametrize("seed", range(24))
def test_the_rim_is_what_is_near_the_edge_inside(seed: int) -> None:
    plan, distance = star(seed), 0.05 + 0.02 * seed
    pieces = shapely.union_all(rim(plan, distance))
    draw = np.random.default_rng(seed)
    points = shapely.points(draw.uniform(-1.5, 1.5, (4000, 2)))
    points = points[shapely.contains(plan, points)]
    away = shapely.distance(points, plan.boundary)
    near = shapely.covers(pieces, points)
    assert near[away <= distance - ROUND].all()
    assert not near[away > distance + ROUND].any()


@pytest.mark.parametrize("depth", [0.0003, 0.001, 0.003])
def test_a_shallow_hollow_is_not_lost(depth: float) -> None:
    # A buffer of the whole polygon leaves out what is shallower than a hundredth.
    plan = shapely.Polygon(
        [(0, 0), (3, 0), (3, 1), (2, 1), (2, 1 - depth), (1, 1 - depth), (1, 1), (0, 1)]
    )
    pieces = shapely.union_all(grown([plan], 0.305))
    middle = shapely.Point(1.5, 1 - depth + 0.305 + ROUND)
    assert not pieces.covers(middle)
    assert pieces.covers(shapely.Point(1.5, 1 - depth + 0.305 - ROUND))
