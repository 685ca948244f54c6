"""A room on a raised floor, and one under a gallery, are judged as before.

Relations that hold in any room: nobody notices how high the floor lies that all stand
on, nor a deck high above all. And whoever works on that deck is not below it.
"""

from __future__ import annotations

import copy
from random import Random
from typing import Any

import pytest

from model3d import Scene, check
from tests.fuzz.rooms import room

pytestmark = pytest.mark.long

Plain = dict[str, Any]
Key = tuple[object, ...]

UP, HIGHER = 600, 3000
_PARTS = ("requirement", "subject", "leaf", "side")
_WAYS = ("entrance", "second-entrance")


def raised(scene: Plain) -> Plain:
    """Put a platform under everything."""
    found = copy.deepcopy(scene)
    x, y = found["room"]["size"]
    found["room"]["height"] += UP
    for door in found["room"]["doors"]:
        door["sill"] = UP
    for item in found["items"]:
        item["place"]["bottom"] = item["place"].get("bottom", 0) + UP
    deck = {"id": "DECK", "kind": "platform", "size": [x, y, UP]}
    found["items"].append({**deck, "place": {"at": [x / 2, y / 2]}})
    return found


def higher(scene: Plain) -> Plain:
    """Put the ceiling further up."""
    found = copy.deepcopy(scene)
    found["room"]["height"] += HIGHER
    return found


def under_a_gallery(scene: Plain) -> Plain:
    """Put a deck over half of the room, high above all, with gear on it."""
    found = higher(scene)
    (x, y), up = found["room"]["size"], scene["room"]["height"] + 300
    deck: Plain = {"id": "DECK", "kind": "platform", "size": [x, y / 2, 100]}
    deck["place"] = {"at": [x / 2, y / 4], "bottom": up}
    gear = {
        "id": "UP",
        "kind": "panelboard",
        "size": [600, 200, 1500],
        "place": {"wall": "south", "along": x / 2 - 300, "bottom": up + 300},
        "supply": {"system": "208Y/120", "amps": 100},
        "door": "bolted",
    }
    found["items"] += [deck, gear]
    return found


def judged(scene: Plain) -> dict[Key, Plain]:
    """Return the judgements but those of the drawing, by what they are of."""
    rows = check(Scene.model_validate(scene)).document()["judgements"]
    kept = [one for one in rows if one["requirement"] != "as-drawn"]
    return {tuple(one.get(part) for part in _PARTS): one for one in kept}


def said(rows: dict[Key, Plain]) -> dict[Key, object]:
    """Return the verdicts, of ways with their figures."""
    return {
        key: (one["verdict"], one.get("provided") if key[0] in _WAYS else None)
        for key, one in rows.items()
        if not {"UP", "room"} & set(key)
    }


SEEDS = (*range(985_000, 985_010), 985_039, 985_108, 985_173)


@pytest.mark.parametrize("seed", SEEDS)
def test_nobody_notices_how_high_the_floor_lies(seed: int) -> None:
    scene = room(Random(seed))  # noqa: S311 - the same every time
    assert said(judged(raised(scene))) == said(judged(scene))


@pytest.mark.parametrize("seed", SEEDS)
def test_nobody_below_notices_a_gallery_and_who_is_on_it_is_asked(seed: int) -> None:
    scene = room(Random(seed))  # noqa: S311 - the same every time
    below = judged(under_a_gallery(scene))
    assert said(below) == said(judged(higher(scene)))
    assert below["entrance", "UP", None, None]["verdict"] == "open"
