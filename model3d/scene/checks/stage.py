"""The scene as a step of a lesson finds it, and what a change of its site does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.scene.checks.item import item_mistakes
from model3d.scene.checks.setting import doors_of, setting_of, word
from model3d.scene.checks.whole import whole_mistakes
from model3d.scene.faults.salvage import usable
from model3d.scene.parts.lesson import PLACES, SCENE_KEYS, changed_site
from model3d.scene.parts.placement import support_of
from model3d.scene.parts.site import Site
from model3d.scene.words.mistakes import KeyStep, found
from model3d.scene.words.nearest import hint, listed

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.scene.checks.setting import Setting
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.lesson import SetItem
    from model3d.scene.parts.room import RoomDoor
    from model3d.scene.words.mistakes import Found, Loc


@dataclass
class StepScene:
    """The scene as a step of the lesson finds it.

    Attributes:
        site: All of the scene but its items and its lesson.
        setting: What items are checked against.
        items: The items there are, by id.
    """

    site: Site
    setting: Setting
    items: dict[str, Item]

    @property
    def doors(self) -> dict[str, RoomDoor]:
        """The personnel doors, by id."""
        return {door.id: door for _, door in doors_of(self.site) if word(door.id)}

    @property
    def below(self) -> dict[str, str | None]:
        """What each item stands on, over or under, by id."""
        supports = {name: support_of(item.place) for name, item in self.items.items()}
        return {name: on and on[1] for name, on in supports.items()}


def missing(name: object, known: Collection[str]) -> str | None:
    """Return the message about an id that is not there, or None."""
    if not isinstance(name, str) or name in known:
        return None
    right = f"right is an id that is there at this step{hint(name, known)}"
    return f"found {found(name)}, {right}"


def site_change_mistakes(change: SetItem, stage: StepScene) -> list[Found]:
    """Return what is wrong with a change of the scene, its room or a room door."""
    name, fields = change.set, change.fields or {}
    if "id" in fields and name not in PLACES:
        return [((KeyStep("id"),), "found a new id, right is the id a door was given")]
    right = f"right is one of {listed(SCENE_KEYS)}"
    unknown: list[Found] = [
        ((KeyStep(key),), f"found the key {found(key)}, {right}")
        for key in fields
        if name == "scene" and key not in SCENE_KEYS
    ]
    if unknown:
        return unknown
    was, written = stage.setting, stage.site.written(Site)
    # A mistake of the place as it was has its line already.
    _, before = usable(Site, written)
    before += whole_mistakes(stage.site, [*enumerate(stage.items.values())], was)
    stage.site, after = usable(Site, changed_site(written, name, fields))
    stage.setting = setting_of(stage.site, was.folder)
    after += whole_mistakes(
        stage.site, [*enumerate(stage.items.values())], stage.setting
    )
    numbers = [n for n, one in enumerate(stage.doors) if one == name]
    above: Loc = ("room",) if name == "room" else ("room", "doors", *numbers)
    if name == "scene":
        above = ()
    mistakes = [
        (_below(loc, above, fields), message)
        for loc, message in after
        if (loc, message) not in before
    ]
    return [*dict.fromkeys(mistakes), *_moved_items(was, stage)]


def _below(loc: Loc, above: Loc, fields: Collection[str]) -> Loc:
    """Return a place in the scene as a place in the change, where it stands there."""
    inner = loc[len(above) :]
    return inner if loc[: len(above)] == above and inner and inner[0] in fields else ()


def _moved_items(was: Setting, stage: StepScene) -> list[Found]:
    """Return the items that fitted into the place as it was, and do so no more."""
    if was == stage.setting:
        return []
    return [
        ((), f"found {found(own_id)} out of place: {message}")
        for own_id, item in stage.items.items()
        for loc, message in item_mistakes(item, stage.setting)
        if (loc, message) not in item_mistakes(item, was)
    ]
