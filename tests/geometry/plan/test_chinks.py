"""Chinks that nobody gets into; what is barred is compared with shapely's rounds."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from model3d.geometry.plan.cover.chinks import without_chinks
from model3d.geometry.tolerance import TOUCH
from tests.bench.least import by_turns

WIDTH = 0.198


def rounds(count: int, sides: int = 16, seed: int = 1) -> shapely.Geometry:
    dice = np.random.default_rng(seed)
    middles = dice.random((count, 2)) * (2.0, 1.4)
    found = [
        shapely.Point(*middle).buffer(dice.uniform(0.02, 0.06), quad_segs=sides)
        for middle in middles
    ]
    return shapely.union_all(found)


def barred(plan: shapely.Geometry, width: float) -> shapely.Geometry:
    """Return where the middle of somebody cannot be."""
    # Part by part and side by side: a buffer of all at once leaves out hollows.
    lines = [
        shapely.LineString(ends)
        for part in shapely.get_parts(plan)
        for ring in (part.exterior, *part.interiors)
        for ends in zip(ring.coords, ring.coords[1:], strict=False)
    ]
    grown = shapely.buffer(np.array(lines), width / 2, quad_segs=32)
    return shapely.union_all([plan, *grown])


@pytest.mark.long
@pytest.mark.parametrize("width", [0.2, 0.61])
@pytest.mark.parametrize("seed", range(2))
def test_nobody_stands_elsewhere_for_it(seed: int, width: float) -> None:
    plan = rounds(60, 8, seed)
    filled = without_chinks(plan, WIDTH)
    before, after = barred(plan, width), barred(filled, width)
    for one, other in ((before, after), (after, before)):
        beyond = shapely.difference(one, shapely.buffer(other, 1.5 * TOUCH))
        assert shapely.area(beyond) < 1e-9


def test_it_covers_all_that_was_covered_with_few_corners() -> None:
    plan = rounds(200)
    filled = without_chinks(plan, WIDTH)
    assert shapely.is_valid(filled)
    assert filled.buffer(TOUCH / 2).covers(plan)
    assert shapely.get_num_coordinates(filled) < shapely.get_num_coordinates(plan) / 3


def rough(corners: int) -> shapely.Polygon:
    """Return a disc as a scanner sees it: its edge is told to a millimetre."""
    dice = np.random.default_rng(corners)
    angles = np.sort(dice.random(corners)) * 2 * np.pi
    away = 0.4 + dice.normal(0.0, 0.001, corners)
    return shapely.Polygon(
        np.column_stack([away * np.cos(angles), away * np.sin(angles)])
    )


@pytest.mark.long
@pytest.mark.parametrize("width", [0.2, 0.61])
def test_nobody_stands_elsewhere_for_what_is_filled_of_a_rough_edge(
    width: float,
) -> None:
    plan = rough(800)
    filled = without_chinks(plan, WIDTH)
    before, after = barred(plan, width), barred(filled, width)
    for one, other in ((before, after), (after, before)):
        assert shapely.difference(one, other.buffer(1.5 * TOUCH)).area < 1e-9
    assert filled.buffer(TOUCH / 2).covers(plan)


@pytest.mark.bench
def test_a_rough_edge_takes_a_time_that_grows_nearly_as_its_corners() -> None:
    few, many = rough(1000), rough(4000)
    short, long = by_turns(
        3,
        lambda: without_chinks(few, WIDTH),
        lambda: without_chinks(many, WIDTH),
    )
    # Grown with all its notches four times the corners took some thirty times.
    assert long < 10 * short


def test_a_gap_that_somebody_gets_through_stays() -> None:
    hollow = shapely.box(-1.0, -0.2, -0.3, 0.2)
    one = shapely.Point(0.0, 0.0).buffer(0.5, quad_segs=80).difference(hollow)
    for gap, parts in ((0.02, 1), (0.2, 2)):
        other = shapely.Point(1.0 + gap, 0.0).buffer(0.5, quad_segs=64)
        filled = without_chinks(shapely.union(one, other), WIDTH)
        assert len(shapely.get_parts(filled)) == parts


def test_a_plan_with_few_corners_is_the_same() -> None:
    plan = shapely.union(shapely.box(0, 0, 1, 1), shapely.box(1.05, 0, 2, 1))
    assert without_chinks(plan, WIDTH) is plan
