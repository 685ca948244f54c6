"""What must fit together in a scene apart from its items and its lesson."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.checks.files import rules_mistakes
from model3d.scene.checks.room import room_mistakes
from model3d.scene.checks.stated import stated_mistakes
from model3d.scene.lesson import PLACES
from model3d.scene.mistakes import found
from model3d.scene.nearest import nearest
from model3d.scene.written import LIMITED, OUTDOOR, SIDES, mapping, rows, text

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.scene.mistakes import Loc
    from model3d.scene.written import Found, Raw, Setting

USES: Final = (
    "electrical-room",
    "battery-room",
    *LIMITED,
    OUTDOOR,
)
"""The uses some rule knows; any other word is a use without rules of its own."""
_ALMOST: Final = 0.8


def whole_mistakes(scene: Raw, setting: Setting) -> list[Found]:
    """Return what does not fit together in a scene but its items and its lesson."""
    return [
        *_use(scene),
        *stated_mistakes(scene),
        *rules_mistakes(scene, setting.folder),
        *room_mistakes(scene, setting),
        *_ids(scene, reserved_ids(setting)),
    ]


def reserved_ids(setting: Setting) -> set[str]:
    """Return the ids of the room's own parts, which no item and no door may have."""
    reserved = {"floor", "ceiling", *PLACES, *(f"wall-{side}" for side in SIDES)}
    reserved.update(setting.walls or ())
    return reserved - {*SIDES}


def _use(scene: Raw) -> list[Found]:
    use = scene.get("use")
    if not isinstance(use, str) or use in USES:
        return []
    # A misspelt use would switch its rules off without a word.
    meant = nearest(use, USES, _ALMOST)
    return [(("use",), f"found {found(use)}, right is {meant}")] if meant else []


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
