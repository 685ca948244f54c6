"""What must fit together across a scene: every mistake no value shows by itself.

The same checks serve a file, whose reader knows the line of every place they name, and
a scene made in Python.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.filechecks import rules_mistakes
from model3d.scene.itemchecks import item_mistakes
from model3d.scene.lessonchecks import lesson_mistakes
from model3d.scene.mistakes import found
from model3d.scene.nearest import nearest
from model3d.scene.placechecks import circle_message, circles, support_mistakes
from model3d.scene.roomchecks import room_mistakes
from model3d.scene.statedchecks import stated_mistakes
from model3d.scene.written import (
    LIMITED,
    OUTDOOR,
    SIDES,
    mapping,
    rows,
    setting_of,
    supports,
    text,
    within,
)

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping
    from pathlib import Path

    from model3d.scene.mistakes import Loc
    from model3d.scene.written import Found, Raw

USES: Final = (
    "electrical-room",
    "battery-room",
    *LIMITED,
    OUTDOOR,
)
"""The uses some rule knows; any other word is a use without rules of its own."""
_ALMOST: Final = 0.8


def cross_mistakes(scene: Raw, folder: Path) -> list[Found]:
    """Return what does not fit together in a scene, each with its place.

    Args:
        scene: The scene as plain data with the keys of the file format. It need not
            be right: what has a mistake of its own is passed over.
        folder: Where the files are that the scene names.
    """
    setting = setting_of(scene, folder)
    numbered = rows(scene.get("items"))
    items = _by_id(numbered)
    doors = _by_id(rows(mapping(scene.get("room")).get("doors")))
    reserved = {"floor", "ceiling", *(f"wall-{side}" for side in SIDES)}
    reserved.update(setting.walls or ())
    reserved.difference_update(SIDES)
    mistakes = [
        *_use(scene),
        *stated_mistakes(scene),
        *rules_mistakes(scene, folder),
        *room_mistakes(scene, setting),
        *_ids(scene, reserved),
    ]
    for number, item in numbered:
        own = item_mistakes(item, setting)
        own += support_mistakes(text(item.get("id")), item, items)
        mistakes += within(("items", number), own)
    mistakes += _circles(numbered, items)
    mistakes += lesson_mistakes(scene, items, doors, reserved, setting)
    return [*dict.fromkeys(mistakes)]


def _use(scene: Raw) -> list[Found]:
    use = scene.get("use")
    if not isinstance(use, str) or use in USES:
        return []
    # A misspelt use would switch its rules off without a word.
    meant = nearest(use, USES, _ALMOST)
    return [(("use",), f"found {found(use)}, right is {meant}")] if meant else []


def _by_id(numbered: list[tuple[int, Raw]]) -> dict[str, Raw]:
    by_id: dict[str, Raw] = {}
    for _, item in numbered:
        own_id = text(item.get("id"))
        if own_id is not None:
            by_id.setdefault(own_id, item)
    return by_id


def _ids(scene: Raw, reserved: Collection[str]) -> list[Found]:
    mistakes: list[Found] = []
    taken: set[str] = set()
    doors = rows(mapping(scene.get("room")).get("doors"))
    named: list[tuple[Loc, Raw]]
    named = [(("room", "doors", number, "id"), door) for number, door in doors]
    named += [(("items", n, "id"), item) for n, item in rows(scene.get("items"))]
    for where, thing in named:
        own_id = text(thing.get("id"))
        if own_id is None:
            continue
        if own_id in taken:
            message = f"found {found(own_id)} again, right is an id of its own"
            mistakes.append((where, message))
        elif own_id in reserved:
            message = f"found {found(own_id)}, a part of the room, right is another id"
            mistakes.append((where, message))
        taken.add(own_id)
    return mistakes


def _circles(numbered: list[tuple[int, Raw]], items: Mapping[str, Raw]) -> list[Found]:
    mistakes: list[Found] = []
    rings = circles(items)
    number_of = {text(item.get("id")): n for n, item in reversed(numbered)}
    for ring in rings:
        first = ring[0]
        key = supports(items[first])[0][0]
        where = ("items", number_of[first], "place", key)
        mistakes.append((where, circle_message(ring)))
    return mistakes
