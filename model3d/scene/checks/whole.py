"""What must fit together in a scene apart from its items and its lesson."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.checks.files import rules_mistakes
from model3d.scene.checks.lengths import length_mistakes
from model3d.scene.checks.room import room_mistakes
from model3d.scene.checks.setting import SIDES, doors_of
from model3d.scene.checks.stated import stated_mistakes
from model3d.scene.lesson import PLACES
from model3d.scene.site import USES
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import nearest
from model3d.scene.words.seen import as_seen

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.scene.checks.setting import Setting
    from model3d.scene.item import Item
    from model3d.scene.site import Site
    from model3d.scene.words.mistakes import Found, Loc

_ALMOST: Final = 0.8


def whole_mistakes(
    site: Site, items: list[tuple[int, Item]], setting: Setting
) -> list[Found]:
    """Return what does not fit together in a scene but its items and its lesson."""
    return [
        *_use(site.use),
        *stated_mistakes(site),
        *rules_mistakes(site, setting.folder),
        *room_mistakes(site, setting),
        *length_mistakes(site, setting.ruler, ("items", "lesson")),
        *_ids(site, items, reserved_ids(setting)),
    ]


def reserved_ids(setting: Setting) -> set[str]:
    """Return the ids of the room's own parts, which no item and no door may have."""
    reserved = {"floor", "ceiling", *PLACES, *(f"wall-{side}" for side in SIDES)}
    reserved.update(setting.walls or ())
    return reserved - {*SIDES}


def _use(use: object) -> list[Found]:
    if not isinstance(use, str) or use in USES:
        return []
    # A misspelt use would switch its rules off without a word.
    meant = nearest(use, USES, _ALMOST)
    return [(("use",), f"found {found(use)}, right is {meant}")] if meant else []


def _ids(
    site: Site, items: list[tuple[int, Item]], reserved: Collection[str]
) -> list[Found]:
    mistakes: list[Found] = []
    taken: dict[str, str] = {}
    named: list[tuple[Loc, str]]
    named = [(("room", "doors", n, "id"), door.id) for n, door in doors_of(site)]
    named += [(("items", n, "id"), item.id) for n, item in items]
    for where, name in named:
        if not isinstance(name, str):
            continue
        seen = as_seen(name)
        right = "right is an id of its own"
        if taken.get(seen) == name:
            mistakes.append((where, f"found {found(name)} again, {right}"))
        elif other := taken.get(seen):
            looks = f"which looks like the id {found(other)}"
            mistakes.append((where, f"found {found(name)}, {looks}, {right}"))
        elif seen in reserved:
            message = f"found {found(name)}, a part of the room, right is another id"
            mistakes.append((where, message))
        taken.setdefault(seen, name)
    return mistakes
