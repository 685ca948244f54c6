"""Cells that triangles touch in plan, against shapely's own answer for each cell."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan.cover import raster
from model3d.geometry.plan.footprint import footprint
from tests.bench.least import by_turns

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]


def thrown(count: int, wide: float, seed: int = 1) -> Points:
    """Return slivers that lie over one another in a room, shape (n, 3, 2), metres."""
    dice = np.random.default_rng(seed)
    ends = dice.random((count, 1, 2)) * (1.6, 1.1)
    way = dice.normal(0, wide / 2, (count, 1, 2))
    beside = dice.normal(0, 0.01, (count, 1, 2))
    return np.concatenate([ends, ends + way, ends + beside], axis=1)


def marked(plan: Points) -> Points:
    """Return the middles of the cells, metres, in their order."""
    found = [
        (np.argwhere(cells)[:, ::-1] + place * cells.shape + 0.5) * raster.CELL
        for place, cells in raster.tiles(plan)
    ]
    whole = np.concatenate(found)
    return whole[np.lexsort(whole.T)]


@pytest.mark.long
@pytest.mark.parametrize("wide", [0.02, 0.8, 3.0])
def test_a_cell_is_marked_just_where_a_triangle_touches_it(wide: float) -> None:
    plan = thrown(30, wide)
    middles, half = marked(plan), raster.CELL / 2
    boxes = shapely.box(*(middles - half).T, *(middles + half).T)
    tree = shapely.STRtree(shapely.polygons(plan))
    touched = tree.query(shapely.buffer(boxes, 1e-9), predicate="intersects")[0]
    assert len(np.unique(touched)) == len(boxes)
    # Each triangle lies in the cells: nothing of it is beside all of them.
    left = shapely.difference(
        shapely.polygons(plan), shapely.union_all(shapely.buffer(boxes, 1e-9))
    )
    assert shapely.area(left).sum() < 1e-9


@pytest.mark.long
@pytest.mark.parametrize("wide", [0.05, 2.0])
def test_what_is_looked_at_by_turns_and_in_shares_is_the_same(
    monkeypatch: pytest.MonkeyPatch, wide: float
) -> None:
    plan = thrown(900, wide)
    at_once = raster.cells_under(plan)
    cells = len(marked(plan))
    monkeypatch.setattr(raster, "_CROWD", 5)
    monkeypatch.setattr(raster, "_AT_ONCE", 700)
    # What lies between others is not even looked at, and yet covered.
    assert len(marked(plan)) < cells
    assert shapely.equals_exact(raster.cells_under(plan), at_once)


def test_many_wide_slivers_are_counted_and_few_are_not() -> None:
    """Each side of a sliver crosses most others: put together they take minutes."""
    few, many = thrown(900, 2.0), thrown(1500, 2.0)
    assert len(raster.parted(few)[1]) > 0
    fine, coarse = raster.parted(many)
    assert len(fine) == len(many)
    assert not len(coarse)


@pytest.mark.bench
def test_a_tangle_of_long_slivers_takes_a_time_that_grows_as_they_do() -> None:
    def tangle(count: int) -> Mesh:
        flat = thrown(count, 1.5)
        level = np.random.default_rng(2).uniform(0.5, 1.5, (count, 3, 1))
        points = np.concatenate([flat, level], axis=2).reshape(-1, 3)
        return Mesh(points, np.arange(len(points)).reshape(-1, 3))

    def shadow(mesh: Mesh) -> None:
        # What is asked of a mesh is remembered with it: another one each time.
        asked = replace(mesh)
        assert not footprint(asked, 0.0, 2.0).is_empty

    few, many = tangle(25_000), tangle(100_000)
    short, long = by_turns(2, partial(shadow, few), partial(shadow, many))
    # Measured 1.8; put together as polygons not even the first ended in a minute.
    assert long < 6 * short
