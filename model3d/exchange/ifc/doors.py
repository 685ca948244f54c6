"""The doors of a room: which wall, where along it, and which way they swing.

The leaf opens to +Y of the door's own placement; SINGLE_SWING_LEFT has its hinge at
small X and RIGHT at large X (IFC 4.3, IfcDoor; held against the swing arcs that plans
of two real models have: 116 of 116).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.geometry.bodies.clipping import winding

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.ifc.element import Element
    from model3d.exchange.ifc.gear.likely_front import ElementBody
    from model3d.geometry.frame import Corner

_SINGLE: Final = {
    "SINGLE_SWING_LEFT": -1.0,
    "SINGLE_SWING_RIGHT": 1.0,
    "DOUBLE_SWING_LEFT": -1.0,
    "DOUBLE_SWING_RIGHT": 1.0,
}
"""Of one leaf; which way along X its hinge lies."""
_BOTH_WAYS: Final = frozenset(
    {"DOUBLE_SWING_LEFT", "DOUBLE_SWING_RIGHT", "DOUBLE_DOOR_DOUBLE_SWING"}
    | {"DOUBLE_PANEL_DOUBLE_SWING", "DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_LEFT"}
    | {"DOUBLE_PANEL_SINGLE_SWING_OPPOSITE_LEFT"}
    | {"DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_RIGHT"}
    | {"DOUBLE_PANEL_SINGLE_SWING_OPPOSITE_RIGHT"}
)
"""Of which no side of the wall can be said."""
_PAIRS: Final = frozenset(
    {"DOUBLE_DOOR_SINGLE_SWING", "DOUBLE_PANEL_SINGLE_SWING"}
    | {one for one in _BOTH_WAYS if one.startswith(("DOUBLE_DOOR", "DOUBLE_PANEL"))}
)
_OTHER: Final = (
    ("SLIDING", "it slides"),
    ("FOLDING", "it folds"),
    ("REVOLVING", "it revolves"),
    ("ROLLING", "it rolls up"),
    ("LIFTING", "it is lifted"),
)
"""How doors open that have no leaf on hinges, by a part of the word."""
_FIXED: Final = {"SWING_FIXED_LEFT", "SWING_FIXED_RIGHT"}
"""One leaf beside a panel that stays: how wide each is, is not said."""
_THICKEST: Final = 0.6
"""Metres of wall between a door's middle and the face that the room has."""
_GAP: Final = 0.2
"""Metres that a frame may stand back from that face."""
_BESIDE: Final = 0.05
"""Metres beside a door at which it is asked whether there is a wall."""
_SHARES: Final = (0.1, 0.5, 0.9)
_HALF: Final = 0.5
_PARALLEL: Final = 0.05
_THRESHOLD: Final = 0.05
"""Metres by which a door's body may begin below or above the floor for its lining."""


@dataclass(frozen=True, slots=True)
class InWall:
    """A door in a wall of a room.

    Attributes:
        element: The door.
        data: As a scene writes it, lengths in metres, without its id.
        notes: What was taken for granted.
    """

    element: Element
    data: dict[str, Any]
    notes: tuple[str, ...]


def doors_of(
    outline: Sequence[Corner],
    floor: float,
    top: float,
    doors: Sequence[Element],
    walls: Sequence[ElementBody] = (),
) -> Iterator[InWall]:
    """Yield the doors of a room, in the order of the model.

    Args:
        outline: Its corners, counter-clockwise.
        floor: World height of the floor.
        top: World height of the ceiling.
        doors: All of the building.
        walls: All of the building, for doors that stand deep in a thick one.
    """
    for door in doors:
        if not door.meshed:
            continue
        low, high = door.points[:, 2].min(), door.points[:, 2].max()
        if low > top or high < floor + _THRESHOLD or low < floor - 1.0:
            continue
        if (found := _in_wall(outline, floor, door, walls)) is not None:
            yield found


def _in_wall(
    outline: Sequence[Corner],
    floor: float,
    door: Element,
    walls: Sequence[ElementBody],
) -> InWall | None:
    turn = door.matrix[:3, :3]
    local = (door.points - door.matrix[:3, 3]) @ turn
    middle_x = (local[:, 0].min() + local[:, 0].max()) / 2
    body = float(np.ptp(local[:, 0]))
    deep = float(np.ptp(local[:, 1]))
    width = min(door.overall[0] or body, body)
    height = door.overall[1] or float(np.ptp(local[:, 2]))
    middle_y = (local[:, 1].min() + local[:, 1].max()) / 2
    x, y, _ = door.matrix[:3, 3] + turn @ np.array([middle_x, middle_y, 0.0])
    best: tuple[float, int, float] | None = None
    for number, (a, b) in enumerate(
        zip(outline, (*outline[1:], outline[0]), strict=True)
    ):
        length = math.dist(a, b)
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        if abs(dx * turn[1, 0] - dy * turn[0, 0]) > _PARALLEL:
            continue
        along = (x - a[0]) * dx + (y - a[1]) * dy
        off = abs((y - a[1]) * dx - (x - a[0]) * dy)
        between = off - deep / 2
        if between > _GAP and not _one_wall(
            (a[0] + along * dx, a[1] + along * dy),
            (dx, dy),
            width,
            between,
            door,
            walls,
        ):
            continue  # in another wall behind this one
        fits = width / 2 - _THRESHOLD <= along <= length - width / 2 + _THRESHOLD
        if fits and off <= _THICKEST and (best is None or off < best[0]):
            best = off, number, length - along
    if best is None:
        return None
    _, number, middle = best
    a, b = outline[number], outline[(number + 1) % len(outline)]
    data: dict[str, Any] = {
        "wall": f"wall-{number + 1}",
        "along": max(middle - width / 2, 0.0),
        "width": min(width, math.dist(a, b)),
        "height": height,
        "overall": True,
    }
    sill = float(door.points[:, 2].min()) - floor
    if abs(sill) > _THRESHOLD:
        data["sill"] = sill
    notes: list[str] = []
    return InWall(door, data | _swing(door, a, b, notes), tuple(notes))


def _one_wall(
    at: Corner,
    along: Corner,
    width: float,
    between: float,
    door: Element,
    walls: Sequence[ElementBody],
) -> bool:
    """Tell whether one wall goes on from a room's face to a door that is set back.

    Args:
        at: Where the door is on the face.
        along: Which way the face runs, the room on its left.
        width: Of the door.
        between: How far it is set back, metres.
        door: The door.
        walls: All of the building.
    """
    (x, y), (dx, dy) = at, along
    aside = width / 2 + _BESIDE
    high = float(door.points[:, 2].min() + np.ptp(door.points[:, 2]) / 2)
    points = np.array(
        [
            (x + side * dx + back * dy, y + side * dy - back * dx, high)
            for side in (-aside, aside)
            for back in (between * share for share in _SHARES)
        ]
    )
    inside = np.zeros(len(points), dtype=bool)
    for body in walls:
        low, top = body.bounds
        if (low < points.max(axis=0)).all() and (top > points.min(axis=0)).all():
            inside |= np.abs(winding(body.triangles, points)) > _HALF
    return bool(inside.reshape(2, -1).all(axis=1).any())


def _swing(door: Element, a: Corner, b: Corner, notes: list[str]) -> dict[str, Any]:
    swing = door.operation
    if not swing:
        notes.append("how it swings is not said in the model")
        return {}
    single, is_pair = _SINGLE.get(swing), swing in _PAIRS
    if swing in _FIXED:
        notes.append("one leaf swings and one panel stays: say the leaf's width, hinge")
        return {"opens": _side(door, a, b)}
    if single is None and not is_pair:
        notes.append(_without_hinge(swing))
        return {}
    hinge = "pair"
    if single is not None:
        # Inside, facing the wall, right is from b to a.
        right = a[0] - b[0], a[1] - b[1]
        across_x, across_y = door.matrix[:2, 0] * single
        hinge = "right" if across_x * right[0] + across_y * right[1] > 0 else "left"
    if swing in _BOTH_WAYS:
        notes.append("it swings both ways, or its leaves differ: say opens, in or out")
        return {"hinge": hinge}
    return {"opens": _side(door, a, b), "hinge": hinge}


def _side(door: Element, a: Corner, b: Corner) -> str:
    """Return the side of a wall to which the leaf of a door opens."""
    inward = -(b[1] - a[1]), b[0] - a[0]
    out_x, out_y = door.matrix[:2, 1]
    return "in" if out_x * inward[0] + out_y * inward[1] > 0 else "out"


def _without_hinge(operation: str) -> str:
    """Return what is told of a door without a leaf on hinges."""
    how = next((said for word, said in _OTHER if word in operation), None)
    if how is None:
        return f"how it opens is not known ({operation}): say opens and hinge"
    return (
        f"{how} ({operation}), which a scene has no word for: its leaf is tested as if "
        "it swung, in or out; ways out through it stay open"
    )
