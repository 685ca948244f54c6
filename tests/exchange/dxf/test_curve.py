"""Arcs as lines keep to one side, near the arc; rings keep what they enclose."""

from __future__ import annotations

import math

import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from model3d.exchange.dxf.file.curve import TOLERANCE, area, bulged, flat
from model3d.exchange.dxf.file.loops import joined
from model3d.geometry.bodies.solid import volume
from model3d.geometry.plan.lines.enclosed import (
    Area,
    areas_of,
    bands,
    box_around,
    upright,
)

BULGE = st.floats(-1.5, 1.5).filter(lambda one: abs(one) > 0.01)
LENGTH = st.floats(0.1, 20.0)


@given(BULGE, LENGTH, LENGTH)
def test_lines_keep_to_one_side_of_an_arc(
    bulge: float, width: float, depth: float
) -> None:
    # A rectangle whose upper side is an arc that does not reach the lower one.
    assume(abs(bulge) * width / 2 < depth * 0.9)
    assume(abs(bulge) < 1 or bulge > 0)
    corners = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
    edges = [
        bulged(one, other, bulge if number == 2 else 0.0)
        for number, (one, other) in enumerate(
            zip(corners, [*corners[1:], corners[0]], strict=True)
        )
    ]
    # The segment between chord and arc, by the formula of the circular segment.
    angle = 4 * math.atan(abs(bulge))
    radius = width / 2 / math.sin(angle / 2)
    part = radius**2 / 2 * (angle - math.sin(angle))
    true = width * depth + math.copysign(part, bulge)
    outer, inner = (area(flat(edges, outward=way)) for way in (True, False))
    assert inner <= true + 1e-9 <= outer + 2e-9
    length = abs(radius * angle)
    assert outer - inner <= 2.2 * TOLERANCE * length + 1e-9


@given(st.permutations(range(5)), st.lists(st.booleans(), min_size=5, max_size=5))
def test_pieces_make_a_ring_in_any_order(order: list[int], back: list[bool]) -> None:
    corners = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 3.0), (0.0, 2.0)]
    pieces = [
        bulged(one, other, 0.0)
        for one, other in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    chains = [
        (pieces[n].back() if turn else pieces[n],)
        for n, turn in zip(order, back, strict=True)
    ]
    (loop,), left = joined(chains)
    assert not left
    assert abs(area(flat(loop.edges, outward=True))) == area(corners)


def test_where_three_lines_meet_none_is_joined() -> None:
    corners = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)]
    chains = [
        (bulged(one, other, 0.0),)
        for one, other in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    loops, left = joined([*chains, (bulged(corners[0], corners[2], 0.0),)])
    assert not loops
    assert len(left) == 5


@given(st.floats(0, 360), LENGTH, LENGTH, st.floats(-1e6, 1e6))
def test_a_rectangle_is_found_at_any_angle(
    degrees: float, width: float, depth: float, far: float
) -> None:
    angle = math.radians(degrees)
    u, v = (math.sin(angle), math.cos(angle)), (math.cos(angle), -math.sin(angle))
    ring = [
        (far + a * u[0] + b * v[0], a * u[1] + b * v[1])
        for a, b in ((0, 0), (0, depth), (width, depth), (width, 0))
    ]
    if area(ring) < 0:
        ring.reverse()
    box = box_around(Area(tuple(ring)))
    assert box.exact
    off = (degrees - box.bearing) % 90
    sides = sorted(box.sides)
    assert min(off, 90 - off) * math.radians(1) * max(width, depth) < 1e-4
    for one, other in zip(sides, sorted((width, depth)), strict=True):
        assert abs(one - other) < 1e-4


@given(st.floats(0.05, 0.5), st.floats(0.5, 4.0))
def test_a_ring_of_walls_is_a_closed_body_with_a_hole(
    thick: float, high: float
) -> None:
    corners = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (3.0, 5.0), (0.0, 4.0)]
    (ring,) = bands(corners, thick, closed=True)
    assert len(ring.holes) == 1
    body = upright(ring, 0.0, high)
    assert body.closed
    outer, hole = shapely.Polygon(ring.outer), shapely.Polygon(ring.holes[0])
    assert math.isclose(volume(body), (outer.area - hole.area) * high, rel_tol=1e-9)


def test_a_ring_that_crosses_itself_keeps_all_that_it_encloses() -> None:
    found = areas_of([(0, 0), (2, 2), (2, 0), (0, 2)])
    assert sum(one.size for one in found) == 2
