"""Judge turned gear a second time by filling its working space with points.

Written from requirements.md without any of the engine. A point is the middle of a small
cell; ``grown`` solids hold the middle of every cell they touch, so that what no grown
solid holds is clear for certain, and what holds a middle is an intruder for certain.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from tests.independent import boxes

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Mask = NDArray[np.bool_]
    Holds = Callable[[Points, float], Mask]

Plain = dict[str, Any]

CELL: Final = 30.0
"""Millimetres: how wide a cell is at most."""
SURE: Final = 0.2
"""Millimetres: twice what counts as contact."""


@dataclass(frozen=True)
class Body:
    """One solid.

    Attributes:
        name, kind: As written.
        holds: Tells which points are inside it, grown by some millimetres.
        grounded: None where nothing tells.
        front: Of gear, the two ends of its front and where it points; else None.
    """

    name: str
    kind: str
    holds: Holds
    grounded: bool | None
    front: tuple[Points, Points, Points] | None = None


def bodies(scene: Plain) -> list[Body]:
    """Return every solid of a scene, walls and ceiling too."""
    (x, y), height = scene["room"]["size"], scene["room"]["height"]
    material = scene["room"]["walls"] in boxes.MASONRY
    walls: dict[str, Holds] = {
        "wall-north": lambda p, g: p[:, 1] > y - g,
        "wall-south": lambda p, g: p[:, 1] < g,
        "wall-east": lambda p, g: (
            (p[:, 0] > x - g) & (abs(p[:, 1] - y / 2) < y / 2 + g)
        ),
        "wall-west": lambda p, g: (p[:, 0] < g) & (abs(p[:, 1] - y / 2) < y / 2 + g),
    }
    found = [Body(name, "wall", holds, material) for name, holds in walls.items()]
    found.append(
        Body("ceiling", "ceiling", lambda p, g: p[:, 2] > height - g, grounded=False)
    )
    return found + [_body(item) for item in scene["items"]]


def _body(item: Plain) -> Body:
    kind = item["kind"]
    grounded = None if kind in boxes.UNKNOWN else kind in boxes.GROUNDED
    if "from" in item:
        return Body(item["id"], kind, _run(item), grounded)
    middle, right, out = axes(item)
    width, depth, height = item["size"]
    bottom = item["place"].get("bottom", 0)

    def holds(points: Points, grown: float) -> Mask:
        away = points - [*middle, bottom + height / 2]
        found: Mask = (
            (abs(away[:, :2] @ right) < width / 2 + grown)
            & (abs(away[:, :2] @ out) < depth / 2 + grown)
            & (abs(away[:, 2]) < height / 2 + grown)
        )
        return found

    face = middle + out * depth / 2
    ends = (face - right * width / 2, face + right * width / 2, out)
    is_gear = kind in boxes.GEAR
    return Body(item["id"], kind, holds, grounded, ends if is_gear else None)


def _run(item: Plain) -> Holds:
    start, end = np.array(item["from"], float), np.array(item["to"], float)
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length

    def holds(points: Points, grown: float) -> Mask:
        away = points - start
        far = away @ along
        off = np.linalg.norm(away - far[:, None] * along, axis=1)
        found: Mask = (
            (off < item["diameter"] / 2 + grown)
            & (far > -grown)
            & (far < length + grown)
        )
        return found

    return holds


def axes(item: Plain) -> tuple[Points, Points, Points]:
    """Return the middle of a footprint, and where right and out point."""
    bearing = math.radians(item["place"]["facing"])
    out = np.array([math.sin(bearing), math.cos(bearing)])
    right = np.array([-math.cos(bearing), math.sin(bearing)])
    return np.array(item["place"]["at"], float), right, out


@dataclass(frozen=True)
class Cells:
    """A working space filled with points.

    Attributes:
        local: Right, out and up of each, from the left end of the front, millimetres.
        world: The same points in the room.
        reach: From a cell's middle to its corner.
        volume: Of one cell, cubic millimetres.
    """

    local: Points
    world: Points
    reach: float
    volume: float

    def shares(self, body: Body, start: float, end: float, grown: float) -> Mask:
        """Return which cells a body has, in its own part of the depth."""
        v = self.local[:, 1]
        margin = self.reach if grown > 0 else 0.0
        kept = (v > start - margin) & (v < end + margin)
        found = np.zeros(len(v), bool)
        found[kept] = body.holds(self.world[kept], grown)
        return found


def cells(item: Plain, left: float, width: float, depth: float, top: float) -> Cells:
    """Fill a box in front of an item with cells."""
    middle, right, out = axes(item)
    counts = [math.ceil(size / CELL) for size in (width, depth, top)]
    steps = np.array([width, depth, top]) / counts
    grid = np.indices(counts).reshape(3, -1).T
    local = (grid + 0.5) * steps + [left, 0.0, 0.0]
    origin = middle + out * item["size"][1] / 2 - right * item["size"][0] / 2
    plan = origin + local[:, :1] * right + local[:, 1:2] * out
    world = np.column_stack([plan, local[:, 2]])
    return Cells(local, world, float(np.linalg.norm(steps)) / 2, float(steps.prod()))


def depth_for(
    body: Body, item: Plain, depths: tuple[float, ...]
) -> tuple[float, float]:
    """Return where a body must keep out of an item's depth: for sure, and at worst."""
    one, two, three = depths
    if body.front is not None and opens_towards(body, item):
        return three, three
    if body.grounded is None:
        return one, two
    return (two, two) if body.grounded else (one, one)


def opens_towards(body: Body, item: Plain) -> bool:
    """Tell whether another item's front looks at this one's."""
    if body.front is None:
        return False
    middle, right, out = axes(item)
    left_end, _, other_out = body.front
    if float(out @ other_out) > -1e-9:
        return False
    face = middle + out * item["size"][1] / 2
    ends = (face + side * right * item["size"][0] / 2 for side in (-1, 1))
    return any(float((end - left_end) @ other_out) > boxes.CONTACT for end in ends)
