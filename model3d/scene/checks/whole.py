"""What must fit together in a scene apart from its items and its lesson."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.checks.files import rules_mistakes
from model3d.scene.checks.lengths import length_mistakes
from model3d.scene.checks.room import room_mistakes
from model3d.scene.checks.setting import SIDES, doors_of, room_of
from model3d.scene.parts.lesson import PLACES
from model3d.scene.parts.site import LIMITED, OUTDOOR, USES
from model3d.scene.parts.stated import Lighting, Stated
from model3d.scene.words.mistakes import KeyStep, found, within
from model3d.scene.words.nearest import nearest
from model3d.scene.words.seen import as_seen

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.scene.checks.setting import Setting
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.site import Site
    from model3d.scene.words.mistakes import Found, Loc

_ALMOST: Final = 0.8
_PREMISES: Final = ("new", "existing-dwelling")
"""Premises in which no replaced gear may keep a smaller space."""


def whole_mistakes(
    site: Site, items: list[tuple[int, Item]], setting: Setting
) -> list[Found]:
    """Return what does not fit together in a scene but its items and its lesson."""
    return [
        *_use(site.use),
        *_stated(site),
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


def _stated(site: Site) -> list[Found]:
    """Return what is said twice, or means nothing, at the scene and in its room."""
    room = room_of(site)
    parts: list[tuple[Loc, Stated]] = [((), site)]
    mistakes: list[Found] = []
    if room:
        parts.append((("room",), room))
        mistakes = [
            (
                ("room", KeyStep(key)),
                f"found {key} at the scene and in the room, right is one of them",
            )
            for key in Stated.model_fields
            if site.said(key) and room.said(key)
        ]
    for where, part in parts:
        found = [*_lighting(part, site), *_opening(part, site)]
        mistakes += within(where, found + _procedures(part, site))
    return mistakes


def _lighting(part: Stated, site: Site) -> list[Found]:
    if site.use == OUTDOOR and part.said("lighting"):
        message = 'found lighting with "use: outdoor", right is lighting in a room'
        return [((KeyStep("lighting"),), message)]
    light = part.lighting
    if not isinstance(light, Lighting) or light.present is not False:
        return []
    if not light.said("control"):
        return []
    message = "found control of a light that is not present, right is one of them"
    return [(("lighting", KeyStep("control")), message)]


def _opening(part: Stated, site: Site) -> list[Found]:
    use = site.use
    if not part.said("access_opening") or use in LIMITED or not isinstance(use, str):
        return []
    right = f'right is access_opening with "use: {LIMITED[0]}" or "use: {LIMITED[1]}"'
    message = f'found access_opening with "use: {use}", {right}'
    return [((KeyStep("access_opening"),), message)]


def _procedures(part: Stated, site: Site) -> list[Found]:
    if not part.said("written_procedures") or site.premises not in _PREMISES:
        return []
    right = 'right is written_procedures with "premises: existing"'
    message = f'found written_procedures with "premises: {site.premises}", {right}'
    return [((KeyStep("written_procedures"),), message)]


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
