"""Random rooms with ways out, for relations that must hold; all of it invented."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from random import Random

Plain = dict[str, Any]

GEAR: Final = ("panelboard", "switchboard", "disconnect", "switchgear")
OTHERS: Final = ("storage", "machine", "column", "furniture", "obstacle", "pipe")


def room(draw: Random) -> Plain:
    """Return a room with gear along its walls, things on its floor, and doors."""
    x, y = draw.randrange(3000, 9000, 10), draw.randrange(3000, 8000, 10)
    doors = [_door(draw, number, (x, y)) for number in range(draw.choice((1, 1, 2)))]
    gear = [_gear(draw, number, (x, y)) for number in range(draw.randint(1, 4))]
    others = [_other(draw, number, (x, y)) for number in range(draw.randint(0, 9))]
    return {
        "title": "A room",
        "units": "mm",
        "rules": draw.choice(("nec-2023", "nec-2026", "nec-2020")),
        "measures": draw.choice(("si", "inch-pound")),
        "room": {
            "size": [x, y],
            "height": draw.randrange(2100, 4500, 10),
            "walls": draw.choice(("concrete", "gypsum")),
            "doors": doors,
        },
        "items": gear + others,
    }


def _wall(draw: Random, size: tuple[int, int]) -> tuple[str, int]:
    wall = draw.choice(("north", "east", "south", "west"))
    return wall, size[0] if wall in {"north", "south"} else size[1]


def _door(draw: Random, number: int, size: tuple[int, int]) -> Plain:
    wall, long = _wall(draw, size)
    width = draw.choice((700, 800, 900, 1000, 1200))
    return {
        "id": f"D{number}",
        "wall": wall,
        "along": draw.randrange(100, long - width - 100, 10),
        "width": width,
        "height": draw.choice((1990, 2000, 2100)),
        "opens": draw.choice(("in", "out", "out")),
        "hinge": draw.choice(("left", "right")),
        "hardware": draw.choice(("panic", "lever")),
    }


def _gear(draw: Random, number: int, size: tuple[int, int]) -> Plain:
    wall, long = _wall(draw, size)
    width = draw.choice((500, 762, 900, 1500, 2000))
    return {
        "id": f"G{number}",
        "kind": draw.choice(GEAR),
        "size": [width, draw.choice((150, 300, 600, 900)), 1900],
        "place": {
            "wall": wall,
            "along": draw.randrange(0, max(long - width, 1), 10),
        },
        "supply": {
            "system": draw.choice(("208Y/120", "480Y/277")),
            "amps": draw.choice((200, 800, 1200, 2000)),
        },
        "door": draw.choice(("left", "right", "pair", "none")),
    }


def _other(draw: Random, number: int, size: tuple[int, int]) -> Plain:
    box = [draw.randrange(100, 1600, 10), draw.randrange(100, 900, 10)]
    facing = draw.choice(("north", "east", "south", "west"))
    wide, deep = box if facing in {"north", "south"} else box[::-1]
    return {
        "id": f"B{number}",
        "kind": draw.choice(OTHERS),
        "size": [*box, draw.randrange(300, 2000, 10)],
        "place": {
            "at": [
                draw.randrange(wide // 2, max(size[0] - wide // 2, wide // 2 + 1), 5),
                draw.randrange(deep // 2, max(size[1] - deep // 2, deep // 2 + 1), 5),
            ],
            "facing": facing,
            "bottom": draw.choice((0, 0, 0, 500, 1900, 2000, 2100)),
        },
    }


def astride(draw: Random, scene: Plain) -> None:
    """Put some gear of a room anywhere, often partly in a wall."""
    size = scene["room"]["size"]
    for item in scene["items"]:
        if not item["id"].startswith("G") or draw.random() < 0.4:
            continue
        facing = draw.choice(("north", "east", "south", "west"))
        width, depth, _ = item["size"]
        plan = (width, depth) if facing in {"north", "south"} else (depth, width)
        at: list[float] = [draw.randrange(0, side, 10) for side in size]
        axis = draw.randrange(2)
        at[axis] = draw.choice((0, size[axis])) + plan[axis] * draw.choice(
            (-0.5, -0.25, 0.0, 0.25, 0.5)
        )
        item["place"] = {"at": at, "facing": facing}
