"""Where items stand: walls that are there, and items that stand on one another."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.checks.front import frontless
from model3d.scene.parts.item import RUN_KEYS
from model3d.scene.parts.placement import At, AtWall, support_of
from model3d.scene.words.mistakes import KeyStep, found
from model3d.scene.words.nearest import hint, listed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.checks.setting import Setting
    from model3d.scene.parts.item import Item
    from model3d.scene.words.mistakes import Found

_MOST_NAMES: Final = 12
"""Longer lists of what would be right help nobody."""


def place_mistakes(item: Item, setting: Setting) -> list[Found]:
    """Return what is wrong with an item's place by itself, each with its place."""
    place = item.place
    mistakes: list[Found] = []
    if isinstance(place, At | AtWall) and place.said("bottom") and place.said("top"):
        message = "found bottom and top, right is one of them"
        mistakes.append((("place", KeyStep("top")), message))
    wall = place.wall if isinstance(place, AtWall) else None
    if fault := wall_fault(wall, setting):
        mistakes.append((("place", "wall"), fault))
    return mistakes


def wall_fault(wall: object, setting: Setting) -> str | None:
    """Return the message about a wall that cannot be stood against, or None."""
    if not isinstance(wall, str) or setting.walls is None:
        return None
    if not setting.walls:
        return f"found {found(wall)}, right is another place: here is no wall"
    if wall not in setting.walls:
        return f"found {found(wall)}, right is {wall_names(wall, setting.walls)}"
    if wall in setting.open_sides:
        return f"found {found(wall)}, which is open, right is a side with a wall"
    return None


def wall_names(wall: str, walls: Mapping[str, object]) -> str:
    """Return the walls there are, in a few words, and the one like ``wall``."""
    names = [*walls]
    if len(names) > _MOST_NAMES:
        names = [f"{names[0]} to {names[-1]}"]
    return f"{listed(names)}{hint(wall, walls)}"


def support_mistakes(item: Item, items: Mapping[str, Item]) -> list[Found]:
    """Return what is wrong with what an item stands on, over or under."""
    support = support_of(item.place)
    if support is None:
        return []
    key, target = support
    other = items.get(target)
    if target == item.id:
        what, right = ", the item itself", "another item"
    elif other is None:
        what, right = "", f"the id of an item{hint(target, items)}"
    elif any(other.said(run) for run in RUN_KEYS):
        what, right = ", a run", "an item with a footprint"
    elif frontless(other) == "points":
        what, right = ", a scan", "an item with a footprint"
    elif frontless(other) and not other.said("place"):
        what, right = ", a mesh without a place", "a place"
    elif other.uncertain is True:
        what, right = ", which is uncertain", "an item of which the size is known"
    elif _waits(other):
        what, right = ", which has no place yet", "an item with a place"
    else:
        return []
    return [(("place", key), f"found {found(target)}{what}, right is {right}")]


def _waits(item: Item) -> bool:
    """Tell whether an item has no place; one that is misspelt has its line already."""
    unknown = item.model_fields_set - {*type(item).model_fields}
    return item.said("size") and not item.said("place") and not unknown


def circles(below: Mapping[str, str | None]) -> list[list[str]]:
    """Return every circle of items that stand on one another, each once.

    A circle starts and ends with its first item in the order of ``below``, which says
    what each stands on. An item that stands on itself is none: that is a mistake of
    its own.
    """
    order = {name: number for number, name in enumerate(below)}
    found_circles: list[list[str]] = []
    done: set[str] = set()
    for start in below:
        way: dict[str, None] = {}
        here = start
        while here in below and here not in done and here not in way:
            way[here] = None
            here = below[here] or ""
        if here in way:
            ring = [*way][[*way].index(here) :]
            if len(ring) > 1:
                found_circles.append(_from_first(ring, order))
        done.update(way)
    return found_circles


def circle_message(circle: list[str]) -> str:
    """Return the message about items that stand on one another in a circle."""
    few = 5
    names = circle if len(circle) <= few else [*circle[: few - 2], "...", circle[-1]]
    return f"found a circle, {' on '.join(names)}, right is a chain with an end"


def _from_first(ring: list[str], order: Mapping[str, int]) -> list[str]:
    turn = ring.index(min(ring, key=order.__getitem__))
    return [*ring[turn:], *ring[:turn], ring[turn]]
