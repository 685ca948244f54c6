"""Kerbs, platforms, steps and stairs on the way out.

Source: IBC 1011.5.2 for the height of a step, common practice for what can be climbed;
relations that hold in any room.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.egress.ground.levels import CLIMB
from model3d.egress.shut import leave
from model3d.egress.ways import ways_of
from tests.egress.small_rooms import GEAR, box, door, room, square

if TYPE_CHECKING:
    from model3d.egress.shut import Leaving
    from model3d.judging.situation import Situation

Plain = dict[str, Any]

STEP = 0.178
QUICK = settings(deadline=None, max_examples=30, derandomize=True)
DOORS = [door(3, 2.5, 0.9, opens="out")]


def low(name: str, y: float, depth: float, high: float, kind: str = "wall") -> Plain:
    """Return something across the whole room, from y on."""
    size = [6.0, depth, high]
    return box(name, 3.0, y + depth / 2, 6.0, depth) | {"size": size, "kind": kind}


def rank(*items: Plain) -> int:
    """Return how good the way out is: none, asked about, or a way."""
    found = left_by(room(square(6, 4), *items, doors=DOORS))
    return 0 if not found.enough else 1 if found.asks else 2


def left_by(situation: Situation, name: str = "LP1") -> Leaving:
    item = situation.arrangement.items[name]
    return leave(ways_of(situation).stand(item), situation, 0.61, 2.0)


@pytest.mark.parametrize(
    ("high", "expected"), [(STEP, 2), (STEP + 0.001, 1), (CLIMB, 1), (CLIMB + 0.001, 0)]
)
@pytest.mark.parametrize("kind", ["wall", "platform", "obstacle", "storage"])
def test_a_kerb_is_a_step_or_climbed_or_in_the_way(
    high: float, expected: int, kind: str
) -> None:
    assert rank(low("A", 2.0, 0.2, high, kind)) == expected


def test_the_height_of_each_riser_is_told() -> None:
    things = [low("A", 2.0, 0.3, 0.3), low("B", 3.0, 0.3, 0.4)]
    found = left_by(room(square(6, 4), *things, doors=DOORS))
    assert "A, 300 mm" in found.asks
    assert "B, 400 mm" in found.asks


def test_a_riser_counts_from_the_level_before_it() -> None:
    steps = [low(f"S{n}", 1.5 + 0.3 * n, 0.3, 0.15 * (n + 1)) for n in range(3)]
    down = [low(f"T{n}", 2.4 + 0.3 * n, 0.3, 0.15 * (2 - n)) for n in range(2)]
    assert rank(*steps, *down) == 2
    # Without the middle step on the way up the last one is two risers at once.
    assert rank(steps[0], steps[2], *down) == 1


def test_what_lies_on_a_step_hangs_from_its_height() -> None:
    # 2.3 above the floor is 2.0 above a platform of 0.3, but not above one of 0.31.
    for high, enough in ((0.3, True), (0.31, False)):
        beam = box("B", 3.0, 2.2, 6.0, 0.2) | {"size": [6.0, 0.2, 0.2]}
        beam["place"] = beam["place"] | {"bottom": 2.3}
        step = [low("S", 1.7, 0.3, high / 2), low("T", 2.3, 0.3, high / 2)]
        situation = room(
            square(6, 4), beam, low("P", 2.0, 0.3, high), *step, doors=DOORS
        )
        assert left_by(situation).enough is enough


@pytest.mark.long
@given(st.floats(0.51, 4.0), st.floats(0.0, 1.0))
@QUICK
def test_nobody_is_known_to_leave_a_platform_that_nothing_leads_to(
    top: float, share: float
) -> None:
    gear: Plain = {**GEAR, "id": "LP2"}
    gear["place"] = gear["place"] | {"bottom": top}
    deck = low("P", 0.0, 1.5, max(top * share, 0.01), "platform")
    deck["place"] = deck["place"] | {"bottom": top - deck["size"][2]}
    situation = room(square(6, 4), gear, deck, doors=DOORS, height=8.0)
    assert left_by(situation, "LP2").asks


highs = st.floats(0.05, 0.7)
kinds = st.sampled_from(["wall", "platform", "obstacle", "storage"])


@pytest.mark.long
@given(highs, st.floats(0.1, 1.0), st.floats(0.02, 0.6), kinds)
@QUICK
def test_to_lower_a_kerb_is_never_worse(
    high: float, share: float, depth: float, kind: str
) -> None:
    before = rank(low("A", 2.0, depth, high, kind))
    assert rank(low("A", 2.0, depth, high * share, kind)) >= before


@pytest.mark.long
@given(st.floats(0.1, 0.7), st.floats(0.1, 0.7), st.floats(0.05, 0.5), kinds)
@QUICK
def test_to_add_a_step_is_never_worse(
    high: float, share: float, depth: float, kind: str
) -> None:
    kerb = low("A", 2.0, 0.3, high, kind)
    before = rank(kerb)
    one = low("S", 2.0 - depth, depth, high * share, "platform")
    other = low("T", 2.3, depth, high * share, "platform")
    assert rank(kerb, one) >= before
    assert rank(kerb, one, other) >= before
