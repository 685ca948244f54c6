"""Items written out: what types and repeats stand for, and where each of it is written.

What comes of it is plain data as a person could have written it without either, so that
everything after this knows only items.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.kinds import KINDS
from model3d.scene.mistakes import Key, Loc, found
from model3d.scene.repeat import Repeat
from model3d.scene.salvage import usable
from model3d.scene.text.composer import MOST_VALUES
from model3d.scene.text.copies import NUMBER_SIGN, copied, id_of_copy
from model3d.scene.text.gear import (
    GearType,
    Source,
    Told,
    Types,
    as_name,
    chain_of,
    told_at,
    types_of,
    unknown_type,
)
from model3d.units import METRES, LengthError, to_metres

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.scene.text.copies import Vector
    from model3d.scene.text.nodes import Node

Inherited = dict[str, tuple[Any, GearType]]
"""What a type says, by key, and the type that says it."""

MOST_COPIES: Final = 10_000
"""Copies of all items of one file."""
_MOST_LISTED: Final = 50_000
_IN_LESSON: Final = ("lesson", "steps")


@dataclass(frozen=True, slots=True)
class Entry:
    """What one item of a scene is written as.

    Attributes:
        loc: Where it is written in the scene's file.
        copy: Which copy it is, from 0.
        count: How many copies there are.
        type: The type it is made from, if any.
        inherited: The type that each key comes from which the item itself has not.
        broken: Its type or its repeat has a mistake: what is missing is no other one.
    """

    loc: Loc
    copy: int = 0
    count: int = 1
    type: GearType | None = None
    inherited: Mapping[str, GearType] = field(default_factory=dict)
    broken: bool = False


@dataclass(slots=True)
class Expansion:
    """A scene's data with every item written out.

    Attributes:
        source: The scene as it is written.
        data: The same, written out.
        types: The types that it can use.
        entries: What is written of an item, or an added one, by its place in ``data``.
        mistakes: What is wrong with the types, or with their use.
    """

    source: Source
    data: dict[str, Any]
    types: Types = field(default_factory=dict)
    entries: dict[Loc, Entry] = field(default_factory=dict)
    mistakes: list[Told] = field(default_factory=list)
    _known: dict[str, Inherited] = field(default_factory=dict)
    unread: bool = False
    """A file of gear cannot be read: nobody knows which types it would have."""

    def inherited(self, name: str) -> Inherited:
        """Return what a type says, and what it is built on, key by key."""
        if name not in self._known:
            said: Inherited = {}
            for one in reversed(chain_of(name, self.types)):
                said |= {key: (value, one) for key, value in one.values().items()}
            self._known[name] = said
        return self._known[name]

    def values_of(self, name: str) -> dict[str, Any]:
        """Return all that a type says, with what it is built on."""
        said = self.inherited(name)
        return {key: value for key, (value, _) in said.items() if value is not None}

    def entry_at(self, loc: Loc) -> tuple[Entry | None, Loc]:
        """Return what a place in the data belongs to, and the rest of the way."""
        for length in (2, 6):
            if loc[:length] in self.entries:
                return self.entries[loc[:length]], loc[length:]
        return None, loc


def expanded(root: Node, file: str) -> Expansion:
    """Write out the items of a scene.

    Args:
        root: The scene as it is written, a mapping.
        file: Its file, beside which others are looked for.
    """
    made = Expansion(Source(file, root), root.value)
    if not _is_short(root.value):
        return made
    made.types, made.mistakes = types_of(root, file, root.value.get("types_from"))
    made.unread = any(one.loc[:1] in ((), ("types_from",)) for one in made.mistakes)
    made.data = dict(root.value)
    items = root.value.get("items")
    if isinstance(items, list):
        made.data["items"] = _Listing(made).written_out(items)
        _tell_clashes(made)
    _add_in_lesson(made)
    return made


def _is_short(data: Mapping[str, Any]) -> bool:
    if data.get("types") is not None or data.get("types_from") is not None:
        return True
    items = data.get("items")
    many = items if isinstance(items, list) else ()
    added = (change["add"] for _, change in _additions(data))
    return any(
        isinstance(one, dict) and ("type" in one or "repeat" in one)
        for one in (*many, *added)
    )


class _Listing:
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
                self.made.entries["items", len(found_items)] = Entry(loc)
                found_items.append(item)
                continue
            for one, entry in self.one(loc, item):
                self.made.entries["items", len(found_items)] = entry
                found_items.append(one)
        return found_items

    def one(self, loc: Loc, item: dict[str, Any]) -> Iterator[tuple[Any, Entry]]:
        whole, entry = with_type(self.made, loc, item)
        if entry.type is not None and not self.has_room(loc, "type", entry, 1):
            whole, entry = item, Entry(loc, broken=True)
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
            own = Entry(loc, copy, count, entry.type, entry.inherited, entry.broken)
            yield one, own

    def step_of(
        self, item: dict[str, Any], repeat: object
    ) -> tuple[Vector | None, list[tuple[Loc, str]]]:
        """Return the step of a repeat, or what is wrong with it."""
        _, wrong = usable(Repeat, repeat)
        if wrong or not isinstance(repeat, dict):
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

    def has_room(self, loc: Loc, key: str, entry: Entry, count: int) -> bool:
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
            self.made.mistakes.append(self.made.source.told((*loc, Key(key)), message))
        return False


def _is_gear(item: Mapping[str, Any]) -> bool:
    kind = KINDS.get(str(item.get("kind")))
    return bool(kind and kind.needs_working_space)


def _is_nothing(vector: Vector) -> bool:
    try:
        return not any(to_metres(length, "m") for length in vector)
    except LengthError:
        return False


def _broken(entry: Entry) -> Entry:
    return Entry(entry.loc, 0, 1, entry.type, entry.inherited, broken=True)


def with_type(
    made: Expansion, loc: Loc, item: dict[str, Any]
) -> tuple[dict[str, Any], Entry]:
    """Return an item with what its type says, and without the name of that."""
    name = as_name(item.get("type"))
    own = {key: value for key, value in item.items() if key != "type"}
    if name is None:
        return own, Entry(loc)
    chain = chain_of(name, made.types) if isinstance(name, str) else []
    if not chain:
        if not made.unread:
            message = unknown_type(name, made.types)
            made.mistakes.append(made.source.told((*loc, "type"), message))
        return own, Entry(loc, broken=True)
    said = made.inherited(chain[0].name)
    kept = {key: one for key, one in said.items() if key not in own}
    values = {key: value for key, (value, _) in kept.items() if value is not None}
    inherited = {key: kept[key][1] for key in values}
    # An empty value at the item takes the type's away, and leaves nothing itself.
    own = {key: own[key] for key in own if own[key] is not None or key not in said}
    end = chain[-1].base
    broken = end is not None
    first = {"id": own.pop("id")} if "id" in own else {}
    return {**first, **values, **own}, Entry(loc, 0, 1, chain[0], inherited, broken)


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
