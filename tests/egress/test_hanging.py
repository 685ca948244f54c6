"""The leaf of a personnel door: what it leaves clear, and whom it bars.

Source: trigonometry, worked out beside each check; relations that hold in any room.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.egress.ground.ground import ground_of
from model3d.egress.route.doorways import stopped_leaves
from model3d.egress.shut import leave
from model3d.egress.ways import ways_of
from tests.egress.small_rooms import GEAR, box, door, room, square

if TYPE_CHECKING:
    from model3d.egress.doors.door_leaf import Hanging
    from model3d.egress.shut import Leaving
    from model3d.judging.situation import Situation

Plain = dict[str, Any]

WIDE = 0.9
QUICK = settings(deadline=None, max_examples=25, derandomize=True)

# The door is in the north wall of a room 6 m by 4 m, from x = 1.5 to 2.4; who faces it
# from inside has x = 1.5 on the left.
LEFT, RIGHT = 1.5, 2.4


def north(*items: Plain, **keys: object) -> Situation:
    return room(square(6, 4), *items, doors=[door(3, LEFT, WIDE, **keys)])


def mirrored(*items: Plain, **keys: object) -> Situation:
    turned = [one | {"place": {"at": _mirrored(one["place"]["at"])}} for one in items]
    other = {"left": "right", "right": "left"}
    if "hinge" in keys:
        keys["hinge"] = other[str(keys["hinge"])]
    gear = GEAR | {"place": {"at": _mirrored([1.0, 0.1]), "facing": "north"}}
    scene_door = door(3, 6 - RIGHT, WIDE, **keys)
    return room(square(6, 4), *turned, gear | {"id": "X"}, doors=[scene_door])


def _mirrored(at: list[float]) -> list[float]:
    x, y = at
    return [6 - x, y]


def hung(situation: Situation) -> tuple[Hanging, ...]:
    (found,) = ground_of(situation).exits
    return found.hangings


def clear(situation: Situation) -> float:
    (found,) = hung(situation)
    return found.clear


def left_by(situation: Situation, item: str = "LP1") -> Leaving:
    placed = situation.arrangement.items[item]
    return leave(ways_of(situation).stand(placed), situation, 0.61, 2.0)


def test_the_sides_are_those_of_somebody_inside() -> None:
    (one,) = hung(north(opens="in", hinge="left"))
    (leaf,) = one.leaves
    # Somebody who faces north has west on the left.
    assert (leaf.frame.x, leaf.frame.y) == pytest.approx((LEFT, 4.0))
    assert leaf.frame.out == pytest.approx((0.0, -1.0))


@pytest.mark.parametrize("angle", [25, 60, 90, 135, 180])
def test_the_clear_width_is_the_sine_of_the_angle(angle: float) -> None:
    for opens in ("in", "out"):
        found = clear(north(opens=opens, hinge="left", opens_to=angle))
        assert found == pytest.approx(WIDE * math.sin(math.radians(min(angle, 90))))


def test_what_stops_the_leaf_is_told() -> None:
    # The far corner of the box is 0.8 beside the hinge and 0.2 ahead.
    situation = north(box("A", 2.2, 3.7, 0.2, 0.2), opens="in", hinge="left")
    angle = math.atan2(0.2, 0.8)
    assert clear(situation) == pytest.approx(WIDE * math.sin(angle))
    (said,) = stopped_leaves(situation)
    assert f"A stops the leaf of D3 at {math.degrees(angle):.1f} degrees" in said


def test_beyond_a_right_angle_a_leaf_goes_to_what_stops_it() -> None:
    # A box 0.1 off the north wall, 0.5 west of the hinge.
    thing = box("A", 0.9, 3.8, 0.2, 0.2)
    situation = north(thing, opens="in", hinge="left", opens_to=180)
    ((leaf,),) = [one.leaves for one in hung(situation)]
    assert leaf.stop == "A"
    # Its near corner is 0.5 beside the hinge and 0.3 ahead of the wall.
    assert leaf.angle == pytest.approx(90 + math.degrees(math.atan2(0.5, 0.3)))
    assert clear(situation) == pytest.approx(WIDE)


def test_a_door_of_which_nothing_is_said_may_hang_in_three_ways() -> None:
    found = [(one.opens, one.hinge) for one in hung(north())]
    assert found == [("out", "left"), ("in", "left"), ("in", "right")]


def test_one_that_opens_out_all_the_way_may_hang_either_side() -> None:
    assert len(hung(north(opens="out"))) == 1


@pytest.mark.parametrize("angle", [1, 30, 60, 89.9, 90, 135])
def test_the_clear_widths_of_a_pair_add_up(angle: float) -> None:
    by_hand = WIDE * math.sin(math.radians(min(angle, 90)))
    for opens in ("in", "out"):
        situation = north(opens=opens, hinge="pair", opens_to=angle)
        assert clear(situation) == pytest.approx(by_hand)
        # What is drawn of the leaves leaves as much between them.
        (one,) = hung(situation)
        left, right = one.plates(90.0)
        assert left.distance(right) == pytest.approx(by_hand, abs=1e-5)


def test_a_leaf_stands_in_nobodys_way_but_to_its_own_door() -> None:
    # A corridor of 1.0 along the north wall, entered at its east end: the leaf of D3
    # opens across it, the door at its west end is reached all the same.
    screen = box("A", 2.5, 2.95, 5.0, 0.1)
    both = [
        door(3, LEFT, WIDE, opens="in", hinge="right"),
        door(4, 0.05, 0.8, opens="out"),
    ]
    found = left_by(room(square(6, 4), screen, doors=both))
    assert found.path is not None
    assert found.path.way.door == "D4"
    assert found.path.way.narrowest == pytest.approx(0.8)


spots = st.tuples(
    st.floats(1.55, 3.2), st.floats(3.0, 3.75), st.sampled_from(["left", "right"])
)


@pytest.mark.long
@given(spots, st.floats(0.0, 0.5))
@QUICK
def test_to_move_a_thing_off_the_wall_never_leaves_less(
    spot: tuple[float, float, str], by: float
) -> None:
    x, y, hinge = spot
    near = clear(north(box("A", x, y, 0.2, 0.2), opens="in", hinge=hinge))
    far = clear(north(box("A", x, y - by, 0.2, 0.2), opens="in", hinge=hinge))
    assert far >= near - 1e-9


@pytest.mark.long
@given(spots, st.floats(5, 170), st.floats(0, 60))
@QUICK
def test_to_open_further_is_never_worse(
    spot: tuple[float, float, str], angle: float, by: float
) -> None:
    x, y, hinge = spot
    thing = box("A", x, y, 0.2, 0.2)
    less, more = (
        left_by(north(thing, opens="in", hinge=hinge, opens_to=min(to, 180)))
        for to in (angle, angle + by)
    )
    assert _width(more) >= _width(less) - 1e-4
    assert more.enough >= less.enough


@pytest.mark.long
@given(spots, st.sampled_from(["in", "out", None]))
@QUICK
def test_a_mirrored_room_answers_the_same(
    spot: tuple[float, float, str], opens: str | None
) -> None:
    x, y, hinge = spot
    thing = box("A", x, y, 0.2, 0.2)
    keys: Plain = {"hinge": hinge} | ({"opens": opens} if opens else {})
    one, other = left_by(north(thing, **keys)), left_by(mirrored(thing, **keys), "X")
    assert one.enough == other.enough
    assert one.asks == other.asks
    assert _width(one) == pytest.approx(_width(other), abs=1e-4)


@pytest.mark.long
@given(st.floats(0.95, 1.7), st.floats(0.0, 0.4), st.sampled_from([None, 120, 180]))
@QUICK
def test_a_wider_corridor_is_never_worse(
    wide: float, by: float, angle: float | None
) -> None:
    keys: Plain = {"opens": "in", "hinge": "right"}
    keys |= {} if angle is None else {"opens_to": angle}
    narrow, wider = (
        left_by(north(box("A", 2.5, 4 - size - 0.05, 5.0, 0.1), **keys))
        for size in (wide, wide + by)
    )
    assert wider.enough >= narrow.enough
    assert _width(wider) >= _width(narrow) - 1e-4


def _width(found: Leaving) -> float:
    return found.path.way.narrowest if found.path is not None else 0.0
