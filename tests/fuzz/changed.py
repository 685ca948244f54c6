"""A room changed so that nothing of its judgements may change, but for names."""

from __future__ import annotations

import atexit
import copy
import math
import tempfile
from functools import cache
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Callable

Plain = dict[str, Any]

_TURNED: Final = {"north": "west", "west": "south", "south": "east", "east": "north"}
_MIRRORED: Final = {"east": "west", "west": "east"}
_OTHER: Final = {"left": "right", "right": "left"}
_OUTLINED: Final = {
    "south": "wall-1",
    "east": "wall-2",
    "north": "wall-3",
    "west": "wall-4",
}
_BEARING: Final = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
TILT: Final = 23.7
"""Degrees."""
AWAY: Final = (7_130.0, -2_890.0)
"""Millimetres: how far a room is moved."""


def turned(scene: Plain) -> Plain:
    """Turn it by a right angle, counter-clockwise seen from above."""
    _, deep = scene["room"]["size"]

    def place(one: Plain) -> None:
        if "wall" in one:
            one["wall"] = _TURNED[one["wall"]]
        else:
            x, y = one["at"]
            one.update(at=[deep - y, x], facing=_TURNED[one.get("facing", "south")])

    found = _placed(scene, place)
    found["room"]["size"] = scene["room"]["size"][::-1]
    return found


def mirrored(scene: Plain) -> Plain:
    """Mirror it, west to east."""
    wide, deep = scene["room"]["size"]
    found = copy.deepcopy(scene)
    for one in [*found["room"]["doors"], *found["items"]]:
        place = one.get("place", one)
        if "wall" in place:
            long = wide if place["wall"] in {"north", "south"} else deep
            own = one["size"][0] if "size" in one else one["width"]
            place["along"] = long - place["along"] - own
            place["wall"] = _MIRRORED.get(place["wall"], place["wall"])
        else:
            place["at"][0] = wide - place["at"][0]
            facing = place.get("facing", "south")
            place["facing"] = _MIRRORED.get(facing, facing)
        for key in ("door", "hinge"):
            if one.get(key) in _OTHER:
                one[key] = _OTHER[one[key]]
    return found


def moved(scene: Plain) -> Plain:
    """Move it, as a room with an outline."""
    wide, deep = scene["room"]["size"]

    def place(one: Plain) -> None:
        if "wall" in one:
            one["wall"] = _OUTLINED[one["wall"]]
        else:
            one["at"] = [a + b for a, b in zip(one["at"], AWAY, strict=True)]

    found = _placed(scene, place)
    del found["room"]["size"]
    corners = ((0, 0), (wide, 0), (wide, deep), (0, deep))
    found["room"]["outline"] = [[x + AWAY[0], y + AWAY[1]] for x, y in corners]
    return found


def tilted(scene: Plain) -> Plain:
    """Turn it by an odd angle, as a room with an outline."""
    sine, cosine = math.sin(math.radians(TILT)), math.cos(math.radians(TILT))

    def there(x: float, y: float) -> list[float]:
        return [x * cosine - y * sine, x * sine + y * cosine]

    def place(one: Plain) -> None:
        if "wall" in one:
            one["wall"] = _OUTLINED[one["wall"]]
        else:
            bearing = _BEARING[one.get("facing", "south")] - TILT
            one.update(at=there(*one["at"]), facing=bearing)

    wide, deep = scene["room"]["size"]
    found = _placed(scene, place)
    del found["room"]["size"]
    corners = ((0, 0), (wide, 0), (wide, deep), (0, deep))
    found["room"]["outline"] = [there(*corner) for corner in corners]
    return found


def reordered(scene: Plain) -> Plain:
    """Write its items and doors in another order."""
    found = copy.deepcopy(scene)
    found["items"].reverse()
    found["room"]["doors"].reverse()
    return found


def in_metres(scene: Plain) -> Plain:
    """Write it in metres; every length says that it is in millimetres."""
    return {**_with_units(copy.deepcopy(scene)), "units": "m"}


def in_inches(scene: Plain) -> Plain:
    """Write it in inches; every length says that it is in millimetres."""
    return {**_with_units(copy.deepcopy(scene)), "units": "in"}


def beside_others(scene: Plain) -> Plain:
    """Put things 60 m away from it."""
    found = copy.deepcopy(scene)
    for number, at in enumerate(([60_000, 1500], [-60_000, -900], [1000, 70_000])):
        away = {
            "id": f"AWAY{number}",
            "kind": "machine",
            "size": [1234, 777, 1555],
            "place": {"at": at, "facing": "south"},
        }
        found["items"].insert(number * 2, away)
    return found


def split(scene: Plain) -> Plain:
    """Saw every other thing in two, which touch."""
    found = copy.deepcopy(scene)
    items: list[Plain] = []
    for one in found["items"]:
        if not one["id"].startswith("B"):
            items.append(one)
            continue
        width, *rest = one["size"]
        axis = 0 if one["place"]["facing"] in {"north", "south"} else 1
        for side in (-1, 1):
            half = copy.deepcopy(one)
            half["id"] = f"{one['id']}{'ab'[side > 0]}"
            half["size"] = [width / 2, *rest]
            half["place"]["at"][axis] += side * width / 4
            items.append(half)
    return {**found, "items": items}


def stacked(scene: Plain) -> Plain:
    """Saw every other thing in two, of which one stands on the other."""
    found = copy.deepcopy(scene)
    items: list[Plain] = []
    for number, one in enumerate(found["items"]):
        if not one["id"].startswith("B"):
            items.append(one)
            continue
        *plan, high = one["size"]
        # Where one may step, where one may climb, and higher.
        cut = (200, 150, 400, 600)[number % 4]
        cut = cut if cut < high else high / 2
        bottom = one["place"].get("bottom", 0)
        for part, low, height in (("a", 0, cut), ("b", cut, high - cut)):
            half = copy.deepcopy(one)
            half["id"] = f"{one['id']}{part}"
            half["size"] = [*plan, height]
            half["place"]["bottom"] = bottom + low
            items.append(half)
    return {**found, "items": items}


def as_meshes(scene: Plain) -> Plain:
    """Give every thing but gear as the mesh of its box, beside ``mesh_folder()``."""
    found = copy.deepcopy(scene)
    for one in found["items"]:
        if one["id"].startswith("B"):
            one["mesh"] = _box_mesh(one.pop("size"))
            one["units"] = "mm"
    return found


@cache
def mesh_folder() -> Path:
    """Return the folder of a scene of meshes, which goes with the process."""
    folder = tempfile.TemporaryDirectory()
    atexit.register(folder.cleanup)
    return Path(folder.name)


@cache
def _faces() -> str:
    # Wavefront OBJ: corners count from 1, and a face's run counter-clockwise from
    # outside. A corner's number has x in its lowest bit, then y, then z.
    sides = [(1, 3, 4, 2), (5, 6, 8, 7), (1, 2, 6, 5), (3, 7, 8, 4)]
    sides += [(1, 5, 7, 3), (2, 4, 8, 6)]
    halves = [half for a, b, c, d in sides for half in ((a, b, c), (a, c, d))]
    return "".join(f"f {a} {b} {c}\n" for a, b, c in halves)


def _box_mesh(size: list[float]) -> str:
    name = f"{'x'.join(map(str, size))}.obj"
    corners = product(*((0, one) for one in reversed(size)))
    text = "".join(f"v {x} {y} {z}\n" for z, y, x in corners)
    file = mesh_folder() / name
    if not file.exists():
        file.write_text(text + _faces(), "utf-8")
    return name


CHANGES: Final[dict[str, Callable[[Plain], Plain]]] = {
    "turned": turned,
    "mirrored": mirrored,
    "moved": moved,
    "tilted": tilted,
    "reordered": reordered,
    "in metres": in_metres,
    "in inches": in_inches,
    "beside others": beside_others,
    "split": split,
    "stacked": stacked,
    "as meshes": as_meshes,
}


def _placed(scene: Plain, place: Callable[[Plain], None]) -> Plain:
    found = copy.deepcopy(scene)
    for one in [*found["room"]["doors"], *found["items"]]:
        place(one.get("place", one))
    return found


def _with_units(value: Any) -> Any:  # noqa: ANN401 - any part of a scene
    if isinstance(value, dict):
        return {
            key: one if key in {"supply", "amps"} else _with_units(one)
            for key, one in value.items()
        }
    if isinstance(value, list):
        return [_with_units(one) for one in value]
    return f"{value} mm" if isinstance(value, int | float) else value
