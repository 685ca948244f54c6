"""Small rooms for the tests of ways, written in metres."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d import Scene
from model3d.check import situate

if TYPE_CHECKING:
    from model3d.judging.situation import Situation

Plain = dict[str, Any]

GEAR: Plain = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [0.8, 0.2, 2.0],
    "place": {"at": [1.0, 0.1], "facing": "north"},
    "supply": {"system": "208Y/120", "amps": 100},
    "door": "bolted",
}


def room(outline: list[list[float]], *items: Plain, **keys: object) -> Situation:
    """Return a room of an outline with a panelboard at its south wall."""
    shape = {
        "outline": outline,
        "height": keys.pop("height", 3.0),
        "walls": "gypsum",
        "doors": keys.pop("doors", []),
    }
    scene = {
        "title": "Ways",
        "units": "m",
        "rules": "nec-2017",
        "room": shape,
        "items": [GEAR, *items],
    }
    return situate(Scene.model_validate(scene | keys))


def door(wall: int, along: float, width: float, **keys: object) -> Plain:
    """Return a personnel door, 2.1 m high."""
    name = f"D{wall}"
    where = {"id": name, "wall": f"wall-{wall}", "along": along}
    return where | {"width": width, "height": 2.1} | keys


def box(name: str, x: float, y: float, width: float, depth: float) -> Plain:
    """Return an obstacle 2 m high by the middle of its plan."""
    size = [width, depth, 2.0]
    return {"id": name, "kind": "obstacle", "size": size, "place": {"at": [x, y]}}


def square(x: float, y: float) -> list[list[float]]:
    """Return the outline of a rectangular room."""
    return [[0, 0], [x, 0], [x, y], [0, y]]
