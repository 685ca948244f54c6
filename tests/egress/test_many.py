"""Places that are asked about together, against one after another."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.egress.ground.floor import Floor
from model3d.egress.ground.many import free_each, pieces_each, pieces_of_each
from model3d.geometry.plan import flat
from tests.egress.test_necks import ROOM, WALLS, boxes

Plan = tuple[str, flat.Geometry]
corners = st.tuples(st.integers(-4, 36), st.integers(-4, 28))
areas = st.tuples(corners, st.integers(1, 12), st.integers(1, 12)).map(
    lambda one: flat.box(
        one[0][0] / 4,
        one[0][1] / 4,
        (one[0][0] + one[1]) / 4,
        (one[0][1] + one[2]) / 4,
    )
)


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(
    st.lists(boxes(), max_size=20),
    st.lists(areas, min_size=1, max_size=8),
    st.sampled_from((0.2, 0.61, 1.1)),
)
def test_places_asked_about_together_are_those_of_each(
    standing: list[Plan], asked: list[flat.Polygon], width: float
) -> None:
    floor = Floor(ROOM, (), WALLS, tuple(standing))
    free = free_each(floor, np.array(asked, dtype=object))
    assert [one.wkb for one in free] == [floor.free(one).wkb for one in asked]
    pieces, of = pieces_each(floor, free, width)
    for number, one in enumerate(free.tolist()):
        found = [piece.wkb for piece in pieces[of == number]]
        assert found == [piece.wkb for piece in floor.pieces(one, width)]


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(
    st.lists(boxes(), max_size=20),
    st.lists(st.tuples(areas, st.floats(0.05, 1.5)), min_size=1, max_size=8),
)
def test_each_place_may_be_asked_about_by_its_own_width(
    standing: list[Plan], asked: list[tuple[flat.Polygon, float]]
) -> None:
    floor = Floor(ROOM, (), WALLS, tuple(standing))
    free = free_each(floor, np.array([area for area, _ in asked], dtype=object))
    widths = np.array([width for _, width in asked])
    pieces, of = pieces_of_each(floor, free, widths)
    for number, (one, width) in enumerate(zip(free.tolist(), widths, strict=True)):
        found = [piece.wkb for piece in pieces[of == number]]
        assert found == [piece.wkb for piece in floor.pieces(one, float(width))]
