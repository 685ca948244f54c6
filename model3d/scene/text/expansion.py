"""Items written out: what types and repeats stand for, and where each of it is written.

What comes of it is plain data as a person could have written it without either, so that
everything after this knows only items.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.faults.expected import MAPPINGS
from model3d.scene.faults.salvage import usable
from model3d.scene.kinds import KINDS
from model3d.scene.parts.repeat import Repeat
from model3d.scene.scene import Scene
from model3d.scene.text.composing.loaders import MOST_VALUES
from model3d.scene.text.copies import NUMBER_SIGN, copied, id_of_copy
from model3d.scene.text.entries import Expansion, WrittenItem, with_type
from model3d.scene.text.gear_file import (
    GearFile,
    chain_of,
    told_at,
    types_of,
)
from model3d.scene.words.mistakes import KeyStep, Loc, found
from model3d.scene.words.nearest import nearest
from model3d.units import METRES, LengthError, to_metres

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.scene.text.composing.nodes import Node
    from model3d.scene.text.copies import Vector


MOST_COPIES: Final = 10_000
"""Copies of all items of one file."""
_MOST_LISTED: Final = 50_000
_TYPES: Final = ("types", "types_from")
_IN_LESSON: Final = ("lesson", "steps")


def expanded(root: Node, file: str) -> Expansion:
    """Write out the items of a scene.

    Args:
        root: The scene as it is written, a mapping.
        file: Its file, beside which others are looked for.
    """
    made = Expansion(GearFile(file, root), root.value)
    if not is_short(root.value):
        return made
    made.types, made.mistakes = types_of(root, file, root.value.get("types_from"))
    broken = ((), ("types",))
    made.unread = _is_misspelt(root.value) or any(
        one.loc in broken or one.loc[:1] == ("types_from",) for one in made.mistakes
    )
    made.data = dict(root.value)
    items = root.value.get("items")
    if isinstance(items, list):
        made.data["items"] = _WrittenOut(made).written_out(items)
        _tell_clashes(made)
    _add_in_lesson(made)
    return made


def _is_misspelt(data: Mapping[str, Any]) -> bool:
    """Tell whether a scene names its types by a word, or in a way, that is told."""
    named = data.get("types_from")
    other = [key for key in data if key not in Scene.model_fields]
    return isinstance(named, dict) or any(nearest(str(key), _TYPES) for key in other)


def is_short(data: Mapping[str, Any]) -> bool:
    """Tell whether a scene has types or repeats, so that it must be written out."""
    if data.get("types") is not None or data.get("types_from") is not None:
        return True
    items = data.get("items")
    many = items if isinstance(items, list) else ()
    added = (change["add"] for _, change in _additions(data))
    return any(
        isinstance(one, dict) and ("type" in one or "repeat" in one)
        for one in (*many, *added)
    )


class _WrittenOut:
    """The items that are written out, one after the other."""

    def __init__(self, made: Expansion) -> None:
        self.made = made
        units = made.source.root.value.get("units")
        self.units = units if isinstance(units, str) and units in METRES else None
        self.copies = 0
        self.values = 0
        self.full = False

    def written_out(self, items: list[Any]) -> list[Any]:
        found_items: list[Any] = []
        for number, item in enumerate(items):
            loc: Loc = ("items", number)
            if not isinstance(item, dict):
                self.made.entries["items", len(found_items)] = WrittenItem(loc)
                found_items.append(item)
                continue
            for one, entry in self.one(loc, item):
                self.made.entries["items", len(found_items)] = entry
                found_items.append(one)
        return found_items

    def one(self, loc: Loc, item: dict[str, Any]) -> Iterator[tuple[Any, WrittenItem]]:
        whole, entry = with_type(self.made, loc, item)
        if entry.type is not None and not self.has_room(loc, "type", entry, 1):
            whole, entry = item, WrittenItem(loc, broken=True)
        if item.get("repeat") is None:
            yield {k: v for k, v in whole.items() if k != "repeat"}, entry
            return
        repeat = whole.pop("repeat")
        step, mistakes = self.step_of(whole, repeat)
        told = [(*loc, "repeat", *rest) for rest, _ in mistakes]
        for where, (_, message) in zip(told, mistakes, strict=True):
            self.made.mistakes.append(self.made.source.told(where, message))
        name = whole.get("id")
        text = str(name) if type(name) is int or isinstance(name, str) else ""
        if not mistakes and text and id_of_copy(text, 0) is None:
            message = (
                f"found {found(name)}, right is an id with a number, or with "
                f"{NUMBER_SIGN}, to number the copies by"
            )
            self.made.mistakes.append(self.made.source.told((*loc, "id"), message))
            mistakes = [((), message)]
        count = repeat["count"] if text and not mistakes else 1
        if mistakes or count == 1 or not self.has_room(loc, "repeat", entry, count):
            yield whole, _broken(entry)
            return
        if repeat.get("touching") is True and _is_gear(whole):
            whole.setdefault("line_up", f"{id_of_copy(text, 0)}")
        assert step is not None  # noqa: S101 - else there was a mistake
        for copy in range(count):
            one = {**copied(whole, copy, step, self.units or "m")}
            one["id"] = id_of_copy(text, copy)
            own = WrittenItem(
                loc, copy, count, entry.type, entry.inherited, entry.broken
            )
            yield one, own

    def step_of(
        self, item: dict[str, Any], repeat: object
    ) -> tuple[Vector | None, list[tuple[Loc, str]]]:
        """Return the step of a repeat, or what is wrong with it."""
        if not isinstance(repeat, dict):
            right = f"right is a mapping such as {MAPPINGS['repeat']}"
            return None, [((), f"found {found(repeat)}, {right}")]
        if wrong := usable(Repeat, repeat)[1]:
            return None, wrong
        touching, step = repeat.get("touching") is True, repeat.get("step")
        if touching == (step is not None):
            what = "both step and touching" if touching else "neither step nor touching"
            return None, [((), f"found {what}, right is one of them")]
        if item.get("guid") is not None:
            right = "right is each item with a guid by itself"
            return None, [((), f"found copies of an item with a guid, {right}")]
        if touching:
            size = item.get("size")
            if not isinstance(size, list) or not size:
                right = "right is size, or a step"
                return None, [
                    (("touching",), f"found touching without a size, {right}")
                ]
            return (size[0], 0, 0), []
        parts: list[Any] = step if isinstance(step, list) else [step, 0, 0]
        vector = (parts[0], parts[1], parts[2])
        if _is_nothing(vector):
            message = f"found {found(step)}, right is a step that leads elsewhere"
            return None, [(("step",), message)]
        return vector, []

    def has_room(self, loc: Loc, key: str, entry: WrittenItem, count: int) -> bool:
        """Count what an item takes; tell once where all together take too much."""
        self.copies += count if key == "repeat" else 0
        node = self.made.source.root.parts["items"].parts[loc[1]]
        name = entry.type.name if entry.type else ""
        chain = chain_of(name, self.made.types)
        taken = node.count + sum(one.node.count for one in chain)
        self.values += taken * count
        few = self.copies <= MOST_COPIES
        if few and self.values <= MOST_VALUES:
            return True
        if not self.full:
            self.full = True
            many = f"{MOST_COPIES} copies" if not few else f"{MOST_VALUES} values"
            message = f"found more than {many} in this file, right is one room"
            self.made.mistakes.append(
                self.made.source.told((*loc, KeyStep(key)), message)
            )
        return False


def _is_gear(item: Mapping[str, Any]) -> bool:
    kind = KINDS.get(str(item.get("kind")))
    return bool(kind and kind.needs_working_space)


def _is_nothing(vector: Vector) -> bool:
    try:
        return not any(to_metres(length, "m") for length in vector)
    except LengthError:
        return False


def _broken(entry: WrittenItem) -> WrittenItem:
    return WrittenItem(entry.loc, 0, 1, entry.type, entry.inherited, broken=True)


def _additions(data: Mapping[str, Any]) -> Iterator[tuple[Loc, dict[str, Any]]]:
    """Yield the changes of a lesson that add an item, with their places."""
    lesson = data.get("lesson")
    steps = lesson.get("steps") if isinstance(lesson, dict) else None
    for number, step in enumerate(steps if isinstance(steps, list) else ()):
        do = step.get("do") if isinstance(step, dict) else None
        for place, change in enumerate(do if isinstance(do, list) else ()):
            if isinstance(change, dict) and isinstance(change.get("add"), dict):
                yield (*_IN_LESSON, number, "do", place), change


def _add_in_lesson(made: Expansion) -> None:
    """Write out the items that a lesson adds."""
    data = made.source.root.value
    found_ones = [
        (loc, change)
        for loc, change in _additions(data)
        if change["add"].get("type") is not None
    ]
    if not found_ones:
        return
    lesson = {**data["lesson"], "steps": [*data["lesson"]["steps"]]}
    for loc, change in found_ones:
        number, place = loc[2], loc[4]
        item, made.entries[(*loc, "add")] = with_type(
            made, (*loc, "add"), change["add"]
        )
        step = dict(lesson["steps"][number])
        step["do"] = [*step["do"]]
        step["do"][place] = {**change, "add": item}
        lesson["steps"][number] = step
    made.data["lesson"] = lesson


def _tell_clashes(made: Expansion) -> None:
    """Tell of ids that copies and others share, with the line of either."""
    source = made.source
    room = made.data.get("room")
    doors = room.get("doors") if isinstance(room, dict) else None
    named: dict[str, Loc] = {}
    for number, door in enumerate(doors if isinstance(doors, list) else ()):
        if isinstance(door, dict) and isinstance(door.get("id"), str | int):
            named.setdefault(str(door["id"]), ("room", "doors", number, "id"))
    copies: set[Loc] = set()
    told: Counter[Loc] = Counter()
    for number, item in enumerate(made.data["items"][:_MOST_LISTED]):
        entry = made.entries["items", number]
        if not isinstance(item, dict) or not isinstance(item.get("id"), str | int):
            continue
        where = (*entry.loc, "id")
        if entry.count > 1:
            copies.add(where)
        first = named.setdefault(str(item["id"]), where)
        if (first != where or entry.copy) and first is not where:
            if not ({first, where} & copies) or told[where]:
                continue
            told[where] += 1
            there = told_at(source.file, source.root.mark_of(first), source.file)
            message = (
                f"found {found(item['id'])} again, right is an id of its own; "
                f"see {there}"
            )
            made.mistakes.append(source.told(where, message))
