"""Random crowded rooms in which it is hard to come to a door, all in millimetres.

Invented data: nothing here is a real room. Aisles are about as wide as the ways that
are asked for (610 mm), or as nobody gets through (200 mm), a little more or less.
"""

from __future__ import annotations

import random
from typing import Any, Final

Plain = dict[str, Any]

_GEAR: Final = ("panelboard", "disconnect", "control-panel", "transformer")
_GOODS: Final = ("storage", "machine", "column", "obstacle", "furniture")
_DOORS: Final = ("left", "right", "pair", "none", "bolted")
_AISLES: Final = (150, 198, 202, 250, 450, 608, 612, 700, 900)


def crowded_room(seed: int) -> Plain:
    """Return a scene; the same for the same seed."""
    draw = random.Random(seed)  # noqa: S311 - the same every time
    size = draw.randint(4200, 7000), draw.randint(3600, 5600)
    walls = draw.choice(("concrete", "gypsum"))
    items = [*_gear(draw, size), *_goods(draw, size)]
    if draw.random() < 0.5:
        items.append(_partition(draw, size))
    if draw.random() < 0.35:
        items.append(_large(draw, size))
    return {
        "title": f"Crowded room {seed}",
        "units": "mm",
        "rules": draw.choice(("nec-2023", "nec-2023", "nec-2020", "nec-2017")),
        "measures": draw.choice(("si", "either")),
        "room": {
            "size": size,
            "height": 3000,
            "walls": walls,
            "doors": _doors(draw, size),
            "lighting": {"present": True, "control": "manual"},
        },
        "items": items,
    }


def _doors(draw: random.Random, size: tuple[int, int]) -> list[Plain]:
    found = []
    for number, wall in enumerate(draw.sample(("south", "east", "west"), 2)):
        if number and draw.random() < 0.5:
            break
        length = size[0] if wall == "south" else size[1]
        found.append(
            {
                "id": f"D{number}",
                "wall": wall,
                "along": draw.randint(100, length - 1100),
                "width": draw.choice((900, 900, 800)),
                "height": 2100,
                "opens": draw.choice(("out", "out", "out", "in")),
                "hinge": draw.choice(("left", "right")),
                "hardware": draw.choice(("panic", "lever")),
            }
        )
    return found


def _gear(draw: random.Random, size: tuple[int, int]) -> list[Plain]:
    found = []
    for number in range(draw.randint(2, 4)):
        wide = draw.choice((400, 500, 762, 900))
        deep = draw.choice((150, 200, 400))
        high = draw.choice((900, 1900))
        item: Plain = {
            "id": f"G{number}",
            "kind": draw.choice(_GEAR),
            "size": [wide, deep, high],
            "supply": {
                "system": draw.choice(("208Y/120", "480Y/277")),
                "amps": draw.choice((100, 225)),
            },
            "door": draw.choice(_DOORS),
            "rear": "bolted",
        }
        if item["kind"] != "transformer":
            item["handle"] = 500
        bottom = 0 if high > 1000 else draw.choice((600, 900))
        if draw.random() < 0.65:
            wall = draw.choice(("north", "west", "east", "south"))
            length = size[0] if wall in {"north", "south"} else size[1]
            along = draw.randint(0, length - wide)
            item["place"] = {"wall": wall, "along": along, "bottom": bottom}
        else:
            item["size"][2] = 1900
            item["place"] = {
                "at": [draw.randint(700, one - 700) for one in size],
                "facing": _facing(draw),
            }
        found.append(item)
    return found


def _facing(draw: random.Random) -> str | int:
    if draw.random() < 0.7:
        return draw.choice(("north", "south", "east", "west"))
    return draw.choice((30, 45, 200, 315))


def _goods(draw: random.Random, size: tuple[int, int]) -> list[Plain]:
    """Return crates and pillars, some of them as far from another as aisles are."""
    found: list[Plain] = []
    for number in range(draw.randint(4, 9)):
        wide, deep = draw.randint(150, 1300), draw.randint(150, 700)
        at = [draw.randint(200, one - 200) for one in size]
        facing = _facing(draw)
        if found and draw.random() < 0.5:
            last = found[-1]
            gap = draw.choice(_AISLES)
            at = [*last["place"]["at"]]
            axis = draw.choice((0, 1))
            facing = "south"
            half = (last["size"][axis] + (wide, deep)[axis]) // 2
            at[axis] += half + gap
        found.append(
            {
                "id": f"B{number}",
                "kind": draw.choice(_GOODS),
                "size": [wide, deep, draw.choice((150, 400, 1200, 2200, 2200))],
                "place": {"at": at, "facing": facing},
            }
        )
    return found


def _partition(draw: random.Random, size: tuple[int, int]) -> Plain:
    """Return an inner wall from the north wall that leaves a gap, or nearly none."""
    long = size[1] - draw.choice((200, 610, 700, 900, 1500))
    return {
        "id": "W1",
        "kind": "wall",
        "size": [100, long, 3000],
        "place": {
            "at": [draw.randint(1500, size[0] - 1500), size[1] - long // 2],
            "facing": "south",
        },
    }


def _large(draw: random.Random, size: tuple[int, int]) -> Plain:
    """Return gear that needs a way out at each end of its working space."""
    wide = draw.choice((1900, 2400))
    place: Plain = {"wall": "north", "along": draw.randint(0, size[0] - wide)}
    return {
        "id": "S1",
        "kind": "switchboard",
        "size": [wide, 600, 2000],
        "supply": {"system": "480Y/277", "amps": 1200},
        "door": draw.choice(("none", "bolted", "left")),
        "rear": "bolted",
        "handle": 900,
        "place": place,
    }
