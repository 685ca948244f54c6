"""The way through a polygon: never outside it, few points, near the shortest.

Source: the shortest way between two points of a polygon runs over its corners; the
graph of all corners that see each other gives its length, a second way (networkx).
"""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import networkx as nx  # type: ignore[import-untyped]
import numpy as np
import pytest
import shapely

from model3d.geometry.plan.way.route import Net
from model3d.geometry.plan.way.string import fewer, tight

NEAR = 1e-6


def hall(seed: int) -> shapely.Polygon:
    draw = np.random.default_rng(seed)
    boxes = []
    for _ in range(14):
        x, y = draw.uniform(0, 8), draw.uniform(0, 6)
        w, d = draw.uniform(0.3, 1.6), draw.uniform(0.3, 1.6)
        box = shapely.box(x, y, x + w, y + d)
        angle = draw.uniform(0, 90) if draw.random() < 0.5 else 0.0
        boxes.append(shapely.affinity.rotate(box, angle))
    free = shapely.box(0, 0, 9, 7).difference(shapely.union_all(boxes))
    return max(shapely.get_parts(free), key=lambda part: part.area)


def ends(plan: shapely.Polygon, seed: int) -> tuple[shapely.Point, shapely.Point]:
    draw = np.random.default_rng(seed)
    found: list[shapely.Point] = []
    while len(found) < 2:
        point = shapely.Point(*draw.uniform(0, 7, 2))
        if plan.contains(point):
            found.append(point)
    return found[0], found[1]


def shortest(plan: shapely.Polygon, start: shapely.Point, end: shapely.Point) -> float:
    grown = plan.buffer(NEAR)
    shapely.prepare(grown)
    corners = [(start.x, start.y), (end.x, end.y)]
    corners += [tuple(c) for c in shapely.get_coordinates(plan).tolist()]
    corners = list(dict.fromkeys(corners))
    graph = nx.Graph()
    graph.add_nodes_from(corners)
    for a, b in combinations(corners, 2):
        if grown.covers(shapely.LineString([a, b])):
            graph.add_edge(a, b, weight=math.dist(a, b))
    length: float = nx.shortest_path_length(graph, corners[0], corners[1], "weight")
    return length


@pytest.mark.parametrize("seed", range(12))
def test_a_way_stays_inside_and_is_short(seed: int) -> None:
    plan = hall(seed)
    start, end = ends(plan, seed)
    (way,) = Net(plan, (end,)).routes((start.x, start.y))
    assert way[0] == (start.x, start.y)
    assert way[-1] == pytest.approx((end.x, end.y))
    assert plan.buffer(NEAR).covers(shapely.LineString(way))
    length = sum(math.dist(a, b) for a, b in pairwise(way))
    least = shortest(plan, start, end)
    assert least - NEAR <= length <= 1.25 * least
    # Every point between is a corner that the way goes round.
    corners = shapely.get_coordinates(plan)
    for point in way[1:-1]:
        assert np.hypot(*(corners - point).T).min() <= NEAR


def test_there_is_a_way_to_each_of_several_goals() -> None:
    plan = shapely.box(0, 0, 10, 1)
    goals = (shapely.Point(9, 0.5), shapely.MultiPoint([(2, 0.5), (0, 0.5)]))
    far, near = Net(plan, goals).routes((4.0, 0.5))
    assert far[-1] == pytest.approx((9, 0.5))
    assert near[-1] == pytest.approx((2, 0.5))


def test_there_is_no_way_from_outside() -> None:
    plan = shapely.box(0, 0, 10, 1)
    assert not [*Net(plan, (shapely.Point(9, 0.5),)).routes((4.0, 3.0))]


def test_a_slit_as_narrow_as_contact_is_passed() -> None:
    left, right = shapely.box(0, 0, 2, 2), shapely.box(3, 0, 5, 2)
    slit = shapely.box(2, 1.0, 3, 1.0002)
    plan = shapely.union_all([left, slit, right])
    (way,) = Net(plan, (shapely.Point(4, 1),)).routes((1.0, 0.5))
    assert plan.buffer(NEAR).covers(shapely.LineString(way))


def test_a_string_is_pulled_tight_on_both_sides() -> None:
    # Left, right, left: a corridor that winds.
    gates = [
        ((1.0, 2.0), (1.0, 1.0)),
        ((2.0, -1.0), (2.0, -2.0)),
        ((3.0, 2.0), (3.0, 1.0)),
    ]
    way = tight((0.0, 0.0), (4.0, 0.0), gates)
    assert way == ((0, 0), (1, 1), (2, -1), (3, 1), (4, 0))


def test_a_round_corner_is_gone_round_by_few_points() -> None:
    disc = shapely.Point(0, 0).buffer(1.0, quad_segs=44)
    plan = shapely.box(-3, -3, 3, 3).difference(disc)
    (way,) = Net(plan, (shapely.Point(2.0, -0.5),)).routes((-2.0, -0.5))
    few = fewer(way, plan)
    assert len(few) < len(way) / 3
    assert plan.buffer(NEAR).covers(shapely.LineString(few))
