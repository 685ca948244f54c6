"""Moving an item: the words of its place stay, and only their numbers change."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from model3d.geometry.frame import turned
from model3d.scene.kinds import KINDS
from model3d.scene.parts.item import Item
from model3d.scene.parts.placement import BEARING, At, AtWall, support_of
from model3d.units import from_metres

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.scene.parts.placement import Place
    from model3d.scene.scene import Scene

Axes = tuple[tuple[float, float], tuple[float, float]]
Vector = tuple[float, float, float]
Written = float | str


def moved(scene: Scene, item: Item, by: Sequence[Written]) -> Item:
    """Return an item moved east, north and up, whatever way it is placed.

    What stands on, over or under it goes with it.

    Args:
        scene: The scene it is in; bare numbers are in its units.
        item: The item.
        by: East, north, up, as written.

    Raises:
        LengthError: It would be further away than a length may be.
    """
    east, north, up = (scene.metres(length) for length in by)
    vector = (east, north, up)
    if item.from_ is not None and item.to is not None:
        changes: dict[str, Any] = {
            "from": _plus(scene, item.from_, vector),
            "to": _plus(scene, item.to, vector),
        }
    elif item.place is None:
        changes = {"shift": _plus(scene, item.shift or (0.0, 0.0, 0.0), vector)}
    else:
        right, out = axes_of(scene, item)
        own = (
            east * right[0] + north * right[1],
            east * out[0] + north * out[1],
            up,
        )
        changes = {"place": _moved_place(scene, item, item.place, vector, own)}
    return Item.model_validate({**item.written(), **changes})


def axes_of(scene: Scene, item: Item) -> Axes:
    """Return an item's right and out in plan, as unit vectors.

    An item on, over or under another one has the axes of that one.
    """
    items = {other.id: other for other in scene.items}
    place = item.place
    while not isinstance(place, At | AtWall):
        _, below = support_of(place) or ("", "")
        place = items[below].place
    if isinstance(place, At):
        facing = "south" if place.facing is None else place.facing
        return _facing(BEARING[facing] if isinstance(facing, str) else facing)
    if place.wall in BEARING:
        return _facing(BEARING[place.wall] + 180.0)
    return _at_outline(scene, int(place.wall.removeprefix("wall-")))


def _facing(bearing: float) -> Axes:
    sine, cosine = turned(bearing)
    return (-cosine, sine), (sine, cosine)


def _at_outline(scene: Scene, number: int) -> Axes:
    outline = scene.room.outline if scene.room else None
    corners = [(scene.metres(x), scene.metres(y)) for x, y in outline or ()]
    start, end = corners[number - 1], corners[number % len(corners)]
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    # Counter-clockwise, so that the room is on the left of the way along the wall.
    return (-dx, -dy), (-dy, dx)


def _moved_place(
    scene: Scene, item: Item, place: Place, world: Vector, own: Vector
) -> dict[str, Any]:
    written = place.model_dump(exclude_unset=True)
    match place:
        case AtWall():
            written |= _height(scene, item, place, world)
            (written["along"],) = _plus(scene, (place.along,), own[:1])
            (gap,) = _plus(scene, (place.gap,), own[1:2])
            return written if gap == place.gap else {**written, "gap": gap}
        case At():
            written |= _height(scene, item, place, world)
            return {**written, "at": _plus(scene, place.at, world[:2])}
        case _:
            return {**written, "shift": _plus(scene, place.shift, own)}


def _height(
    scene: Scene, item: Item, place: At | AtWall, world: Vector
) -> dict[str, Written]:
    if place.top is not None:
        return {"top": _plus(scene, (place.top,), world[2:])[0]}
    if place.bottom is None and KINDS[item.kind].hole:
        (top,) = _plus(scene, (0.0,), world[2:])
        return {"top": top} if top else {}
    bottom = 0.0 if place.bottom is None else place.bottom
    (raised,) = _plus(scene, (bottom,), world[2:])
    return {} if raised == bottom else {"bottom": raised}


def _plus(
    scene: Scene, lengths: Sequence[Written], more: Sequence[float]
) -> list[Written]:
    """Add metres to lengths; what does not change stays as it was written."""
    found: list[Written] = []
    for length, plus in zip(lengths, more, strict=True):
        if from_metres(plus, scene.units) == 0:
            found.append(length)
            continue
        there = from_metres(scene.metres(length) + plus, scene.units)
        scene.metres(there)  # no further away than a length may be
        found.append(there)
    return found
