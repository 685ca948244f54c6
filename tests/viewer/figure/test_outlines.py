"""Outlines, hidden lines and hatches, against points that are tried one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from viewer.figure.drafting.hatch import hatched
from viewer.figure.drafting.hidden_lines import clipped, hull, outside
from viewer.figure.drafting.pens import Pattern
from viewer.figure.drafting.scale import fitting

place = st.floats(-5, 5).map(lambda value: round(value, 3))
points = st.lists(st.tuples(place, place), min_size=3, max_size=60)


def _holds(outline: np.ndarray, tried: np.ndarray, slack: float) -> np.ndarray:
    """Tell which points lie in a convex outline, by every side of it."""
    after = np.roll(outline, -1, axis=0) - outline
    x, y = np.atleast_2d(tried).T[..., None]
    away = after[:, 0] * (y - outline[:, 1]) - after[:, 1] * (x - outline[:, 0])
    found: np.ndarray = (away >= -slack).all(axis=1)
    return found


@pytest.mark.long
@given(points)
def test_a_hull_holds_every_point(found: list[tuple[float, float]]) -> None:
    given_points = np.array(found)
    outline = hull(given_points)
    if len(outline) >= 3:
        assert _holds(outline, given_points, 1e-4).all()
    assert {tuple(one) for one in outline.tolist()} <= {
        (round(x, 7) + 0.0, round(y, 7) + 0.0) for x, y in found
    }


@pytest.mark.long
@given(points, st.tuples(place, place), st.tuples(place, place))
def test_what_is_hidden_lies_inside_and_what_is_left_outside(
    found: list[tuple[float, float]],
    start: tuple[float, float],
    end: tuple[float, float],
) -> None:
    outline = hull(np.array(found))
    size = np.ptp(outline, axis=0) if len(outline) else np.zeros(2)
    if len(outline) < 3 or size.min() < 0.1 or math.dist(start, end) < 0.01:
        return
    kept = outside(np.array([[start, end]]), outline)
    for one, other in kept:
        assert not _holds(outline, (one + other) / 2, -1e-3).any()
    left = sum(math.dist(one, other) for one, other in kept)
    steps = np.linspace(0, 1, 2001)[:, None]
    tried = np.array(start) + steps * np.subtract(end, start)
    # What runs along an edge is drawn or not: it is as good as either.
    length = math.dist(start, end)
    least = np.mean(~_holds(outline, tried, 1e-3)) * length
    most = np.mean(~_holds(outline, tried, -1e-3)) * length
    assert least - 0.02 <= left <= most + 0.02


def test_a_line_is_clipped_at_the_window() -> None:
    found = clipped(
        np.array([[(-1.0, 0.5), (3.0, 0.5)], [(5.0, 5.0), (6.0, 6.0)]]),
        np.array([0.0, 0.0]),
        np.array([2.0, 1.0]),
    )
    assert found.tolist() == [[[0.0, 0.5], [2.0, 0.5]]]


@pytest.mark.long
@given(
    st.floats(3, 40), st.floats(3, 40), st.sampled_from([0.0, 30.0, 45.0, 90.0, 135.0])
)
def test_a_hatch_covers_its_surface_and_no_more(
    width: float, height: float, angle: float
) -> None:
    """As much line as surface over spacing: what any hatch comes to."""
    outline = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    spacing = 0.5
    lines = hatched(tuple(outline), Pattern((angle,), spacing))
    for one, other in lines:
        for x, y in (one, other):
            assert -0.01 <= x <= width + 0.01
            assert -0.01 <= y <= height + 0.01
    length = sum(math.dist(*line) for line in lines)
    edge = spacing * (width + height)
    assert length * spacing == pytest.approx(width * height, abs=edge)


def test_a_hollow_is_left_free() -> None:
    outline = [(0, 0), (9, 0), (9, 9), (6, 9), (6, 3), (3, 3), (3, 9), (0, 9)]
    lines = hatched(tuple(outline), Pattern((0.0,), 1.0))
    through = [line for line in lines if line[0][1] == 6.0]
    assert through == [((0.0, 6.0), (3.0, 6.0)), ((6.0, 6.0), (9.0, 6.0))]


def test_the_scale_is_the_largest_usual_one_that_fits() -> None:
    assert fitting("mm", lambda scale: scale >= 26) == 30
    assert fitting("in", lambda scale: scale >= 26) == 32
    assert fitting("mm", lambda scale: scale > 300) == 500
