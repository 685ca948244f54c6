"""Random rooms of upright boxes, all numbers whole millimetres.

Invented data: nothing here is a real room. Many boxes are put on purpose exactly at, or
1 mm before or behind, a place that decides.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

Plain = dict[str, Any]

SIDES: Final = ("north", "east", "south", "west")
GEAR: Final = ("panelboard", "switchboard", "disconnect", "transformer", "ups")
OTHERS: Final = (
    *("wireway", "pull-box", "cable-tray", "conduit", "pipe", "duct", "shelf"),
    *("storage", "furniture", "machine", "column", "beam", "luminaire", "sprinkler"),
    *("wall", "obstacle", "meter", "leak-guard", "platform"),
)
MATERIALS: Final = ("concrete", "brick", "gypsum", "wood", "metal", "tile", None)
SUPPLIES: Final = (
    None,
    {"system": "208Y/120"},
    {"system": "480Y/277"},
    {"system": "480Y/277"},
    {"system": "480 delta"},
    {"to_ground": 700},
    {"to_ground": 2400},
    {"system": "48 dc"},
)
DOORS: Final = ("left", "right", "pair", "none", None)


def random_room(seed: int) -> Plain:
    """Return a scene; the same for the same seed."""
    draw = np.random.default_rng(seed)
    x, y = whole(draw, 3000, 8000), whole(draw, 3000, 7000)
    room: Plain = {"size": [x, y], "height": whole(draw, 1900, 4500)}
    materials = {side: pick(draw, MATERIALS) for side in SIDES}
    walls = {side: word for side, word in materials.items() if word}
    if walls:
        room["walls"] = walls
    premises = pick(draw, ("new", "new", "existing", "existing-dwelling"))
    gear = [
        _gear(draw, f"G{number}", (x, y), str(premises))
        for number in range(whole(draw, 1, 7))
    ]
    boxes = [
        _box(draw, f"B{number}", (x, y), gear) for number in range(whole(draw, 4, 30))
    ]
    return {
        "title": f"Room {seed}",
        "units": "mm",
        "rules": "nec-2023",
        "measures": pick(draw, ("si", "either")),
        "premises": premises,
        "room": room,
        "items": gear + boxes,
    }


def whole(draw: np.random.Generator, low: int, high: int) -> int:
    """Return a whole number from low up to and with high."""
    return int(draw.integers(low, high + 1))


def pick(draw: np.random.Generator, choices: tuple[Any, ...]) -> Any:  # noqa: ANN401
    """Return one of several things."""
    return choices[int(draw.integers(len(choices)))]


def chance(draw: np.random.Generator, share: float) -> bool:
    """Return True in a share of all calls."""
    return bool(draw.random() < share)


def _gear(
    draw: np.random.Generator, name: str, room: tuple[int, int], premises: str
) -> Plain:
    kind = pick(draw, GEAR)
    size = [
        pick(draw, (whole(draw, 200, 760), 762, 500, whole(draw, 770, 2200))),
        whole(draw, 80, 900),
        pick(draw, (whole(draw, 300, 1900), whole(draw, 1900, 2400), 2000)),
    ]
    bottom = 0 if size[2] > 1500 else whole(draw, 0, 1400)
    item: Plain = {"id": name, "kind": kind, "size": size, "service": chance(draw, 0.3)}
    if chance(draw, 0.7):
        wall = pick(draw, SIDES)
        length = room[0] if wall in {"north", "south"} else room[1]
        along = pick(draw, (0, length - size[0], whole(draw, 0, length)))
        item["place"] = {"wall": wall, "along": along, "bottom": bottom}
    else:
        at = [whole(draw, 0, room[0]) + 0.5, whole(draw, 0, room[1]) + 0.5]
        at = [at[i] - 0.5 * (size[i] % 2 == 0) for i in (0, 1)]
        facing = pick(draw, ("north", "south"))
        item["place"] = {"at": at, "facing": facing, "bottom": bottom}
    supply = pick(draw, SUPPLIES)
    if supply:
        item["supply"] = {**supply, "amps": pick(draw, (100, 200, 225, 800))}
    elif premises == "existing-dwelling":
        item["supply"] = {"system": "240/120", "amps": pick(draw, (200, 400))}
    door = pick(draw, DOORS)
    if door:
        item["door"] = door
    if premises == "existing" and chance(draw, 0.7):
        item["dead_front"] = chance(draw, 0.8)
    if chance(draw, 0.1):
        item |= {"condition": whole(draw, 1, 3), "why": "An invented reason."}
    return item


def _box(
    draw: np.random.Generator, name: str, room: tuple[int, int], gear: list[Plain]
) -> Plain:
    kind = pick(draw, OTHERS)
    size = [
        pick(draw, (whole(draw, 40, 900), whole(draw, 200, 3000))),
        whole(draw, 40, 800),
        pick(draw, (whole(draw, 40, 600), whole(draw, 400, 2500))),
    ]
    item: Plain = {"id": name, "kind": kind, "size": size}
    if chance(draw, 0.75):
        item["place"] = _near(draw, size, pick(draw, tuple(gear)), room)
    else:
        item["place"] = {
            "at": _centred([whole(draw, 0, room[0]), whole(draw, 0, room[1])], size),
            "bottom": pick(draw, (0, whole(draw, 0, 2600))),
        }
    if chance(draw, 0.1):
        item["grounded"] = chance(draw, 0.5)
    if chance(draw, 0.1):
        item["associated"] = chance(draw, 0.7)
    if chance(draw, 0.3) and kind in {"pipe", "duct"}:
        item["protected"] = chance(draw, 0.7)
    return item


_AHEAD: Final = (0, 150, 152, 900, 1000, 1200, 1500, 150, 900, 1000, 1200)


def _near(
    draw: np.random.Generator, size: list[int], gear: Plain, room: tuple[int, int]
) -> Plain:
    """Put a box near the front of some gear, often where it just touches or not."""
    width, depth, height = gear["size"]
    low = gear["place"].get("bottom", 0)
    ahead = pick(draw, _AHEAD) + pick(draw, (-1, 0, 0, 1, whole(draw, -300, 300)))
    aside = pick(
        draw,
        (
            width + pick(draw, (-1, 0, 1, whole(draw, 0, 400))),
            -size[0] - pick(draw, (-1, 0, 1, whole(draw, 0, 400))),
            whole(draw, -size[0], width),
        ),
    )
    up = pick(
        draw,
        (
            low + height + pick(draw, (-1, 0, 20)),
            max(low - size[2] + pick(draw, (-1, 0, 1)), 0),
            2000 + pick(draw, (-1, 0, 1)),
            0,
            whole(draw, 0, 2200),
        ),
    )
    wall = gear["place"].get("wall")
    if wall is None or chance(draw, 0.3):
        middle = [whole(draw, 0, room[0]), whole(draw, 0, room[1])]
        return {"at": _centred(middle, size), "bottom": up}
    along = gear["place"]["along"] + aside
    gap = depth + ahead
    if chance(draw, 0.4):
        # Its own front stands out by that much: what is above or below an item.
        gap = max(depth + ahead - size[1], 0) if ahead < 400 else gap
    return {"wall": wall, "along": along, "gap": gap, "bottom": up}


def _centred(middle: list[int], size: list[int]) -> list[float]:
    """Return a middle whose box, facing south, has its sides at whole millimetres."""
    return [middle[i] + 0.5 * (size[i] % 2) for i in (0, 1)]
