"""Ways out of crowded rooms past open leaves, judged twice: by the engine, on a grid.

Source: a second method, written apart from requirements.md alone (ways_out.py). Rooms
that contradict themselves, gear in gear say, are left out: there is nothing right to
say of them. So are the ways that are too small with all leaves shut but for this, that
they are not met.
"""

from __future__ import annotations

import math
from functools import cache
from random import Random
from typing import Any

import pytest

from model3d import Scene, check
from tests.fuzz.rooms import room
from tests.independent.ways_out import Found, Room, judged

Plain = dict[str, Any]

WERE_WRONG = {
    "nobody at the hinge, somebody along the front": (880052, 881064, 910398, 910555),
    "somebody at the hinge, nobody before the front": (910103, 911110),
    "a gap between two fronts with a leaf at its end": (910345, 910704),
    "a door's jamb at the end of a pocket": (911018,),
    "a leaf of a door held at neither end of its swing": (960167,),
    "floor before the front beyond a leaf that stops": (
        910311,
        910481,
        910904,
        911304,
        950110,
    ),
    "somebody shut in before another front": (881019,),
    "a thing across the front, away from the hinge": (
        911059,
        911278,
        911312,
        950135,
        950467,
        960147,
        960281,
    ),
    "a thing across the front, nearer than a body is wide": (1300683,),
}
ROOMS = (*range(770000, 770060), *(one for some in WERE_WRONG.values() for one in some))


@cache
def both(seed: int) -> list[tuple[Plain, Found]]:
    """Return the engine's judgements of a room's ways out, each with the other's."""
    return compared(room(Random(seed)))  # noqa: S311 - the same every time


def compared(scene: Plain) -> list[tuple[Plain, Found]]:
    rows = check(Scene.model_validate(scene)).document()["judgements"]
    if any(one["requirement"] == "as-drawn" for one in rows):
        return []
    spaces = {
        one["subject"]: {**one["required"], "place": one.get("place", 0.0)}
        for one in rows
        if one["requirement"] == "working-space"
    }
    other, square = Room(scene), Room(scene, square=True)

    def found(name: str) -> Found:
        return judged(other, name, spaces[name]).and_(
            judged(square, name, spaces[name])
        )

    return [
        (one, found(one["subject"])) for one in rows if one["requirement"] == "entrance"
    ]


@pytest.mark.many
@pytest.mark.parametrize("seed", ROOMS)
def test_verdicts_of_random_rooms(seed: int) -> None:
    for one, found in both(seed):
        assert one["verdict"] in found.verdicts, (one["subject"], one["reason"])


@pytest.mark.many
def test_the_rooms_are_of_every_kind() -> None:
    found = [one for seed in ROOMS for one in both(seed)]
    assert sum(other.verdicts == {"met"} for _, other in found) > 20
    assert sum(not other.leaves for _, other in found) > 10


LONG, UNIT, FIRST, DEEP = 9000, 1000, 2000, 600


def aisle(draw: Random) -> tuple[Plain, float, float]:
    """Draw two line-ups that face each other, with what is left by subtraction.

    Leaves stand tip to tip, a pair's at both ends of its unit, so that of the aisle
    their widths are lost there. Somebody between two such places leaves past those to
    the west or those to the east, through what the door's own leaf leaves.

    Returns:
        The scene; the widest way with all leaves shut; the least with them open.
    """
    wide, count = draw.randrange(700, 2601, 5), draw.randint(1, 3)
    pair = draw.random() < 0.5
    gear: list[Plain] = []
    lost = [0] * (count + 1)
    for side, hinge in (("north", "left"), ("south", "right")):
        for number in range(count):
            leaf = draw.randrange(300, 901, 5)
            # Leaves of a pair are half as wide as their unit.
            leaf = UNIT // 2 if pair else leaf
            west = FIRST + number * UNIT
            along = west if side == "north" else LONG - west - UNIT
            offset = 0 if hinge == "left" else UNIT - leaf
            doors = [{"hinge": hinge, "width": leaf, "offset": offset}]
            gear.append(
                {
                    "id": f"{side}{number}",
                    "kind": "switchgear",
                    "size": [UNIT, DEEP, 2150],
                    "rear": "bolted",
                    "place": {"wall": side, "along": along},
                    "supply": {"system": "480Y/277", "amps": 400},
                }
                | ({"door": "pair"} if pair else {"doors": doors})
            )
    for number in range(count + 1):
        for side in ("north", "south"):
            beside = [n for n in (number - 1, number) if 0 <= n < count]
            if not pair:
                beside = [n for n in beside if n == number]
            widths = [
                UNIT // 2 if pair else one["doors"][0]["width"]
                for n in beside
                for one in gear
                if one["id"] == f"{side}{n}"
            ]
            lost[number] += max(widths, default=0)
    clear = [max(0, wide - one) for one in lost]
    ends: dict[str, float] = {}
    ways: list[Plain] = []
    for side in draw.choice((("west",), ("east",), ("west", "east"))):
        to = draw.choice((90, 90, 70, 50))
        ends[side] = wide * math.sin(math.radians(to))
        way = {"id": side, "wall": side, "along": DEEP, "width": wide, "height": 2100}
        ways.append(way | {"opens": "out", "hinge": "left", "opens_to": to})
    # Where each unit has one leaf nobody before the row is beyond the last unit's end.
    sides = [{"west": clear[: n + 1], "east": clear[n + 1 :]} for n in range(count)]
    left = min(
        max(min([end, *past[side]]) for side, end in ends.items()) for past in sides
    )
    size = [LONG, 2 * DEEP + wide]
    scene = {
        "title": "Aisle",
        "units": "mm",
        "rules": draw.choice(("nec-2023", "nec-2026")),
        "measures": "si",
        "room": {"size": size, "height": 3000, "walls": "gypsum", "doors": ways},
        "items": gear,
    }
    return scene, max(ends.values()), left


@pytest.mark.many
@pytest.mark.parametrize("seed", range(75))
def test_aisles_between_open_leaves(seed: int) -> None:
    scene, shut, left = aisle(Random(seed))  # noqa: S311 - the same every time
    right = "not-met" if left < min(shut, 610) else "met" if shut >= 610 else "open"
    found = compared(scene)
    assert found
    for one, other in found:
        assert one["verdict"] == right, (shut, left, one["reason"])
        assert right in other.verdicts
        least = min(one["provided"].get("width", 0.0), UNIT)
        assert abs(least - min(left, shut, UNIT)) < 0.11, (shut, left, one["reason"])
