"""The free floor, its exits and the necks of ways on it.

Source: plain geometry, worked out by hand beside each check; common practice for what a
person can pass.
"""

from __future__ import annotations

import math

import pytest
import shapely

from model3d.egress.doors.exits import OPEN_GROUND
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.search import passes, widest_way
from model3d.egress.ways import ways_of
from tests.egress.small_rooms import box, door, room, square

WIDTH, HEIGHT = 0.61, 2.0


def test_the_free_floor_is_the_room_less_what_stands_there() -> None:
    floor = room(square(6, 4), box("A", 4, 2, 1, 1), doors=[door(2, 1, 0.9)])
    free = ways_of(floor).floor(HEIGHT).free(shapely.box(0, 0, 6, 4))
    assert free.area == pytest.approx(24 - 1 - 0.8 * 0.2)


def test_a_persons_middle_keeps_half_a_width_off() -> None:
    floor = ways_of(room(square(6, 4), doors=[door(2, 1, 0.9)])).floor(HEIGHT)
    (part,) = floor.parts(WIDTH)
    inside = part.place.intersection(shapely.box(0, 0, 6, 4))
    west, south, _, north = inside.bounds
    assert (west, south, north) == pytest.approx((0.305, 0.305, 4 - 0.305))
    assert [one.id for one in part.exits] == ["D2"]


@pytest.mark.parametrize(("gap", "through"), [(0.61, True), (0.6097, False)])
def test_contact_on_both_sides_is_clear(gap: float, *, through: bool) -> None:
    wall = 4 - gap
    situation = room(
        square(6, 4), box("A", 3, wall / 2, 0.2, wall), doors=[door(2, 1, 0.9)]
    )
    floor = ways_of(situation).floor(HEIGHT)
    start = shapely.box(0.5, 2, 1.5, 3)
    assert passes(floor, start, WIDTH) is through


def test_a_door_that_is_too_low_is_no_exit() -> None:
    doors = [door(2, 1, 0.9, height=1.9)]
    ways = ways_of(room(square(6, 4), doors=doors))
    assert ways.floor(2.0).exits == ()
    assert [one.id for one in ways.floor(1.9).exits] == ["D2"]


def test_a_door_leads_out_and_not_into_the_rooms_other_arm() -> None:
    # A U: the gap between its arms is 0.5 m, and the door of the west arm opens there.
    outline: list[list[float]] = [[0, 0], [5, 0], [5, 4], [2.75, 4]]
    outline += [[2.75, 1.5], [2.25, 1.5], [2.25, 4], [0, 4]]
    doors = [door(6, 0.5, 0.9)]
    floor = ways_of(room(outline, box("A", 2.5, 0.75, 0.3, 1.5), doors=doors)).floor(
        HEIGHT
    )
    east = shapely.box(3.5, 2, 4.5, 3)
    assert not passes(floor, east, 0.3)
    # Nor is the gap a way out for somebody of the way's width.
    west = shapely.box(0.5, 2, 1.5, 3)
    assert not passes(floor, west, WIDTH)


def test_a_place_without_bounds_is_left_everywhere() -> None:
    situation = room(square(6, 4), use="outdoor", room=None)
    floor = ways_of(situation).floor(HEIGHT)
    assert [one.id for one in floor.exits] == [OPEN_GROUND]
    area = shapely.box(0.5, 0.5, 1.5, 1.0)
    path = widest_way(floor, area, (1.0, 0.7), WIDTH)
    assert path is not None
    assert path.way.door == OPEN_GROUND


def test_the_way_lies_on_the_floor_shrunk_by_half_the_width() -> None:
    boxes = [box("A", 2.2, 2, 0.4, 2.4), box("B", 3.6, 2.6, 0.4, 2.8)]
    situation = room(square(6, 4), *boxes, doors=[door(2, 1, 0.9)])
    floor = ways_of(situation).floor(HEIGHT)
    path = widest_way(floor, shapely.box(0.5, 0.5, 1.5, 1.0), (1.0, 0.7), WIDTH)
    assert path is not None
    place = floor.middles.shrunk(WIDTH - CONTACT).buffer(1e-6)
    assert place.covers(shapely.LineString(path.way.points))


def test_the_neck_is_between_what_is_nearest_on_both_sides() -> None:
    # Two corners, 0.4 across and 0.5 along from each other.
    boxes = [box("A", 2.0, 3.0, 0.4, 2.0), box("B", 2.9, 0.8, 0.4, 1.6)]
    situation = room(square(6, 4), *boxes, doors=[door(2, 1, 0.9)])
    floor = ways_of(situation).floor(HEIGHT)
    path = widest_way(floor, shapely.box(0.5, 0.5, 1.5, 1.0), (1.0, 0.7), WIDTH)
    assert path is not None
    gap = math.hypot(2.9 - 0.2 - 2.2, 2.0 - 1.6)
    assert path.way.narrowest == pytest.approx(gap)
    assert path.neck.between == ("A", "B")
    assert path.way.at == pytest.approx((2.45, 1.8), abs=0.02)


def test_a_neck_between_parallel_faces_is_found_wherever_the_way_is() -> None:
    # A corridor of 0.7 along the whole room, entered in its middle.
    boxes = [box("A", 1.4, 1.7, 2.8, 0.2), box("B", 4.9, 1.7, 2.2, 0.2)]
    boxes += [box("C", 3.0, 2.6, 6.0, 0.2)]
    situation = room(square(6, 4), *boxes, doors=[door(2, 1.5, 0.7)])
    floor = ways_of(situation).floor(HEIGHT)
    path = widest_way(floor, shapely.box(0.5, 0.5, 1.5, 1.0), (1.0, 0.7), WIDTH)
    assert path is not None
    assert path.way.narrowest == pytest.approx(0.7)


@pytest.mark.parametrize("widths", [(0.5, 0.4), (0.4, 0.5)])
def test_the_widest_of_two_ways_is_taken(widths: tuple[float, float]) -> None:
    # A screen across the room leaves a gap at either end.
    low, high = widths
    screen = box("S", 3.0, low + (4 - low - high) / 2, 0.2, 4 - low - high)
    situation = room(square(6, 4), screen, doors=[door(2, 1, 0.9)])
    floor = ways_of(situation).floor(HEIGHT)
    path = widest_way(floor, shapely.box(0.5, 0.5, 1.5, 1.0), (1.0, 0.7), WIDTH)
    assert path is not None
    assert path.way.narrowest == pytest.approx(0.5)


def test_where_one_stands_may_be_the_narrowest() -> None:
    # A niche of 0.5 in which the person stands, before a gap of 0.8.
    boxes = [box("A", 0.25, 1.5, 0.5, 2.0), box("B", 1.25, 1.5, 0.5, 2.0)]
    situation = room(square(6, 4), *boxes, doors=[door(2, 1, 0.9)])
    floor = ways_of(situation).floor(HEIGHT)
    niche = floor.free(shapely.box(0.5, 1.0, 1.0, 1.5))
    path = widest_way(floor, niche, (0.75, 1.2), WIDTH)
    assert path is not None
    assert path.way.narrowest == pytest.approx(0.5, abs=2e-4)


def test_nobody_comes_through_less_than_a_body() -> None:
    screen = box("S", 3.0, 1.91, 0.2, 3.82)
    situation = room(square(6, 4), screen, doors=[door(2, 1, 0.9)])
    floor = ways_of(situation).floor(HEIGHT)
    start = shapely.box(0.5, 0.5, 1.5, 1.0)
    assert widest_way(floor, start, (1.0, 0.7), WIDTH) is None
    path = widest_way(floor, start, (1.0, 0.7), WIDTH, 0.01)
    assert path is not None
    assert path.way.narrowest == pytest.approx(0.18)
