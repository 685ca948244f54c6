"""What must fit together in a lesson: every step against the scene it starts from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import ValidationError

from model3d.scene.checks.item import item_mistakes
from model3d.scene.checks.lesson_places import place_change_mistakes
from model3d.scene.checks.lesson_stage import Stage, changed_fields
from model3d.scene.checks.placement import circle_from, circle_message, support_mistakes
from model3d.scene.checks.whole import reserved_ids
from model3d.scene.item import Item
from model3d.scene.lesson import PLACES, which_change
from model3d.scene.mistakes import Key, found
from model3d.scene.text.wording import explained
from model3d.scene.written import kind_of, mapping, rows, said, text, within

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.written import Found, Raw, Setting

_LEAVES: Final = {"left": 1, "right": 1, "pair": 2, "bolted": 0, "none": 0}


def lesson_mistakes(
    scene: Raw, items: Mapping[str, Raw], setting: Setting
) -> list[Found]:
    """Return what does not fit together in a lesson, each with its place."""
    own = {key: scene[key] for key in scene if key not in {"items", "lesson"}}
    stage = Stage(own, setting, {})
    for own_id, item in items.items():
        stage.put(own_id, item)
    mistakes: list[Found] = []
    for number, step in rows(mapping(scene.get("lesson")).get("steps")):
        mistakes += within(("lesson", "steps", number), _step(step, stage))
    return mistakes


def _step(step: Raw, stage: Stage) -> list[Found]:
    mistakes: list[Found] = []
    if not (said(step, "say") or said(step, "ask")):
        mistakes.append(((), "found neither say nor ask, right is at least one"))
    for number, change in rows(step.get("do")):
        mistakes += within(("do", number), _change(change, stage))
    there = {**stage.items, **stage.doors}
    looked_at = text(mapping(step.get("look")).get("at"))
    reserved = reserved_ids(stage.setting)
    if looked_at not in reserved - {*PLACES}:
        fault = stage.missing(looked_at, there)
        mistakes += [(("look", "at"), fault)] if fault else []
    for name in mapping(step.get("expect")):
        fault = stage.missing(name, {**there, "room": {}})
        mistakes += [(("expect", Key(name)), fault)] if fault else []
    return mistakes


def _change(change: Raw, stage: Stage) -> list[Found]:
    key = which_change(change)
    if key is None:
        return []
    if key == "add":
        item = change["add"]
        return within(("add",), _add(item, stage)) if isinstance(item, dict) else []
    name = text(change[key])
    there = {**stage.items, **stage.doors} if key in {"open", "set"} else stage.items
    if key == "set" and name in PLACES:
        return place_change_mistakes(name, change, stage)
    fault = stage.missing(name, there)
    if name is None or fault:
        return [((key,), fault)] if fault else []
    if key == "set" and name in stage.doors:
        return place_change_mistakes(name, change, stage)
    if key == "set":
        return _set(name, change, stage)
    if key == "remove":
        return _remove(name, stage)
    return _open(name, change, stage) if key == "open" else []


def _set(name: str, change: Raw, stage: Stage) -> list[Found]:
    fields = {key: value for key, value in change.items() if key != "set"}
    old = stage.items[name]
    new = changed_fields(old, fields)
    if "id" in fields:
        return [((Key("id"),), "found a new id, right is the id an item was given")]
    mistakes = [
        (loc, message) for loc, message in _by_itself(new) if loc and loc[0] in fields
    ]
    stage.put(name, new)
    before = {
        *item_mistakes(old, stage.setting),
        *support_mistakes(name, old, stage.items),
    }
    after = item_mistakes(new, stage.setting)
    after += support_mistakes(name, new, stage.items)
    # A mistake of the item as it was has its line already.
    mistakes += [
        (loc if loc and loc[0] in fields else (), message)
        for loc, message in after
        if (loc, message) not in before
    ]
    if "place" in fields and (circle := circle_from(name, stage.items)):
        mistakes.append((("place",), circle_message(circle)))
    return mistakes


def _by_itself(item: Raw) -> list[Found]:
    try:
        Item.model_validate(item, by_name=False)
    except ValidationError as error:
        return explained(error, Item, item)
    return []


def _add(item: Raw, stage: Stage) -> list[Found]:
    own_id = text(item.get("id"))
    mistakes = item_mistakes(item, stage.setting)
    mistakes += support_mistakes(own_id, item, stage.items)
    if own_id is None:
        return mistakes
    if own_id in stage.items or own_id in stage.doors:
        message = f"found {found(own_id)}, which is there, right is an id of its own"
        mistakes.append((("id",), message))
    elif own_id in reserved_ids(stage.setting):
        message = f"found {found(own_id)}, a part of the room, right is another id"
        mistakes.append((("id",), message))
    stage.put(own_id, item)
    return mistakes


def _remove(name: str, stage: Stage) -> list[Found]:
    leaning = sorted(stage.leaning.get(name, set()) - {name})
    stage.take(name)
    if not leaning:
        return []
    right = f"right is to take {leaning[0]}, which is placed by it, away before"
    return [(("remove",), f"found {found(name)}, {right}")]


def _open(name: str, change: Raw, stage: Stage) -> list[Found]:
    if name in stage.items:
        leaves = _leaf_count(stage.items[name])
    else:
        leaves = 2 if stage.doors[name].get("hinge") == "pair" else 1
    leaf = change.get("leaf", 0)
    if leaves == 0:
        message = f"found {found(name)}, right is an item with a hinged door"
        return [(("open",), message)]
    if type(leaf) is int and leaf >= leaves:
        right = "0" if leaves == 1 else f"0 to {leaves - 1}"
        return [(("leaf",), f"found {found(leaf)}, right is {right}")]
    return []


def _leaf_count(item: Raw) -> int:
    doors, door = item.get("doors"), item.get("door")
    if isinstance(doors, list | tuple):
        return len(doors)
    if isinstance(door, str):
        return _LEAVES.get(door, 1)
    kind = kind_of(item)
    # Where nothing is said, one leaf over the whole front is tested.
    return 1 if kind is None or kind.needs_working_space else 0
