"""Keys that no scene has: which was meant, or where it belongs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.faults.as_written import keys_of, part_at, written
from model3d.scene.faults.expected import comma_in, pair_in
from model3d.scene.parts.item import Item
from model3d.scene.parts.room import Room
from model3d.scene.parts.stated import Stated
from model3d.scene.words.elsewhere import meant_key, within_item
from model3d.scene.words.mistakes import KeyStep, Loc, at_loc, found
from model3d.scene.words.nearest import listed
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic_core import ErrorDetails

    from model3d.scene.parts.part import Part

_WRITTEN_ONLY: Final = {
    "repeat": "repeat at an item of a file's items",
    "type": "type at an item of a file, or at one that is added",
}
"""Keys that reading a file writes out, where they may stand."""
_MOST_KEYS: Final = 12
"""A longer list of what would be right helps nobody."""


def unknown_keys(
    details: list[ErrorDetails], root: type[Part], data: object
) -> Iterator[tuple[Loc, tuple[str, ...], str]]:
    """Yield the place of each unknown key, the known ones that it stands for, and why.

    Keys of one part of an item that stand beside one another are one mistake.
    """
    missing: dict[Loc, list[str]] = {}
    unknown: dict[tuple[str | int, ...], list[str]] = {}
    for detail in details:
        *parent, key = detail["loc"] or ("",)
        if detail["type"] == "missing":
            missing.setdefault(written(tuple(parent)), []).append(str(key))
        elif detail["type"] == "extra_forbidden":
            unknown.setdefault(tuple(parent), []).append(str(key))
    for above, keys in unknown.items():
        known = keys_of(part_at(root, above))
        loc = written(above)
        there = at_loc(data, loc)
        free = [name for name in known if not _has(there, name)]
        parts: dict[str, list[str]] = {}
        for key in keys:
            if comma := comma_in(there, key):
                yield (*loc, comma[0]), (comma[0],), comma[1]
            elif known == keys_of(Item) and (inner := within_item(key)):
                parts.setdefault(": ".join(inner), []).append(key)
            else:
                alone = missing.get(loc, ()) if len(keys) == 1 else ()
                yield _unknown((*loc, key), known, free, tuple(alone))
        for right, several in parts.items():
            names = listed(map(found, several), "and")
            plural = "s" if len(several) > 1 else ""
            message = f"found the unknown key{plural} {names}, right is {right}"
            yield (*loc, KeyStep(several[0])), (), message


def _unknown(
    loc: Loc, known: list[str], free: list[str], missing: tuple[str, ...]
) -> tuple[Loc, tuple[str, ...], str]:
    key = str(loc[-1])
    loc = (*loc[:-1], KeyStep(key))
    if pair := pair_in(key, known):
        return loc, pair[:1], f"found {found(key)}, right is {pair[1]}"
    if inside := _further_in(loc, key):
        message = f"found the key {found(key)} here, right is {inside}: indent it more"
        return loc, (), message
    near = meant_key(key, free) or meant_key(key, known)
    few, what = len(known) <= _MOST_KEYS, f"the unknown key {found(key)}"
    right: str = (
        Named(near)
        if near
        else (f"one of {listed(known)}" if few else "a key of the scene format")
    )
    meant: tuple[str, ...] = (near,) if near else ()
    if key in _WRITTEN_ONLY:
        right = _WRITTEN_ONLY[key]
    elif not near and key in Stated.model_fields:
        right = f"{key} at the scene or in its room"
    elif not near and few and missing:
        meant, right = missing, listed(map(Named, missing), "and")
        what += f" and no {listed(missing)}"
    return loc, meant, say("found {}, right is {}", what, right)


def _further_in(loc: Loc, key: str) -> str:
    """Return where a key of the top belongs that only stands too far to the left."""
    if len(loc) > 1:
        return ""
    if key in Room.model_fields:
        return f"{key} in the room"
    return f"{key} of an item" if key in keys_of(Item) else ""


def _has(data: object, key: str) -> bool:
    return isinstance(data, dict) and key in data
