"""What must fit together in a lesson: every step against the scene it starts from."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.scene.checks.item import item_mistakes, kind_of
from model3d.scene.checks.lengths import length_mistakes
from model3d.scene.checks.placement import circle_message, circles, support_mistakes
from model3d.scene.checks.setting import SLACK, numbered, word
from model3d.scene.checks.stage import StepScene, missing, site_change_mistakes
from model3d.scene.checks.whole import reserved_ids
from model3d.scene.faults.salvage import usable
from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import (
    PLACES,
    AddItem,
    Choice,
    Lesson,
    OpenLeaf,
    RemoveItem,
    SetItem,
    ShownSize,
    Step,
    changed_fields,
    which_change,
)
from model3d.scene.parts.look import FARTHEST, NEAREST, Look
from model3d.scene.parts.part import Part
from model3d.scene.words.mistakes import KeyStep, found, shown, within
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.checks.setting import Setting
    from model3d.scene.parts.site import Site
    from model3d.scene.words.mistakes import Found

_LEAVES: Final = {"left": 1, "right": 1, "pair": 2, "bolted": 0, "none": 0}


def lesson_mistakes(
    site: Site, items: Mapping[str, Item], lesson: Lesson | None, setting: Setting
) -> list[Found]:
    """Return what does not fit together in a lesson, each with its place."""
    if not isinstance(lesson, Lesson):
        return []
    stage = StepScene(site, setting, {**items})
    mistakes: list[Found] = []
    for number, step in numbered(Step, lesson.steps):
        mistakes += within(("lesson", "steps", number), _step(step, stage))
    return mistakes


def _step(step: Step, stage: StepScene) -> list[Found]:
    mistakes: list[Found] = []
    if not (step.said("say") or step.said("ask")):
        mistakes.append(((), "found neither say nor ask, right is at least one"))
    mistakes += _question(step, stage)
    for number, change in numbered(Part, step.do):
        mistakes += within(("do", number), _change(change, stage))
    there = {*stage.items, *stage.doors}
    if isinstance(step.look, Look):
        mistakes += within(("look",), _look(step.look, stage))
    for number, size in numbered(ShownSize, step.show):
        mistakes += within(("show", number), _shown(size, stage))
    # Of a step with mistakes it may be anything.
    named: object = step.find
    for number, name in enumerate(named if isinstance(named, tuple | list) else ()):
        if fault := missing(word(name), there):
            mistakes.append((("find", number), fault))
    for name in step.expect:
        if fault := missing(name, {*there, "room"}):
            mistakes.append((("expect", KeyStep(name)), fault))
    return mistakes


def _question(step: Step, stage: StepScene) -> list[Found]:
    """Return what does not fit together in a question."""
    asked = step.said("ask")
    mistakes: list[Found] = [
        ((key,), f"found {key} without a question, right is beside ask")
        for key in ("choices", "find", "drag")
        if getattr(step, key) and not asked
    ]
    choices = numbered(Choice, step.choices)
    if choices and all(choice.right is False for _, choice in choices):
        mistakes.append((("choices",), "found no right answer, right is at least one"))
    return mistakes + _drag(step, stage)


def _look(look: Look, stage: StepScene) -> list[Found]:
    """Return what is wrong with where a step looks."""
    mistakes: list[Found] = []
    there = {*stage.items, *stage.doors}
    reserved = reserved_ids(stage.setting) - {*PLACES}
    at, ruler = word(look.at), stage.setting.ruler
    if at not in reserved and (fault := missing(at, there)):
        mistakes.append((("at",), fault))
    near = ruler.metres(look.near)
    if far := length_mistakes(look, ruler):
        mistakes += far
    elif near and near > 0.0 and not NEAREST - SLACK <= near <= FARTHEST + SLACK:
        least, most = (length(one, str(ruler.units)) for one in (NEAREST, FARTHEST))
        right = f"right is from {least} to {most}"
        mistakes.append((("near",), f"found {shown(look.near)}, {right}"))
    # Of a step with mistakes it may be anything.
    layers: object = look.layers
    named = layers if isinstance(layers, tuple | list) else ()
    mistakes += [
        (("layers", n), f"found {found(one)} again, right is each layer once")
        for n, one in enumerate(named)
        if one in named[:n]
    ]
    return mistakes


def _shown(size: ShownSize, stage: StepScene) -> list[Found]:
    """Return what is wrong with a dimension: an end too far, or no length."""
    ruler = stage.setting.ruler
    if far := length_mistakes(size, ruler):
        return far
    start, end = ruler.point(size.from_, 3), ruler.point(size.to, 3)
    if start is not None and end is not None and math.dist(start, end) < SLACK:
        return [(("to",), "found the same place as from, right is another place")]
    return []


def _drag(step: Step, stage: StepScene) -> list[Found]:
    """Return what is wrong with what is to be moved: it stands there already."""
    item = word(step.drag)
    if item is None:
        return []
    mistakes: list[Found] = []
    if fault := missing(item, {*stage.items}):
        mistakes.append((("drag",), fault))
    # Of a step with mistakes it may be anything.
    expected: object = step.expect
    wanted = expected.values() if isinstance(expected, dict) else ()
    if not any(
        "met" in (one.values() if isinstance(one, dict) else [one]) for one in wanted
    ):
        goal = (
            "found nothing that is expected to be met, right is at least one in expect"
        )
        mistakes.append((("drag",), goal))
    return mistakes


def _change(change: Part, stage: StepScene) -> list[Found]:
    match change:
        case AddItem(add=Item() as item):
            return within(("add",), _add(item, stage))
        case AddItem():
            return []
    key = which_change(change) or ""
    name = word(getattr(change, key))
    if far := length_mistakes(change, stage.setting.ruler):
        return far
    if name is None:
        return []
    of_doors = isinstance(change, SetItem | OpenLeaf)
    there = stage.items.keys() | (stage.doors if of_doors else {})
    if isinstance(change, SetItem) and name in {*stage.doors, *PLACES}:
        return site_change_mistakes(change, stage)
    if fault := missing(name, there):
        return [((key,), fault)]
    return _change_of(name, change, stage)


def _change_of(name: str, change: Part, stage: StepScene) -> list[Found]:
    match change:
        case SetItem():
            return _set(change, stage)
        case RemoveItem():
            return _remove(name, stage)
        case OpenLeaf():
            return _open(change, stage)
    return []


def _set(change: SetItem, stage: StepScene) -> list[Found]:
    name, fields = change.set, change.fields or {}
    if "id" in fields:
        return [((KeyStep("id"),), "found a new id, right is the id an item was given")]
    old = stage.items[name]
    # A mistake of the item as it was has its line already.
    before = item_mistakes(old, stage.setting) + support_mistakes(old, stage.items)
    new, own = usable(Item, changed_fields(old.written(), fields))
    stage.items[name] = new
    after = item_mistakes(new, stage.setting) + support_mistakes(new, stage.items)
    mistakes = [(loc, message) for loc, message in own if loc and loc[0] in fields]
    mistakes += [
        (loc if loc and loc[0] in fields else (), message)
        for loc, message in after
        if (loc, message) not in before
    ]
    if "place" in fields and (circle := _circle(name, stage)):
        mistakes.append((("place",), circle_message(circle)))
    return mistakes


def _circle(name: str, stage: StepScene) -> list[str] | None:
    """Return the ids from an item down to itself again, if it stands on itself."""
    below = {name: None, **stage.below}
    return next((ring for ring in circles(below) if ring[0] == name), None)


def _add(item: Item, stage: StepScene) -> list[Found]:
    own_id = word(item.id)
    mistakes = item_mistakes(item, stage.setting)
    mistakes += support_mistakes(item, stage.items)
    if own_id is None:
        return mistakes
    if own_id in stage.items or own_id in stage.doors:
        message = f"found {found(own_id)}, which is there, right is an id of its own"
        mistakes.append((("id",), message))
    elif own_id in reserved_ids(stage.setting):
        message = f"found {found(own_id)}, a part of the room, right is another id"
        mistakes.append((("id",), message))
    stage.items[own_id] = item
    return mistakes


def _remove(name: str, stage: StepScene) -> list[Found]:
    del stage.items[name]
    leaning = sorted(one for one, below in stage.below.items() if below == name)
    if not leaning:
        return []
    right = f"right is to take {leaning[0]}, which is placed by it, away before"
    return [(("remove",), f"found {found(name)}, {right}")]


def _open(change: OpenLeaf, stage: StepScene) -> list[Found]:
    name, leaf = change.open, change.leaf
    if name in stage.items:
        leaves = _leaf_count(stage.items[name])
    else:
        leaves = 2 if stage.doors[name].hinge == "pair" else 1
    if leaves == 0:
        message = f"found {found(name)}, right is an item with a hinged door"
        return [(("open",), message)]
    if type(leaf) is int and leaf >= leaves:
        right = "0" if leaves == 1 else f"0 to {leaves - 1}"
        return [(("leaf",), f"found {found(leaf)}, right is {right}")]
    return []


def _leaf_count(item: Item) -> int:
    if item.doors is not None:
        return len(item.doors)
    if door := word(item.door):
        return _LEAVES.get(door, 1)
    kind = kind_of(item)
    # Where nothing is said, one leaf over the whole front is tested.
    return 1 if kind is None or kind.needs_working_space else 0
