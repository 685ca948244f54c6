"""Aisles between open leaves against a formula by hand.

Two line-ups face each other across an aisle, units of 1000 mm, the leaves of each pair
of units hinged in one plane, so that they stand tip to tip: of the aisle their widths
are lost. Somebody between two such pairs leaves past those to the west or those to the
east. The front's figure is the least of all places before it.

Source: NEC 2023 110.26(C), 610 mm (24 in) with any equipment doors open; subtraction.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

Plain = dict[str, Any]
Pairs = list[tuple[int, int]]

LEAVES = st.one_of(st.just(0), st.integers(250, 800))
PAIRS = st.lists(st.tuples(LEAVES, LEAVES), min_size=1, max_size=4)
DOORS = st.sampled_from([("west",), ("east",), ("west", "east")])
LONG, UNIT, FIRST, DEEP = 10000, 1000, 2000, 600
FAR = 1000
"""Between leaves of different pairs there is as much at least: more is not compared."""
LEAST = 609.6
"""24 in, the lesser of the two printed figures."""


def scene(aisle: int, pairs: Pairs, hinge: str, doors: tuple[str, ...]) -> Scene:
    """Return the room; ``hinge`` is that of the north row's leaves."""
    other = {"left": "right", "right": "left"}[hinge]
    items = []
    for number, leaves in enumerate(pairs):
        west = FIRST + number * UNIT
        alongs = (west, LONG - west - UNIT)
        for wall, along, width, side in zip(
            ("north", "south"), alongs, leaves, (hinge, other), strict=True
        ):
            unit: Plain = {"id": f"{wall}{number}", "kind": "switchgear"}
            unit |= {"size": [UNIT, DEEP, 2150], "rear": "bolted"}
            unit |= {"place": {"wall": wall, "along": along}}
            unit |= {"supply": {"system": "480Y/277", "amps": 400}}
            leaf: Plain = {"hinge": side, "width": width, "sill": 100, "height": 1900}
            leaf |= {"offset": 0 if side == "left" else UNIT - width}
            items.append(unit | ({"doors": [leaf]} if width else {"door": "bolted"}))
    ways = [
        {"id": wall, "wall": wall, "along": DEEP, "width": aisle, "height": 2100}
        | {"opens": "out"}
        for wall in doors
    ]
    room = {"size": [LONG, 2 * DEEP + aisle], "height": 3000, "doors": ways}
    written: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
    return Scene.model_validate(written | {"room": room, "items": items})


def left(aisle: int, pairs: Pairs, hinge: str, doors: tuple[str, ...]) -> float:
    """Return by hand what open leaves leave of the way out, millimetres."""
    clear = [max(0, aisle - one - other) for one, other in pairs]
    # The last pair of leaves stands at the end of the rows: nobody is beyond it.
    places = range(len(clear)) if hinge == "right" else range(1, len(clear) + 1)
    found = []
    for place in places:
        sides = {"west": clear[:place], "east": clear[place:]}
        found.append(max(min(sides[wall], default=aisle) for wall in doors))
    return min(found)


@pytest.mark.long
@settings(deadline=None, max_examples=30, derandomize=True)
@given(
    aisle=st.integers(850, 2600),
    pairs=PAIRS,
    hinge=st.sampled_from(["left", "right"]),
    doors=DOORS,
)
def test_what_open_leaves_leave_of_an_aisle(
    aisle: int, pairs: Pairs, hinge: str, doors: tuple[str, ...]
) -> None:
    by_hand = left(aisle, pairs, hinge, doors)
    judged = [
        one
        for one in check(scene(aisle, pairs, hinge, doors)).judgements
        if one.requirement == "entrance"
    ]
    assert len(judged) == 2 * len(pairs)
    for one in judged:
        assert one.verdict == ("met" if by_hand >= LEAST else "not-met")
        found = one.provided.get("width", 0.0) * 1000
        assert abs(min(found, FAR) - min(by_hand, FAR)) < 0.11


@pytest.mark.long
def test_a_single_leaf_has_a_free_side_in_every_aisle() -> None:
    """People leave by the side to which it opens: no aisle takes that from them.

    The working space, 762 mm, is wider than the panel: behind the leaf somebody has
    room in it where just under 610 mm are left past the leaf. Nobody works there.
    """
    for aisle in (950, 1080, 1085, 1100, 1109, 1115, 1500):
        panel: Plain = {"id": "LP1", "kind": "panelboard", "size": [500, 150, 900]}
        panel |= {"place": {"wall": "north", "along": 2500, "bottom": 900}}
        panel |= {"supply": {"system": "208Y/120", "amps": 225}, "door": "left"}
        door: Plain = {"id": "D", "wall": "east", "along": 0}
        door |= {"width": 914, "height": 2100, "opens": "out"}
        room = {"size": [6000, 150 + aisle], "height": 3000, "doors": [door]}
        written: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
        whole = Scene.model_validate(written | {"room": room, "items": [panel]})
        (found,) = check(whole).of("LP1", "entrance")
        assert found.verdict == "met", aisle
        assert found.provided["width"] == pytest.approx(0.914), aisle


@pytest.mark.long
@pytest.mark.parametrize("west", [2100, 2250])
def test_a_leaf_that_faces_another_takes_its_free_side_in_no_aisle(west: int) -> None:
    """Both leaves open away from the one exit's other side: nobody is between them.

    Their tips are nearer than 610 mm in some of these aisles. Who is west of them there
    is before no front, but by the little that the place leans over its end.
    """
    for aisle in range(1360, 1460, 4):
        north: Plain = {"id": "N1", "kind": "switchboard", "size": [450, 600, 2000]}
        north |= {"place": {"at": [2225, 900 + aisle], "facing": "south"}}
        north |= {"doors": [{"hinge": "left", "width": 450, "height": 1800}]}
        south: Plain = {"id": "S1", "kind": "switchboard", "size": [350, 600, 2000]}
        south |= {"place": {"at": [west + 175, 300], "facing": "north"}}
        south |= {"doors": [{"hinge": "right", "width": 350, "height": 1800}]}
        supply = {"supply": {"system": "208Y/120", "amps": 400}, "rear": "bolted"}
        door: Plain = {"id": "D", "wall": "east", "along": 600}
        door |= {"width": 900, "height": 2100, "opens": "out"}
        room = {"size": [6000, 1200 + aisle], "height": 3000, "doors": [door]}
        written: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
        items = [north | supply, south | supply]
        whole = Scene.model_validate(written | {"room": room, "items": items})
        for judged in check(whole).judgements:
            if judged.requirement == "entrance":
                assert judged.verdict == "met", (aisle, judged.subject)
                assert judged.provided["width"] == pytest.approx(0.9)


@pytest.mark.long
@pytest.mark.parametrize("firm", [False, True])
@pytest.mark.parametrize(("leaf", "apart"), [(280, 590), (250, 590), (200, 600)])
def test_a_pocket_that_nobody_fits_into_is_no_reason_to_pass(
    leaf: int, apart: int, *, firm: bool
) -> None:
    """A leaf that all but bars the aisle, and a short one that faces it, staggered.

    Who is before the short one comes out between both, through as much as they stand
    apart. In the narrow aisles nobody as wide as that fits behind their edges. It is
    the same before a board without leaves beside one that stands out as far (``firm``).
    """
    before, order = ("not-met", 0.0), ("not-met", "open", "met")
    for aisle in range(1000, 1400, 20):
        north: Plain = {"id": "N1", "kind": "switchboard", "size": [1200, 600, 2000]}
        north |= {"place": {"at": [3000, 900 + aisle], "facing": "south"}}
        north |= {"doors": [{"hinge": "left", "width": 900, "height": 1800}]}
        south: Plain = {"id": "S1", "kind": "switchboard", "size": [890, 600, 2000]}
        south |= {"place": {"at": [2400 + apart - 445, 300], "facing": "north"}}
        edge: Plain = {"hinge": "left", "width": leaf, "height": 1800}
        south |= {"door": "bolted"} if firm else {"doors": [edge]}
        supply = {"supply": {"system": "208Y/120", "amps": 400}, "rear": "bolted"}
        deep = 600 + leaf
        beside: Plain = {"id": "S2", "kind": "pull-box", "size": [600, deep, 2000]}
        beside |= {"place": {"at": [2700 + apart, deep / 2], "facing": "north"}}
        ways = [
            {"id": wall, "wall": wall, "along": 600, "width": 900, "height": 2100}
            | {"opens": "out"}
            for wall in ("west", "east")
        ]
        room = {"size": [6000, 1200 + aisle], "height": 3000, "doors": ways}
        written: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
        items = [north | supply, south | supply, *([beside] if firm else [])]
        whole = Scene.model_validate(written | {"room": room, "items": items})
        (found,) = check(whole).of("S1", "entrance")
        by_hand = math.hypot(apart, max(0, aisle - 900 - leaf))
        assert found.provided["width"] == pytest.approx(by_hand / 1000, abs=2e-4)
        assert (found.verdict == "met") == (by_hand >= LEAST)
        now = found.verdict, found.provided["width"]
        assert order.index(now[0]) >= order.index(before[0])
        assert now[1] >= before[1] - 1e-6
        before = now
