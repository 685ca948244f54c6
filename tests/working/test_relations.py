"""What must hold of the working space, however a room is changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

pytestmark = pytest.mark.many

Plain = dict[str, Any]
BEST: Final = ("met", "open", "not-met")
WIDE: Final = 6000
KINDS: Final = ("storage", "duct", "wall", "column", "wireway", "obstacle", "machine")
WALLS: Final = st.sampled_from(["concrete", "gypsum"])
SYSTEMS: Final = st.sampled_from(["208Y/120", "480Y/277"])
BOXES: Final = st.lists(
    st.tuples(
        st.sampled_from(KINDS),
        st.tuples(st.integers(50, 900), st.integers(50, 500), st.integers(100, 2500)),
        st.tuples(st.integers(1000, 4000), st.integers(1500, 3800)),
        st.integers(0, 2100),
    ),
    max_size=4,
)
Boxes = list[tuple[str, tuple[int, int, int], tuple[int, int], int]]


def judged(
    items: list[Plain],
    system: str,
    walls: str,
    *,
    deep: float = 4000,
    panel: Plain | None = None,
    measures: str = "either",
) -> Judgement:
    """Judge a panelboard on the north wall of a room that is so deep."""
    gear: Plain = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "north", "along": 2000, "bottom": 900},
        "supply": {"system": system, "amps": 100},
        "door": "bolted",
    }
    gear |= panel or {}
    room = {"size": [WIDE, deep], "height": 3000, "walls": walls}
    written: Plain = {"title": "Room", "units": "mm", "rules": "nec-2023", "room": room}
    written |= {"measures": measures, "items": [gear, *items]}
    scene = Scene.model_validate(written)
    (found,) = check(scene).of("LP1", "working-space")
    return found


def boxes(drawn: Boxes, north: float = 4000) -> list[Plain]:
    """Write boxes down, as far from the north wall as they were drawn from 4000."""
    return [
        {
            "id": f"B{number}",
            "kind": kind,
            "size": list(size),
            "place": {"at": [x, y + north - 4000], "bottom": bottom},
        }
        for number, (kind, size, (x, y), bottom) in enumerate(drawn)
    ]


@settings(max_examples=40, deadline=None)
@given(st.integers(500, 2500), st.integers(1, 500), SYSTEMS, WALLS)
def test_a_wider_aisle_is_never_worse_and_its_margin_grows_by_as_much(
    aisle: int, more: int, system: str, walls: str
) -> None:
    gear = {
        "id": "M2",
        "kind": "switchboard",
        "size": [2000, 600, 2150],
        "place": {"wall": "south", "along": 3000},
        "supply": {"system": "480Y/277", "amps": 800},
        "door": "bolted",
    }
    near, far = (
        judged([gear], system, walls, deep=750 + wide, measures="si")
        for wide in (aisle, aisle + more)
    )
    assert BEST.index(far.verdict) <= BEST.index(near.verdict)
    assert near.condition == far.condition == 3
    for one, wide in ((near, aisle), (far, aisle + more)):
        left = wide / 1000 - one.required["depth"]
        assert abs(one.provided["depth"] - wide / 1000) < 1e-6
        assert one.margin is not None
        # Above what the height leaves over the depth decides no more.
        assert abs(one.margin - min(left, 1.0)) < 1e-6


@settings(max_examples=40, deadline=None)
@given(BOXES, SYSTEMS, WALLS, st.integers(0, 3))
def test_taking_a_thing_away_is_never_worse(
    drawn: Boxes, system: str, walls: str, number: int
) -> None:
    # Structure and gear may hide what is behind them: taking those away may be worse.
    items = boxes(drawn)
    whole = judged(items, system, walls)
    loose = [one for one in items if one["kind"] in {"storage", "duct", "machine"}]
    if loose:
        gone = loose[number % len(loose)]
        less = judged([one for one in items if one is not gone], system, walls)
        assert BEST.index(less.verdict) <= BEST.index(whole.verdict)


@settings(max_examples=40, deadline=None)
@given(BOXES, SYSTEMS, WALLS)
def test_a_mirrored_room_answers_the_same(
    drawn: Boxes, system: str, walls: str
) -> None:
    one = judged(boxes(drawn), system, walls)
    mirrored: Boxes = [
        (kind, size, (WIDE - x, y), bottom) for kind, size, (x, y), bottom in drawn
    ]
    place = {"wall": "north", "along": WIDE - 2500, "bottom": 900}
    other = judged(boxes(mirrored), system, walls, panel={"place": place})
    assert one.verdict == other.verdict
    assert one.condition == other.condition
    assert one.required == other.required
    assert {k: round(v, 6) for k, v in one.provided.items()} == {
        k: round(v, 6) for k, v in other.provided.items()
    }


@settings(max_examples=40, deadline=None)
@given(BOXES, SYSTEMS, WALLS, st.floats(0.2, 0.8))
def test_a_box_in_two_pieces_is_the_same_box(
    drawn: Boxes, system: str, walls: str, share: float
) -> None:
    whole = judged(boxes(drawn), system, walls)
    pieces = []
    for item in boxes(drawn):
        (width, depth, height), (x, y) = item["size"], item["place"]["at"]
        left = round(width * share)
        for name, wide, at in (
            ("a", left, x - width / 2 + left / 2),
            ("b", width - left, x + left / 2),
        ):
            place = {"at": [at, y], "bottom": item["place"]["bottom"]}
            size = [wide, depth, height]
            pieces.append(
                item | {"id": item["id"] + name, "size": size, "place": place}
            )
    split = judged(pieces, system, walls)
    assert split.verdict == whole.verdict
    assert split.condition == whole.condition
    assert split.margin is not None
    assert whole.margin is not None
    assert abs(split.margin - whole.margin) < 1e-6


@settings(max_examples=40, deadline=None)
@given(BOXES, SYSTEMS, WALLS)
def test_either_system_is_never_worse_than_one(
    drawn: Boxes, system: str, walls: str
) -> None:
    items = boxes(drawn)
    either = judged(items, system, walls)
    for measures in ("si", "inch-pound"):
        one = judged(items, system, walls, measures=measures)
        assert BEST.index(either.verdict) <= BEST.index(one.verdict)
