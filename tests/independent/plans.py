"""Random rooms in plan, and their ways out searched a second way: on a fine grid.

Nothing of the product is used here: shapes are rectangles and outlines, told apart by
signs of cross products; clearances come from a distance transform, connected places
from flood filling.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import scipy.ndimage
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Cells = NDArray[np.bool_]
Plain = dict[str, Any]

CELL: Final = 10.0
"""Millimetres between the points of the grid."""

HIGHER: Final = 1.5 * CELL
"""Millimetres. By how much a way may be wider than the grid has it: a way through its
points runs within 0.71 cells of the true one, on both sides."""

LOWER: Final = 4.5 * CELL
"""Millimetres. By how much it may be narrower: the point of the grid that is nearest to
the corner of a body may be 1.5 cells from it, and 0.71 cells are between two points."""

WIDE, DEEP, AHEAD = 800.0, 300.0, 900.0
"""Width and depth of the gear, depth of its working space."""


@dataclass(frozen=True)
class Rectangle:
    """A rectangle in plan, turned clockwise by some degrees about its middle."""

    x: float
    y: float
    width: float
    depth: float
    turn: float = 0.0

    def away(self, points: Numbers) -> Numbers:
        """Return how far points, shape (..., 2), are from it; 0 inside."""
        u, v = self.local(points)
        across = np.maximum(np.abs(u) - self.width / 2, 0.0)
        along = np.maximum(np.abs(v) - self.depth / 2, 0.0)
        return np.hypot(across, along)

    def local(self, points: Numbers) -> tuple[Numbers, Numbers]:
        """Return points along the rectangle's own width and depth."""
        angle = math.radians(self.turn)
        dx, dy = points[..., 0] - self.x, points[..., 1] - self.y
        u = dx * math.cos(angle) - dy * math.sin(angle)
        v = dx * math.sin(angle) + dy * math.cos(angle)
        return u, v


@dataclass(frozen=True)
class Plan:
    """A room in plan.

    Attributes:
        outline: Its corners, counter-clockwise, with axes-parallel sides.
        doors: Side, place along it from its left end seen from inside, and width.
        gear: Where the gear's front is: its middle, and the bearing it faces.
        boxes: What else stands there.
    """

    outline: tuple[tuple[float, float], ...]
    doors: tuple[tuple[int, float, float], ...]
    gear: tuple[float, float, float]
    boxes: tuple[Rectangle, ...]

    @property
    def body(self) -> Rectangle:
        """The gear itself, behind its front."""
        x, y, bearing = self.gear
        dx, dy = facing(bearing)
        return Rectangle(x - dx * DEEP / 2, y - dy * DEEP / 2, WIDE, DEEP, bearing)

    @property
    def space(self) -> Rectangle:
        """Its working space, before its front."""
        x, y, bearing = self.gear
        dx, dy = facing(bearing)
        return Rectangle(x + dx * AHEAD / 2, y + dy * AHEAD / 2, WIDE, AHEAD, bearing)

    def opening(self, door: tuple[int, float, float]) -> tuple[Numbers, Numbers]:
        """Return both ends of a door's opening: left and right, seen from inside."""
        side, along, width = door
        start = np.array(self.outline[side])
        end = np.array(self.outline[(side + 1) % len(self.outline)])
        step = (start - end) / np.linalg.norm(start - end)
        return end + along * step, end + (along + width) * step

    def passage(self, door: tuple[int, float, float], far: float) -> Rectangle:
        """Return the floor beyond a door."""
        left, right = self.opening(door)
        along = (right - left) / door[2]
        out = np.array([-along[1], along[0]])
        # Outside is to the left of the way from the left end to the right end.
        middle = (left + right) / 2 + out * far / 2
        turn = math.degrees(math.atan2(-along[1], along[0]))
        return Rectangle(float(middle[0]), float(middle[1]), door[2], far, turn)


def facing(bearing: float) -> tuple[float, float]:
    """Return the unit vector of a bearing, clockwise from north."""
    return math.sin(math.radians(bearing)), math.cos(math.radians(bearing))


def random_plan(seed: int) -> Plan:
    """Return a room with one or two doors, rectangular or with a corner cut out."""
    rng = np.random.default_rng(seed)
    x, y = rng.uniform(3500, 6500), rng.uniform(3000, 5500)
    outline = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)]
    if seed % 3 == 0:
        # A corner is cut out: the room is an L.
        cx, cy = x * rng.uniform(0.4, 0.6), y * rng.uniform(0.4, 0.6)
        outline = [(0.0, 0.0), (x, 0.0), (x, cy), (cx, cy), (cx, y), (0.0, y)]
    doors: list[tuple[int, float, float]] = []
    for _ in range(1 + seed % 2):
        # Not in the two sides that meet at the inner corner: there is no room beyond.
        side = int(rng.integers(0, 2)) if len(outline) > 4 else int(rng.integers(0, 3))
        length = math.dist(outline[side], outline[(side + 1) % len(outline)])
        width = float(rng.choice([600, 700, 800, 900]))
        along = float(rng.uniform(50, length - width - 50))
        apart = (abs(along - at) > 1200 for other, at, _ in doors if other == side)
        if all(apart):
            doors.append((side, along, width))
    # The gear stands at the west wall and faces east.
    gear = (DEEP, float(rng.uniform(WIDE / 2, y - WIDE / 2)), 90.0)
    keep = Plan(tuple(outline), tuple(doors), gear, ()).space
    boxes: list[Rectangle] = []
    while len(boxes) < 4 + seed % 5:
        width, depth = rng.uniform(300, 1600), rng.uniform(200, 900)
        turn = float(rng.choice([0.0, 0.0, 90.0, rng.uniform(0, 180)]))
        here = rng.uniform(0, x), rng.uniform(0, y)
        box = Rectangle(*here, float(width), float(depth), turn)
        if not _overlap(box, keep):
            boxes.append(box)
    return Plan(tuple(outline), tuple(doors), gear, tuple(boxes))


def _overlap(box: Rectangle, keep: Rectangle) -> bool:
    """Tell whether two rectangles have any of a fine net of points in common."""
    side = np.linspace(-0.5, 0.5, 60)
    u, v = np.meshgrid(side * box.width, side * box.depth)
    angle = math.radians(box.turn)
    x = box.x + u * math.cos(angle) + v * math.sin(angle)
    y = box.y - u * math.sin(angle) + v * math.cos(angle)
    return bool((keep.away(np.stack([x, y], axis=-1)) < 2 * CELL).any())


def scene_of(plan: Plan, **keys: object) -> Plain:
    """Return the room in the product's own format."""
    bodies = [(plan.body, "MSB", "panelboard", 2000.0)]
    bodies += [(box, f"B{n}", "machine", 1500.0) for n, box in enumerate(plan.boxes)]
    items: list[Plain] = [
        {
            "id": name,
            "kind": kind,
            "size": [box.width, box.depth, tall],
            "place": {"at": [box.x, box.y], "facing": box.turn % 360},
        }
        for box, name, kind, tall in bodies
    ]
    items[0] |= {"supply": {"system": "208Y/120", "amps": 100}, "door": "bolted"} | keys
    return {
        "title": "Random",
        "units": "mm",
        "rules": "nec-2017",
        "room": {
            "outline": [list(corner) for corner in plan.outline],
            "height": 3000,
            "walls": "gypsum",
            "doors": [
                {
                    "id": f"D{n}",
                    "wall": f"wall-{side + 1}",
                    "along": along,
                    "width": width,
                    "height": 2100,
                    "opens": "out",
                }
                for n, (side, along, width) in enumerate(plan.doors)
            ],
        },
        "items": items,
    }


class Grid:
    """A room as points that are free or not, with the clearance of each."""

    def __init__(self, plan: Plan, leaves: tuple[Rectangle, ...] = ()) -> None:
        """Mark every point of the room and of the floor beyond its doors."""
        far = 2 * max(width for _, _, width in plan.doors)
        corners = np.array(plan.outline)
        low, high = corners.min(axis=0) - far, corners.max(axis=0) + far
        xs = np.arange(low[0], high[0], CELL)
        ys = np.arange(low[1], high[1], CELL)
        points = np.stack(np.meshgrid(xs, ys, indexing="ij"), axis=-1)
        free = _inside(points, plan.outline)
        self.outside = np.zeros_like(free)
        for door in plan.doors:
            beyond = plan.passage(door, 2 * door[2])
            free |= beyond.away(points) <= 0
            # The threshold itself, which belongs to neither.
            free |= plan.passage(door, CELL).away(points) <= CELL / 2
            goal = plan.passage(door, door[2] + 3 * CELL).away(points) > 0
            self.outside |= (beyond.away(points) <= 0) & goal
        for box in (plan.body, *plan.boxes):
            free &= box.away(points) > 0
        for leaf in leaves:
            free &= leaf.away(points) > 0
        self.standing = free & (plan.space.away(points) <= 0)
        self.clear = CELL * scipy.ndimage.distance_transform_edt(free)

    def leads_out(self, width: float) -> Cells:
        """Return which points are connected to the outside for a person of a width."""
        places, _ = scipy.ndimage.label(
            self.clear >= width / 2, structure=np.ones((3, 3))
        )
        out = np.unique(places[self.outside & (places > 0)])
        found: Cells = np.isin(places, out) & (places > 0)
        return found

    def widest(self) -> float:
        """Return the width of the widest way from the working space to the outside."""
        low, high = 0.0, 4000.0
        while high - low > 2.0:
            middle = (low + high) / 2
            if (self.leads_out(middle) & self.standing).any():
                low = middle
            else:
                high = middle
        return low


def _inside(points: Numbers, outline: tuple[tuple[float, float], ...]) -> Cells:
    """Tell which points are inside: an odd number of sides is to the east."""
    x, y = points[..., 0], points[..., 1]
    inside = np.zeros(x.shape, dtype=bool)
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        if ay != by:
            between = (y > ay) != (y > by)
            inside ^= between & (x < ax + (y - ay) * (bx - ax) / (by - ay))
    return inside
