"""A list of equipment and a scene, joined by the items' ids."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.schedule.listing import CellMistake, ScheduleError
from model3d.exchange.schedule.row import SIZES
from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.faults.salvage import usable
from model3d.scene.parts.item import Item
from model3d.scene.parts.supply import is_same_system
from model3d.scene.words.mistakes import counted, dotted
from model3d.units import to_metres

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from model3d.exchange.schedule.headings import ListColumn
    from model3d.exchange.schedule.schedule import ListedItem, Schedule
    from model3d.scene.scene import Scene
    from model3d.scene.words.mistakes import Loc

_SAME_VOLTS: Final = 1
_WRITTEN: Final = 1e-4
"""Metres by which a size may differ that was written in another unit, and rounded."""
_COLUMN_OF: Final = {"at": "x", "doors": "door_width", "system": "line_volts"}
"""Where a key of an item comes from, where no column has its name."""


@dataclass(frozen=True, slots=True)
class Joined:
    """A scene with the items of a list.

    Attributes:
        old: The scene's own items, as the list has them now.
        new: The rows of which the scene has no item.
        scene: The scene with both.
    """

    old: Scene
    new: tuple[ListedItem, ...]
    scene: Scene


def joined(
    scene: Scene,
    schedule: Schedule,
    types: Mapping[str, Mapping[str, Any]] | None = None,
) -> Joined:
    """Return a scene with the items of a list.

    What the list says of an item takes the place of what the scene says of it.

    Args:
        scene: The scene.
        schedule: The list.
        types: What each type of the scene says, for rows that name one.

    Raises:
        ScheduleError: What the list says is no item, or does not fit the scene.
    """
    there = {item.id: item for item in scene.items}
    rows = {entry.id: entry for entry in schedule.entries}
    mistakes = [*schedule.mistakes]
    items: dict[str, Item] = dict(there)
    for entry in schedule.entries:
        of_type = (types or {}).get(entry.data.get("type", ""), {})
        written = there[entry.id].written() if entry.id in there else dict(of_type)
        items[entry.id], wrong = usable(Item, _merged(written, entry.data))
        mistakes += [
            _told(schedule, entry, loc, said)
            for loc, said in wrong
            if _is_new(entry, loc, schedule.faulty)
        ]
    order = [*items]
    parts = (*items.values(),)
    for loc, said in cross_mistakes(scene, parts, scene.lesson, scene.folder):
        match loc:
            case ("items", int(n), *inner) if order[n] in rows:
                entry = rows[order[n]]
                if _is_new(entry, tuple(inner), schedule.faulty):
                    mistakes.append(_told(schedule, entry, tuple(inner), said))
            case _:
                where = f"{scene.file or schedule.file}: {counted(dotted(loc))}"
                mistakes.append(CellMistake(where, 0, None, "", said))
    if mistakes:
        raise ScheduleError(dict.fromkeys(mistakes))
    old = scene.model_copy(update={"items": parts[: len(there)]})
    new = tuple(entry for entry in schedule.entries if entry.id not in there)
    return Joined(old, new, scene.model_copy(update={"items": parts}))


def names_in(scene: Scene) -> dict[str, list[str]]:
    """Return what else each item of a scene is called, by its id."""
    return {
        item.id: [one for one in (item.name, item.tag, item.guid) if one]
        for item in scene.items
    }


def overruled(old: Scene, new: Scene) -> list[str]:
    """Return a line for all that a list says otherwise of an item than the scene did.

    Args:
        old: The scene.
        new: The same items, as the list has them.
    """
    told = []
    for one, other in zip(old.items, new.items, strict=True):
        before, after = one.written(), other.written()
        parts = [(before, after)]
        if isinstance(before.get("supply"), dict) and "supply" in after:
            parts.append((before.pop("supply"), after.pop("supply")))
        told += [
            f"{one.id}: {key}: the scene said {_shown(was)}, the list says "
            f"{_shown(now[key])}"
            for was_all, now in parts
            for key, was in was_all.items()
            if key in now and not _is_same(key, was, now[key], old.units)
        ]
        told += _of_volts(one, other)
    return told


def _is_same(key: str, was: object, now: object, units: str) -> bool:
    """Tell whether a list says of a key what the scene said, in other words maybe."""
    if was == now:
        return True
    if key == "system":
        return is_same_system(str(was), str(now))
    if (
        key == "size"
        and isinstance(was, list | tuple)
        and isinstance(now, list | tuple)
    ):
        pairs = zip(was, now, strict=True)
        return all(
            abs(to_metres(a, units) - to_metres(b, units)) <= _WRITTEN for a, b in pairs
        )
    return False


def _of_volts(old: Item, new: Item) -> list[str]:
    """Return what is told of a voltage to ground that is said in another way now."""
    if old.supply is None or new.supply is None:
        return []
    was, now = old.supply.volts, new.supply.volts
    same_key = (old.supply.system is None) == (new.supply.system is None)
    if was is None or now is None or same_key or abs(was - now) <= _SAME_VOLTS:
        return []
    said = f"the scene said {was:g} V, the list says {now:g} V"
    by = f" ({new.supply.system})" if new.supply.system else ""
    return [f"{new.id}: to ground: {said}{by}"]


def _shown(value: object) -> str:
    """Return a value of an item as a person writes it in a scene."""
    plain = json.loads(json.dumps(value), parse_float=_whole)
    return json.dumps(plain, ensure_ascii=False).replace('"', "")


def _whole(text: str) -> float:
    number = float(text)
    return int(number) if number.is_integer() else number


def _is_new(entry: ListedItem, loc: Loc, faulty: Collection[int]) -> bool:
    """Tell whether a mistake is none that follows from what could not be read."""
    return entry.row not in faulty or (bool(loc) and loc[0] in entry.data)


def _merged(written: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    merged = {**written, **said}
    merged.pop("type", None)
    if "supply" in written and "supply" in said and "type" not in said:
        supply = {**written["supply"], **said["supply"]}
        if "system" in said["supply"]:
            supply.pop("to_ground", None)  # what it is, follows from the system
        elif "to_ground" in said["supply"]:
            supply.pop("system", None)
        merged["supply"] = supply
    for one, other in (("door", "doors"), ("doors", "door")):
        if one in said:
            merged.pop(other, None)
    return merged


def _told(schedule: Schedule, entry: ListedItem, loc: Loc, said: str) -> CellMistake:
    column = _column(entry.columns, loc)
    field = "" if column else counted(dotted(loc))
    message = f"{field}: {said}" if field else said
    return CellMistake(schedule.file, entry.row, column, entry.id, message)


def _column(columns: Mapping[str, ListColumn], loc: Loc) -> ListColumn | None:
    """Return the column that a place in an item comes from, if it is one."""
    match loc:
        case ("size", int(number), *_) if SIZES[number] in columns:
            return columns[SIZES[number]]
        case ("size", *_) if "size" not in columns:
            return columns.get(SIZES[0])
        case ("place" | "supply", str(key), *_):
            return columns.get(key) or columns.get(_COLUMN_OF.get(key, ""))
        case (str(key), *_):
            return columns.get(key) or columns.get(_COLUMN_OF.get(key, ""))
    return None
