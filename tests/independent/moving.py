"""Move and turn whole rooms, and compare what is judged of them."""

from __future__ import annotations

import math
from typing import Any, Final

Plain = dict[str, Any]
Corner = tuple[float, float]

WALLS: Final = {
    "south": "wall-1",
    "east": "wall-2",
    "north": "wall-3",
    "west": "wall-4",
}
BEARING: Final = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}


def outlined(scene: Plain) -> Plain:
    """Return a rectangular room as one with an outline, which may then be turned."""
    x, y = scene["room"]["size"]
    walls = scene["room"].get("walls", {})
    room = {
        "outline": [[0, 0], [x, 0], [x, y], [0, y]],
        "height": scene["room"]["height"],
        "walls": {WALLS[side]: word for side, word in walls.items()},
    }
    items = []
    for item in scene["items"]:
        place = dict(item["place"])
        if "wall" in place:
            place["wall"] = WALLS[place["wall"]]
        items.append({**item, "place": place})
    return {**scene, "room": room, "items": items}


def moved(scene: Plain, by: Corner, degrees: float) -> Plain:
    """Return an outlined room turned counter-clockwise about its origin, then moved."""
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))

    def there(point: list[float]) -> list[float]:
        x, y = point[:2]
        plan = [x * cosine - y * sine + by[0], x * sine + y * cosine + by[1]]
        return [*plan, *point[2:]]

    items = []
    for item in scene["items"]:
        place = dict(item.get("place", {}))
        if "at" in place:
            facing = place.get("facing", "south")
            bearing = BEARING[facing] if isinstance(facing, str) else float(facing)
            place |= {"at": there(place["at"]), "facing": (bearing - degrees) % 360}
        ends = {key: there(item[key]) for key in ("from", "to") if key in item}
        items.append({**item, **ends, **({"place": place} if place else {})})
    outline = [there(corner) for corner in scene["room"]["outline"]]
    return {**scene, "room": {**scene["room"], "outline": outline}, "items": items}


def numbers(report: Plain) -> list[Plain]:
    """Return what may not change when a room is moved and turned."""
    keys = (
        "requirement",
        "subject",
        "verdict",
        "citation",
        "condition",
        "leaf",
        "tier",
    )
    return [
        {
            **{key: one.get(key) for key in keys},
            "sizes": {
                **{f"required {k}": v for k, v in one.get("required", {}).items()},
                **{f"provided {k}": v for k, v in one.get("provided", {}).items()},
                **{key: one[key] for key in ("margin", "place") if key in one},
                **{
                    f"reach {i['item']}": i["reach"]
                    for i in one.get("intrusions", [])
                    if "reach" in i
                },
            },
            "volumes": {i["item"]: i.get("volume") for i in one.get("intrusions", [])},
        }
        for one in report["judgements"]
    ]
