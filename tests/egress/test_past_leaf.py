"""How far the widest way past a personnel door's leaf is looked for, against all of it.

The outside source is the same search without a bound.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene
from model3d.check import situate
from model3d.egress.ground.bays import OpenFloor
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.ways import ways_of
from tests.egress.test_firm_necks import HEIGHT, spots, ways_in

if TYPE_CHECKING:
    from random import Random

WIDTH = 0.61


@pytest.mark.long
@settings(max_examples=30, deadline=None)
@given(st.randoms(use_true_random=False))
def test_a_bound_changes_nothing_of_what_is_on_its_other_side(draw: Random) -> None:
    opened = ways_in(draw).opened(HEIGHT, "all")
    points = [(x, y) for x, y in spots(opened, draw)[:8].tolist()]
    if not opened.floor.swinging or not points:
        return
    for pockets in (False, True):
        ways = WaysPast(opened, WIDTH, pockets)
        bound = WIDTH - CONTACT
        every = [way.width for way in ways.out_of(points)]
        some = [way.width for way in ways.out_of(points, bound)]
        assert [wide for wide in some if wide <= bound] == [
            wide for wide in every if wide <= bound
        ]
        assert [one > bound for one in some] == [one > bound for one in every]
        for at in points[:2]:
            widest = ways.closely(at).width
            for least in (bound, draw.uniform(0.1, 0.9)):
                found = ways.closely(at, least).width
                assert found <= widest
                assert (found >= least) == (widest >= least)


def room(*boxes: tuple[int, int]) -> OpenFloor:
    """Return the floor of a room with a door that opens in, beside which boxes are."""
    scene = {
        "title": "A room",
        "units": "mm",
        "rules": "nec-2023",
        "room": {
            "size": [6000, 4000],
            "height": 3000,
            "walls": "gypsum",
            "doors": [
                {"id": "D1", "wall": "south", "along": 2500, "width": 900}
                | {"height": 2100, "opens": "in", "hinge": "left"}
            ],
        },
        "items": [
            {"id": f"B{n}", "kind": "storage", "size": [400, 400, 1500]}
            | {"place": {"at": [x, y]}}
            for n, (x, y) in enumerate(boxes)
        ],
    }
    return ways_of(situate(Scene.model_validate(scene))).opened(HEIGHT, "all")


def test_where_the_leaf_leaves_enough_it_is_held_at_one_angle() -> None:
    opened = room((4000, 900))
    assert opened.floor.swinging
    (way,) = WaysPast(opened, WIDTH).out_of([(4.5, 3.0)], WIDTH)
    assert way.width > WIDTH
    assert len(opened.floor._past) == 1  # noqa: SLF001 - what was asked


def test_how_much_too_narrow_a_way_is_is_not_looked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    at, clear = (4.5, 3.0), WIDTH - CONTACT
    # A row across the room, with a gap before the door.
    row = 250, 750, 1250, 1750, 2250, 2750, 3700, 4200, 4700, 5200, 5700
    boxes = [(x, 1200) for x in row]
    whole, bounded = room(*boxes), room(*boxes)
    # So that it has to be looked for.
    none = whole.floor.necks.without(np.ones(len(whole.floor.necks.widths), bool))
    monkeypatch.setattr(OpenFloor, "firm", lambda *_, **__: none)
    widest = WaysPast(whole, WIDTH).closely(at).width
    found = WaysPast(bounded, WIDTH).closely(at, clear).width
    assert 0.0 < found <= widest < clear
    held, all_held = len(bounded.floor._past), len(whole.floor._past)  # noqa: SLF001
    assert held < all_held - 5
