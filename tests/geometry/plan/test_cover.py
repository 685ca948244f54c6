"""The deepest covered point of a rectangle, against a grid of points.

The outside check is the definition itself: the greatest of all distances from a
covered point of the area to the nearest point that nothing covers, on a grid.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.geometry.plan.cover.cover import Rectangle, deepest
from model3d.geometry.tolerance import TOUCH

AREA: Rectangle = (0.0, 0.0, 1.0, 1.0)
EIGHTHS = st.integers(-8, 16).map(lambda n: n / 8)
STEP = 1 / 32


@st.composite
def rectangles(draw: st.DrawFn) -> Rectangle:
    xs = sorted({draw(EIGHTHS), draw(EIGHTHS)})
    ys = sorted({draw(EIGHTHS), draw(EIGHTHS)})
    return xs[0], ys[0], xs[-1] + 1 / 8, ys[-1] + 1 / 8


def _by_grid(covers: list[Rectangle], area: Rectangle) -> float:
    # Points halfway between the eighths, so that none lies on an edge.
    line = np.arange(-2 + STEP / 2, 3, STEP)
    x, y = np.meshgrid(line, line)
    covered = np.zeros(x.shape, dtype=bool)
    for a, b, c, d in covers:
        covered |= (a < x) & (x < c) & (b < y) & (y < d)
    a, b, c, d = area
    asked = covered & (a < x) & (x < c) & (b < y) & (y < d)
    if not asked.any():
        return 0.0
    free = np.column_stack([x[~covered], y[~covered]])
    points = np.column_stack([x[asked], y[asked]])
    return max(float(np.hypot(*(free - point).T).min()) for point in points[::3])


@pytest.mark.long
@settings(max_examples=30, deadline=None)
@given(st.lists(rectangles(), max_size=4))
def test_it_is_what_a_grid_finds(covers: list[Rectangle]) -> None:
    assert deepest(covers, AREA) == pytest.approx(_by_grid(covers, AREA), abs=4 * STEP)


@pytest.mark.long
@given(st.lists(rectangles(), max_size=4), rectangles())
@settings(max_examples=50, deadline=None)
def test_more_cover_is_never_less_deep(
    covers: list[Rectangle], more: Rectangle
) -> None:
    assert deepest([*covers, more], AREA) >= deepest(covers, AREA) - TOUCH


@pytest.mark.parametrize("gap", [0.0, 5e-5])
def test_what_touches_covers_together(gap: float) -> None:
    halves = [(0.0, -1.0, 0.5, 2.0), (0.5 + gap, -1.0, 1.0, 2.0)]
    assert deepest(halves, AREA) == pytest.approx(0.5, abs=1e-4)


def test_a_gap_is_a_gap() -> None:
    halves = [(0.0, -1.0, 0.5, 2.0), (0.501, -1.0, 1.0, 2.0)]
    assert deepest(halves, AREA) == pytest.approx(0.25, abs=1e-4)


def test_what_covers_nothing_of_the_area_is_no_matter() -> None:
    assert deepest([], AREA) == 0.0
    assert deepest([(2.0, 0.0, 3.0, 1.0)], AREA) == 0.0
