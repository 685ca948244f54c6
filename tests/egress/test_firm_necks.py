"""What a personnel door's leaf can leave at most, against every angle of the leaf."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene
from model3d.check import situate
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from tests.fuzz.rooms import room

if TYPE_CHECKING:
    from random import Random

    from model3d.egress.ground.bays import OpenFloor
    from model3d.egress.ways import Ways

HEIGHT = 2.0
ASIDE = 1e-3
"""Metres. Points that are asked about are as far from all that is in the way."""


def ways_in(draw: Random) -> Ways:
    scene = room(draw)
    for door in scene["room"]["doors"]:
        door["opens"] = "in"
        if draw.random() < 0.4:
            del door["hinge"]
    for item in scene["items"]:
        if item["id"].startswith("G") and draw.random() < 0.7:
            item.pop("door", None)
    return ways_of(situate(Scene.model_validate(scene)))


def spots(opened: OpenFloor, draw: Random) -> np.ndarray:
    west, south, east, north = opened.floor.region.bounds
    drawn = [(draw.uniform(west, east), draw.uniform(south, north)) for _ in range(60)]

    def is_free(at: tuple[float, float]) -> bool:
        return not opened.floor.free(flat.Point(at)).is_empty

    # Nobody stands on the very corner of a jamb, where two places meet.
    free = [at for at in drawn if all(map(is_free, _about(*at)))]
    return np.array(free).reshape(-1, 2)


def _about(x: float, y: float) -> list[tuple[float, float]]:
    ways = ((0, 0), *product((-ASIDE, ASIDE), repeat=2))
    return [(x + east, y + north) for east, north in ways]


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_no_way_past_a_leaf_is_wider_than_firm_necks_let_it_be(draw: Random) -> None:
    opened = ways_in(draw).opened(HEIGHT, "all")
    points = spots(opened, draw)
    for door in opened.floor.swinging:
        for number, hanging in enumerate(door.hangings):
            for angle in (*hanging.angles(), draw.uniform(5.0, 90.0)):
                past = opened.on(opened.floor.past(door, number, angle))
                for pockets in (False, True):
                    firm = opened.firm(door, pockets=pockets).ways_out(points)
                    necks = past.floor.necks if pockets else past.necks
                    assert (necks.ways_out(points) <= firm).all()


@pytest.mark.long
@settings(max_examples=20, deadline=None)
@given(st.randoms(use_true_random=False))
def test_where_nothing_is_firm_the_same_widest_way_is_found(draw: Random) -> None:
    opened = ways_in(draw).opened(HEIGHT, "all")
    if not opened.floor.swinging:
        return
    points = [(x, y) for x, y in spots(opened, draw)[:6].tolist()]
    quick = [WaysPast(opened, 0.61).closely(at).width for at in points]
    with pytest.MonkeyPatch.context() as patch:
        none = opened.floor.necks.without(np.ones(len(opened.floor.necks.widths), bool))
        patch.setattr(type(opened), "firm", lambda *_, **__: none)
        long = [WaysPast(opened, 0.61).closely(at).width for at in points]
    assert quick == long


def test_firm_necks_are_most_of_a_room_s() -> None:
    door = {"id": "D1", "wall": "south", "along": 500, "width": 900, "height": 2100}
    gear = {"id": "G", "kind": "panelboard", "size": [900, 300, 1900]}
    boxes = [
        {"id": f"B{n}", "kind": "storage", "size": [300, 300, 1500]}
        | {"place": {"at": [1000 + 700 * n, 4000]}}
        for n in range(8)
    ]
    scene = {
        "title": "A room",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [8000, 6000], "height": 3000, "walls": "gypsum"},
        "items": [gear | {"place": {"wall": "north", "along": 3000}}, *boxes],
    }
    scene["room"]["doors"] = [door | {"opens": "in", "hinge": "left"}]  # type: ignore[index]
    opened = ways_of(situate(Scene.model_validate(scene))).opened(HEIGHT, "all")
    (swinging,) = opened.floor.swinging
    firm = opened.firm(swinging, pockets=True)
    assert len(firm.widths) > 0.7 * len(opened.floor.necks.widths)
    assert len(firm.widths) < len(opened.floor.necks.widths)
