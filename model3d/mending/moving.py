"""Moves of an item as changes, said by somebody who stands in front of it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.mending.proof.search import Family
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.moves import axes_of
from model3d.units import from_metres
from model3d.wording.said import Named, joined, say

if TYPE_CHECKING:
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.lesson import Change
    from model3d.scene.scene import Scene

Vector = tuple[float, float, float]

UP: Final[Vector] = (0.0, 0.0, 1.0)
DOWN: Final[Vector] = (0.0, 0.0, -1.0)
COMPASS: Final[dict[str, Vector]] = {
    "east": (1.0, 0.0, 0.0),
    "west": (-1.0, 0.0, 0.0),
    "north": (0.0, 1.0, 0.0),
    "south": (0.0, -1.0, 0.0),
}
_FURTHEST: Final = 3.0
"""Metres. No remedy moves a thing further."""
_NOTHING: Final = 5e-5
"""Metres. Less is no move."""


def move(scene: Scene, name: str, by: Vector) -> MoveItem:
    """Return the change that moves an item, in the scene's units."""
    lengths = tuple(from_metres(round(part, 7), scene.units) + 0.0 for part in by)
    return MoveItem(move=name, by=(lengths[0], lengths[1], lengths[2]))


def along(bench: Bench, name: str, way: Vector, words: str, least: float) -> Family:
    """Return the moves of an item one way.

    Args:
        bench: The scene.
        name: The item's id.
        way: A unit vector.
        words: The way in words: "back", "to the left".
        least: What is tried first, metres.
    """

    def do(amount: float) -> tuple[Change, ...]:
        return (move(bench.scene, name, tuple(part * amount for part in way)),)  # type: ignore[arg-type]

    def clause(amount: float) -> str:
        if words in {"raise", "lower"}:
            return say(
                "{} {} by {}", words.capitalize(), Named(name), bench.length(amount)
            )
        return say("Move {} {} {}", Named(name), bench.length(amount), words)

    return Family(do, clause, least, _room_ahead(bench, name, way))


def _room_ahead(bench: Bench, name: str, way: Vector) -> float:
    """Return how far a thing may go one way before it has left the room, metres."""
    arrangement = bench.report.arrangement
    if arrangement is None:
        return _FURTHEST
    low, high = arrangement.items[name].solid.bounds
    if way == DOWN:
        return min(max(low[2], 0.0), _FURTHEST)
    height = arrangement.shell.height
    if way == UP and height is not None:
        return min(max(height - high[2], 0.0), _FURTHEST)
    return _FURTHEST


def placed(bench: Bench, name: str, by: tuple[float, float]) -> Family:
    """Return the one move of an item in plan by a displacement, metres."""
    item = next(one for one in bench.scene.items if one.id == name)
    way = (by[0], by[1], 0.0)

    def do(_: float) -> tuple[Change, ...]:
        return (move(bench.scene, name, way),)

    def clause(_: float) -> str:
        return say("Move {} {}", Named(name), in_plan(bench, item, by))

    size = math.hypot(*by)
    return Family(do, clause, size, size, fixed=True)


def in_plan(bench: Bench, item: Item, by: tuple[float, float]) -> str:
    """Say a move in plan: along an item's own axes, or by the compass."""
    if item.place is not None:
        right, out = axes_of(bench.scene, item)
        across = by[0] * right[0] + by[1] * right[1]
        ahead = by[0] * out[0] + by[1] * out[1]
        words = (("to the right", "to the left"), ("forward", "back"))
    else:
        across, ahead = by
        words = (("east", "west"), ("north", "south"))
    parts = [
        say("{} {}", bench.length(abs(amount)), pair[0] if amount > 0 else pair[1])
        for amount, pair in ((across, words[0]), (ahead, words[1]))
        if abs(amount) > _NOTHING
    ]
    return joined(" and ", parts)


def own_ways(bench: Bench, item: Item) -> dict[str, Vector]:
    """Return the ways of an item in plan by their words; of a run the compass'."""
    if item.place is None:
        return COMPASS
    right, out = axes_of(bench.scene, item)
    return {
        "to the right": (right[0], right[1], 0.0),
        "to the left": (-right[0], -right[1], 0.0),
        "forward": (out[0], out[1], 0.0),
        "back": (-out[0], -out[1], 0.0),
    }
