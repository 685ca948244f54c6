"""What must fit together where a lesson changes the scene, its room or a room door."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import ValidationError

from model3d.scene.checks.item import item_mistakes
from model3d.scene.checks.lesson_stage import changed_place
from model3d.scene.checks.whole import whole_mistakes
from model3d.scene.lesson import PLACES, SCENE_KEYS
from model3d.scene.mistakes import Key, found
from model3d.scene.nearest import listed
from model3d.scene.text.wording import explained
from model3d.scene.written import setting_of

if TYPE_CHECKING:
    from model3d.scene.checks.lesson_stage import Stage
    from model3d.scene.mistakes import Loc
    from model3d.scene.written import Found, Raw, Setting


def place_change_mistakes(name: str, change: Raw, stage: Stage) -> list[Found]:
    """Return what is wrong with a change of the scene, its room or a room door."""
    fields = {key: value for key, value in change.items() if key != "set"}
    if "id" in fields and name not in PLACES:
        return [((Key("id"),), "found a new id, right is the id a door was given")]
    right = f"right is one of {listed(SCENE_KEYS)}"
    unknown: list[Found] = [
        ((Key(key),), f"found the key {found(key)}, {right}")
        for key in fields
        if name == "scene" and key not in SCENE_KEYS
    ]
    if unknown:
        return unknown
    old, was = stage.scene, stage.setting
    stage.scene = changed_place(old, name, fields)
    stage.setting = setting_of(stage.scene, was.folder)
    # A mistake of the place as it was has its line already.
    before = {*_of_scene(old), *whole_mistakes(_whole(old, stage), was)}
    after = whole_mistakes(_whole(stage.scene, stage), stage.setting)
    numbers = [n for n, one in enumerate(stage.doors) if one == name]
    above: Loc = ("room",) if name == "room" else ("room", "doors", *numbers)
    if name == "scene":
        above = ()
    mistakes = [
        (_below(loc, above, fields), message)
        for loc, message in _of_scene(stage.scene) + after
        if (loc, message) not in before
    ]
    return [*dict.fromkeys(mistakes), *_moved_items(was, stage)]


def _whole(scene: Raw, stage: Stage) -> Raw:
    return {**scene, "items": [*stage.items.values()]}


def _below(loc: Loc, above: Loc, fields: Raw) -> Loc:
    """Return a place in the scene as a place in the change, where it stands there."""
    inner = loc[len(above) :]
    return inner if loc[: len(above)] == above and inner and inner[0] in fields else ()


def _of_scene(scene: Raw) -> list[Found]:
    # The scene's own checks are made with these: it cannot be there before them.
    from model3d.scene.scene import Origin, Scene  # noqa: PLC0415

    try:
        Scene.model_validate(scene, context=Origin(checked=True), by_name=False)
    except ValidationError as error:
        return explained(error, Scene, scene)
    return []


def _moved_items(was: Setting, stage: Stage) -> list[Found]:
    """Return the items that fitted into the place as it was, and do so no more."""
    if was == stage.setting:
        return []
    return [
        ((), f"found {found(own_id)} out of place: {message}")
        for own_id, item in stage.items.items()
        for loc, message in item_mistakes(item, stage.setting)
        if (loc, message) not in item_mistakes(item, was)
    ]
