"""The index of bodies against looking at all of them."""

from __future__ import annotations

import numpy as np
import pytest

from model3d.geometry.bodies.solid import Box
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.index import SolidIndex


def boxes(count: int) -> list[Box]:
    draw = np.random.default_rng(21)
    found = []
    for _ in range(count):
        x, y, bearing = (float(value) for value in draw.uniform((-20, -20, 0), 360, 3))
        width, depth, height = (float(size) for size in draw.uniform(0.1, 3, 3))
        low = float(draw.uniform(-1, 5))
        frame = Frame.facing(x % 20, y % 20, bearing)
        found.append(Box(frame, width, depth, low, low + height))
    return found


@pytest.mark.parametrize("count", [1, 2, 300, 600])
def test_it_finds_what_looking_at_all_finds(count: int) -> None:
    solids = boxes(count)
    index = SolidIndex(solids)
    draw = np.random.default_rng(22)
    found = 0
    for _ in range(100):
        low = draw.uniform(-20, 20, 3) * (1, 1, 0.2)
        high = low + draw.uniform(0, 6, 3)
        box = ((low[0], low[1], low[2]), (high[0], high[1], high[2]))
        expected = [
            place
            for place, solid in enumerate(solids)
            if all(
                solid.bounds[0][i] <= box[1][i] and solid.bounds[1][i] >= box[0][i]
                for i in range(3)
            )
        ]
        assert index.touching(*box) == expected
        found += len(expected)
    assert found or count < 10


def test_its_bounds_are_those_of_all() -> None:
    solids = boxes(50)
    index = SolidIndex(solids)
    bounds = np.array([solid.bounds for solid in solids])
    assert index.low == pytest.approx(bounds[:, 0].min(axis=0))
    assert index.high == pytest.approx(bounds[:, 1].max(axis=0))


def test_touching_bounds_are_found() -> None:
    index = SolidIndex([Box(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)), 1, 1, 0, 1)])
    assert index.touching((1.0, 0.0, 0.0), (2.0, 1.0, 1.0)) == [0]
    assert index.touching((1.001, 0.0, 0.0), (2.0, 1.0, 1.0)) == []


def test_an_index_of_nothing() -> None:
    index = SolidIndex([])
    assert index.touching((-1.0, -1.0, -1.0), (1.0, 1.0, 1.0)) == []


def test_what_is_beside_each_body_is_what_its_bounds_touch() -> None:
    bodies = boxes(80)
    found = SolidIndex(bodies)
    for place, body in enumerate(bodies):
        assert found.beside(place) == found.touching(*body.bounds)


@pytest.mark.parametrize("steps", [1, 5, 60])
def test_one_in_which_bodies_moved_is_as_one_made_anew(steps: int) -> None:
    solids, others = boxes(120), boxes(240)[120:]
    index = before = SolidIndex(solids)
    everywhere = ((-30.0, -30.0, -5.0), (30.0, 30.0, 15.0))
    asked = [solid.bounds for solid in (*solids[:40], *others[:40])]
    found_before = [before.touching(*box) for box in asked]
    for step in range(steps):
        place = step * 7 % len(solids)
        solids[place] = others[step]
        index = index.moved({place: others[step]})
    anew = SolidIndex(solids)
    for box in (everywhere, *asked):
        assert index.touching(*box) == anew.touching(*box)
    for place in range(len(solids)):
        assert index.beside(place) == anew.beside(place)
    assert (index.low, index.high) == (anew.low, anew.high)
    # The one before still tells where things were.
    assert [before.touching(*box) for box in asked] == found_before


def test_a_turned_box_leaves_out_what_only_lies_about_it() -> None:
    # A row of boxes behind a long turned strip: only their bounds reach into it.
    frame = Frame.facing(1.0, 2.0, 203.7)
    row = [
        Box(frame.moved(at, -0.6), 0.6, 0.6, 0.0, 2.0) for at in np.arange(0, 60, 0.6)
    ]
    there = Box(frame.moved(30.0, 0.5), 0.6, 0.6, 0.0, 2.0)
    index = SolidIndex([*row, there])
    strip = ((0.0, 1e-3, 0.0), (60.0, 1.0, 2.0))
    assert index.near(frame, *strip) == [len(row)]
    assert len(index.touching(*frame.bounds(*strip))) > len(row) / 2
    assert index.near(frame, (0.0, -0.1, 0.0), (60.0, 1.0, 2.0)) == [*range(101)]


def test_a_turned_box_finds_what_has_moved() -> None:
    frame = Frame.facing(0.0, 0.0, 30.0)
    away = Box(frame.moved(9.0, 9.0), 1.0, 1.0, 0.0, 1.0)
    index = SolidIndex([away])
    box = ((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))
    assert index.near(frame, *box) == []
    moved = index.moved({0: Box(frame.moved(0.5, 0.5), 1.0, 1.0, 0.0, 1.0)})
    assert moved.near(frame, *box) == [0]
    assert index.near(frame, *box) == []
