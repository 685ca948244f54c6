"""Where items stand: walls that are there, and items that stand on one another."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.mistakes import Key, found
from model3d.scene.nearest import hint, listed
from model3d.scene.written import RUN_KEYS, mapping, said, supports, text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.written import Found, Raw, Setting

_MOST_NAMES: Final = 12
"""Longer lists of what would be right help nobody."""


def place_mistakes(item: Raw, setting: Setting) -> list[Found]:
    """Return what is wrong with an item's place by itself, each with its place."""
    place = mapping(item.get("place"))
    mistakes: list[Found] = []
    if said(place, "bottom") and said(place, "top"):
        message = "found bottom and top, right is one of them"
        mistakes.append((("place", Key("top")), message))
    fault = wall_fault(text(place.get("wall")), setting)
    if fault:
        mistakes.append((("place", "wall"), fault))
    return mistakes


def wall_fault(wall: str | None, setting: Setting) -> str | None:
    """Return the message about a wall that cannot be stood against, or None."""
    if wall is None or setting.walls is None:
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


def support_mistakes(
    own_id: str | None, item: Raw, items: Mapping[str, Raw]
) -> list[Found]:
    """Return what is wrong with what an item stands on, over or under."""
    mistakes: list[Found] = []
    for key, target in supports(item):
        if target == own_id:
            message = f"found {found(target)}, the item itself, right is another item"
        elif target not in items:
            near = hint(target, items)
            message = f"found {found(target)}, right is the id of an item{near}"
        elif any(said(items[target], run) for run in RUN_KEYS):
            message = f"found {found(target)}, a run, right is an item with a footprint"
        elif said(items[target], "mesh") and not said(items[target], "place"):
            message = f"found {found(target)}, a mesh without a place, right is a place"
        else:
            continue
        mistakes.append((("place", key), message))
    return mistakes


def circle_from(start: str, items: Mapping[str, Raw]) -> list[str]:
    """Return the ids from ``start`` round to itself, or nothing.

    An item that stands on itself is no circle: that is a mistake of its own.
    """
    way = [start]
    seen = {start}
    while True:
        below = _support(way[-1], items)
        if below is None or below == way[-1] or (below in seen and below != start):
            return []
        way.append(below)
        if below == start:
            return way
        seen.add(below)


def circles(items: Mapping[str, Raw]) -> list[list[str]]:
    """Return every circle of items that stand on one another, each once.

    A circle starts and ends with its first item in the order of ``items``. An item
    that stands on itself is none: that is a mistake of its own.
    """
    order = {name: number for number, name in enumerate(items)}
    found_circles: list[list[str]] = []
    done: set[str] = set()
    for start in items:
        way: list[str] = []
        here: str | None = start
        on_way: set[str] = set()
        while here is not None and here not in done and here not in on_way:
            way.append(here)
            on_way.add(here)
            here = _support(here, items)
        if here in on_way and here is not None:
            ring = way[way.index(here) :]
            if len(ring) > 1:
                found_circles.append(_from_first(ring, order))
        done |= on_way
    return found_circles


def circle_message(circle: list[str]) -> str:
    """Return the message about items that stand on one another in a circle."""
    few = 5
    names = circle if len(circle) <= few else [*circle[: few - 2], "...", circle[-1]]
    return f"found a circle, {' on '.join(names)}, right is a chain with an end"


def _support(own_id: str, items: Mapping[str, Raw]) -> str | None:
    below = supports(items[own_id])
    return below[0][1] if below and below[0][1] in items else None


def _from_first(ring: list[str], order: Mapping[str, int]) -> list[str]:
    turn = ring.index(min(ring, key=order.__getitem__))
    return [*ring[turn:], *ring[:turn], ring[turn]]
