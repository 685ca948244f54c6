"""The ways out of points, against the long way."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.egress.ground.floor import Floor
from model3d.egress.ground.necks import necks as searched
from model3d.egress.ground.necks.spans import Rows
from model3d.geometry.plan import flat
from tests.egress.test_necks import ROOM, WALLS, boxes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.ground.necks.necks import Necks

Plan = tuple[str, flat.Geometry]
places = st.tuples(
    # Many at the height of corners, where a ray passes through the ends of necks.
    st.integers(-2, 40).map(lambda n: n / 4),
    st.integers(-2, 32).map(lambda n: n / 4),
)


def first_ring(necks: Necks, at: tuple[float, float]) -> float:
    """Return the width of the narrowest ring about a point: each is put together."""
    x, y = at
    odd = []
    for line in necks.lines:
        times = 0
        for (ax, ay), (bx, by) in pairwise(line.tolist()):
            if (ay > y) != (by > y):
                times += x < ax + (y - ay) * (bx - ax) / (by - ay)
        odd.append(times % 2)
    # By the parity to its root: the first neck that does not fit closes an odd ring.
    root, parity = list(range(necks.bodies)), [0] * necks.bodies

    def top(one: int) -> tuple[int, int]:
        total = 0
        while root[one] != one:
            total ^= parity[one]
            one = root[one]
        return one, total

    for (a, b), crossed, width in zip(
        necks.pairs.tolist(), odd, necks.widths.tolist(), strict=True
    ):
        (one, here), (other, there) = top(a), top(b)
        if one != other:
            root[one], parity[one] = other, here ^ there ^ crossed
        elif here ^ there ^ crossed:
            return float(width)
    return float("inf")


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.lists(boxes(), min_size=3, max_size=20), st.lists(places, min_size=1))
def test_the_way_out_is_as_wide_as_the_narrowest_ring_about_a_point(
    standing: list[Plan], asked: list[tuple[float, float]]
) -> None:
    necks = Floor(ROOM, (), WALLS, tuple(standing)).necks
    expected = [first_ring(necks, at) for at in asked]
    found = necks._ways_out(np.array(asked))  # noqa: SLF001 - nothing remembered
    assert found.tolist() == expected


def test_rings_that_are_looked_at_some_at_a_time_are_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    crowd = [("B", flat.box(x, y, x + 0.3, y + 0.4)) for x in range(9) for y in (1, 5)]
    necks = Floor(ROOM, (), WALLS, tuple(crowd)).necks
    spots = np.random.default_rng(1).uniform((0, 0), (9, 7), (50, 2))
    together = necks._ways_out(spots)  # noqa: SLF001
    assert len(set(together.tolist())) > 2
    monkeypatch.setattr(searched, "_SOME", 3)
    assert necks._ways_out(spots).tolist() == together.tolist()  # noqa: SLF001


def test_points_of_a_line_to_the_east_are_told_like_each_by_itself() -> None:
    # More than are asked about together, many of them equally far north or the same.
    crowd = [("B", flat.box(x, y, x + 0.3, y + 0.4)) for x in range(9) for y in (1, 5)]
    necks = Floor(ROOM, (), WALLS, tuple(crowd)).necks
    random = np.random.default_rng(2)
    spots = np.stack([random.uniform(0, 9, 150), random.integers(0, 5, 150)], axis=1)
    spots[30] = spots[20]
    found = necks._ways_out(spots).tolist()  # noqa: SLF001 - nothing remembered
    assert found == [first_ring(necks, at) for at in spots.tolist()]
    assert len(set(found)) > 2


def test_the_nearest_neck_is_the_first_of_equally_near_ones(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # All alike, and some ways halfway between two of them.
    crowd = [("B", flat.box(x, y, x + 0.3, y + 0.4)) for x in range(9) for y in (1, 5)]
    necks = Floor(ROOM, (), WALLS, tuple(crowd)).necks
    lines = flat.linestrings(necks.lines[:, 1:3])
    ways = [
        flat.LineString([(x, y), (x, y), (x + 1, y + along)])
        for x in np.arange(0.15, 8, 0.5).tolist()
        for y in (0.5, 1.2, 3.2)
        for along in (0.0, 0.7)
    ]
    monkeypatch.setattr(searched, "_FEW", 1)
    for first, last in ((0, len(lines)), (3, 12), (5, 6)):
        for way in ways:
            away = flat.distance(lines[first:last], way)
            assert necks.nearest(way, first, last) == first + int(away.argmin())


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.lists(boxes(), min_size=3, max_size=20), st.lists(places, min_size=2))
def test_along_a_line_the_way_out_of_each_point_is_its_own(
    standing: list[Plan], corners: list[tuple[float, float]]
) -> None:
    necks = Floor(ROOM, (), WALLS, tuple(standing)).necks
    # Past each corner by steps of no round length: where a line of a neck is met
    # exactly, from which side it counts is a matter of rounding.
    along = np.arange(0.0137, 6.0, 0.03)[:, None] * (0.83, 0.557)
    spots = np.concatenate([np.array(one) + along for one in corners])
    alone = necks._ways_out(spots)  # noqa: SLF001 - nothing remembered
    assert necks.ways_out(spots).tolist() == alone.tolist()


def test_along_a_line_few_points_are_walked_round(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    crowd = [("B", flat.box(x, y, x + 0.3, y + 0.4)) for x in range(9) for y in (1, 5)]
    crowd.append(("B", flat.box(3.0, 0.0, 3.1, 0.6)))
    necks = Floor(ROOM, (), WALLS, tuple(crowd)).necks
    walked: list[int] = []
    walk = type(necks)._ways_out  # noqa: SLF001 - what is spared

    def counted(self: Necks, spots: NDArray[np.float64]) -> NDArray[np.float64]:
        walked.append(len(spots))
        return walk(self, spots)

    monkeypatch.setattr(type(necks), "_ways_out", counted)
    line = np.stack([np.arange(0.01, 9.0, 0.02), np.full(450, 0.9)], axis=1)
    assert len(set(necks.ways_out(line).tolist())) > 1
    assert sum(walked) < len(line) / 10


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-50, 1e5), st.floats(-50, 90)), max_size=30),
    st.lists(st.floats(-60, 2e5), max_size=10),
)
def test_no_span_that_holds_a_place_is_missed(
    spans: list[tuple[float, float]], asked: list[float]
) -> None:
    ends = np.array(spans).reshape(-1, 2)
    place, span = Rows(ends[:, 0], ends[:, 1]).at(np.array(asked, dtype=float))
    found = set(zip(place.tolist(), span.tolist(), strict=True))
    assert len(found) == len(span)
    for number, at in enumerate(asked):
        for one, (low, high) in enumerate(np.sort(ends, axis=1).tolist()):
            if low <= at <= high:
                assert (number, one) in found
