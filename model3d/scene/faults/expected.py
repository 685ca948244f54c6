"""What would be right at a place of a scene, in the words of that place."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.scene.parts.lesson import CHANGES
from model3d.scene.parts.placement import REFERENCES
from model3d.scene.words.mistakes import at_loc, found
from model3d.scene.words.nearest import listed
from model3d.units.slips import meant

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.scene.words.mistakes import Loc

OTHER: Final = "a value of another kind"
"""Where a later version of the library has an error that is not in the list."""
BESIDE: Final = "fields"
"""Where the model keeps what the file has beside ``set``."""
NEEDED: Final = {
    **dict.fromkeys((*REFERENCES, *CHANGES), "the id of an item"),
    "add": "an item",
    "title": "a title",
    "units": "mm, m, in or ft",
    "rules": "a rule book such as nec-2023",
    "id": "an id of its own",
    "kind": "a kind such as panelboard, pipe or obstacle",
    "hinge": "left or right",
    "width": "a width",
    "height": "a height",
    "wall": "the name of a wall",
    "along": "a length from the wall's left end",
    "count": "how many there are",
    "name": "what it is called",
    "shelf": "the height of the shelf above the rack's underside",
    "cells": "the number of cells",
    "cell": "width, depth and height of a cell",
    "at": "the id of an item",
    "from": "x, y and z",
    "by": "east, north and up",
    "to": "an angle in degrees",
    "origin": "x, y and z",
    "steps": "a list of steps",
    "text": "the words of an answer",
    "right": "true or false",
    "why": "why it is right or wrong",
    BESIDE: "the new values beside set",
}
"""What would be right where a field is missing that must be there."""

_COUNTED: Final[dict[str, tuple[str, ...]]] = {
    "size": ("width", "depth", "height"),
    "cell": ("width", "depth", "height"),
    "section": ("width", "height"),
    "access_opening": ("width", "length"),
    "from": ("x", "y", "z"),
    "to": ("x", "y", "z"),
    "at": ("x", "y"),
    "by": ("east", "north", "up"),
    "shift": ("three lengths",),
    "step": ("right", "out", "up"),
    "turn": ("degrees about x", "y", "z"),
    "scanner": ("x", "y in the numbers of the scan"),
    "outline": ("x", "y"),
    "origin": ("x", "y", "z"),
}
"""What a list of a fixed length holds."""


_ENDS: Final = ("from", "to")
MAPPINGS: Final = {
    "items": "{id: LP1, kind: panelboard}",
    "types": "{lighting: {kind: panelboard, door: left}}",
    "lesson": "{title: How deep?, steps: [{say: A panelboard alone.}]}",
    "steps": "{say: A panelboard alone.}",
    "tiers": "{shelf: 150, cells: 12, cell: [120, 200, 360]}",
    "supply": "{system: 480Y/277, amps: 400}",
    "room": "{size: [6000, 4000], height: 3000}",
    "repeat": "{count: 4, step: 800}",
    "frames": "{model: building.ifc, origin: [12000, 4000, 0]}",
    "not_read": "{name: Valve 12, at: [1200, 3400, 900]}",
    "lighting": "{present: true, control: manual}",
    "clearances": "{left: 100, rear: 150}",
    "sides": "{left: bolted}",
    "sheet": "{project: Harbour, number: E-101}",
}
"""A mapping as it may be written; the format's page has more of each."""
_TEXTS: Final = {
    **{key: NEEDED[key] for key in ("kind", "rules", "wall", *REFERENCES)},
    "system": "a supply system such as 480Y/277",
}
"""Keys whose text is one of some words, or names something."""
_LEAF: Final = "{hinge: left, width: 600}"
_ROOM_DOOR: Final = "{id: D1, wall: south, along: 400, width: 900, height: 2100}"
_THOUSANDS: Final = re.compile(r"(\d+(?:\.\d+)?)\s*k(?:A|V)")
_BETWEEN: Final = re.compile(r"\s*(?:[xX*\N{MULTIPLICATION SIGN};]|,\s)\s*")
_BARE_NUMBERS: Final = re.compile(r"\d+(?:\.\d+)?(?:\s+\d+(?:\.\d+)?)+")
_SEVERAL: Final = 2
_LEADING: Final = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[A-Za-z%]+\s*")
_PERCENT: Final = re.compile(r"(\d+(?:\.\d+)?)\s*%")
_BEHIND_COMMA: Final = re.compile(r"\d+\s*(?:mm|m|in|ft|k?A|k?V)?")
_PAIR: Final = re.compile(r"(\w+)\s*[:=]\s*(\S.*)")
_GROUP: Final = 1000
_FIRST_GROUP: Final = 100


def needed(loc: Loc) -> str:
    """Say what would be right at a place where something must stand."""
    name = str(loc[-1])
    # An end of a leaf's way is an angle, an end of a dimension is a point.
    if "show" in loc and name in _ENDS:
        return listed(_COUNTED[name], "and")
    return NEEDED.get(name, OTHER)


def count_of(loc: Loc) -> str:
    """Say what the list at a place holds, if it is one of a fixed length."""
    return listed(_counted(loc), "and") or OTHER


def _counted(loc: Loc) -> tuple[str, ...]:
    # Of the two sizes there are, an item's has three numbers and a room's has two.
    return ("x", "y") if loc == ("room", "size") else _COUNTED.get(_name(loc), ())


def likely(kind: str, loc: Loc, value: object) -> str | None:
    """Return what would be right in the words of the place, or None for the usual.

    Args:
        kind: The library's word for the error.
        loc: The place.
        value: What stands there.
    """
    name = _name(loc)
    if kind == "tuple_type" and (right := _list_wanted(name, loc, value)):
        return right
    if example := _example(name, loc):
        if kind.startswith(("model_", "dict_")):
            return f"a mapping such as {example}"
        if kind == "tuple_type":
            return f"a list such as [{example}]{_or_short(example)}"
    if kind == "string_type":
        return "a word such as concrete" if "walls" in loc else _TEXTS.get(name)
    if kind == "float_type" and isinstance(value, str):
        if many := _THOUSANDS.fullmatch(value):
            return f"a number alone: {1000 * float(many[1]):g}"
        if share := _PERCENT.fullmatch(value):
            return f"a number alone: {float(share[1]) / 100:g}"
        match = _LEADING.fullmatch(value)
        return f"a number alone: {match[1]}" if match else None
    return None


def _list_wanted(name: str, loc: Loc, value: object) -> str | None:
    if name == "types_from":
        return "the name of a file, or a list of them"
    return _list_like(loc, value) if _counted(loc) else None


def _example(name: str, loc: Loc) -> str | None:
    if name == "doors":
        return _ROOM_DOOR if "room" in loc else _LEAF
    return MAPPINGS.get(name)


def _or_short(example: str) -> str:
    return ", or door: left" if example is _LEAF else ""


def whole_list(loc: Loc, data: object) -> tuple[Loc, str, str] | None:
    """Return place, found and right of a list of which no entry is what it should be.

    It is one mistake: ``outline: [0, 0, 4000, 0]``, ``size: [width: 508, depth: 146]``.

    Args:
        loc: The place of one entry.
        data: What the place leads through.
    """
    many = at_loc(data, loc[:-1])
    if isinstance(many, list) and (right := _without_commas(loc[:-1], many)):
        return loc[:-1], found(many), right
    if not isinstance(many, list) or len(many) < _SEVERAL:
        return None
    if loc[:-1] == ("room", "outline") and not any(isinstance(x, list) for x in many):
        return loc[:-1], found(many), "a list of corners, each [x, y]"
    if _counted(loc[:-1]) and all(isinstance(x, dict) for x in many):
        return loc[:-1], f"a list of {len(many)} mappings", _list_like(loc[:-1], None)
    return None


def _without_commas(loc: Loc, many: list[object]) -> str | None:
    """Return how a list of too few is written where commas are left out in it."""
    if not all(isinstance(one, str | int | float) for one in many):
        return None
    said = [one for part in many for one in re.split(r"[\s;]+", str(part))]
    names = _counted(loc)
    numbers = all(re.fullmatch(r"\d+(?:\.\d+)?", one) for one in said)
    if len(many) == len(said) or len(said) != len(names) or not numbers:
        return None
    return f"[{', '.join(said)}]"


def _list_like(loc: Loc, value: object) -> str:
    """Return how a list is written: of the parts there are, or by what they mean."""
    parts = _counted(loc)
    text = value.strip().strip("()") if isinstance(value, str) else ""
    said = _BETWEEN.split(text)
    if _BARE_NUMBERS.fullmatch(text):
        said = text.split()
    if len(said) == len(parts) and all(re.match(r"[\d.]", one) for one in said):
        return f"[{', '.join(said)}]"
    return f"[{', '.join(parts)}]" if len(parts) > 1 else f"a list of {count_of(loc)}"


def about_commas(value: object) -> str:
    """Return more to say of a list that is too long by commas within its numbers.

    >>> about_commas([0, "508 m", 0, "146 m", "1 m"])
    '; a decimal has a point, and thousands have no comma'
    >>> about_commas([500, 500, 1, 500]), about_commas([1450, 700, 0])
    ('; a decimal has a point, and thousands have no comma', '')
    """
    if not isinstance(value, list | tuple):
        return ""
    for one, other in pairwise(value):
        if type(one) is not int:
            continue
        is_decimal = isinstance(other, str) and _BEHIND_COMMA.fullmatch(other)
        is_group = type(other) is int and _FIRST_GROUP <= other < _GROUP
        if is_decimal or (is_group and 0 < one < _FIRST_GROUP):
            return "; a decimal has a point, and thousands have no comma"
    return ""


def comma_in(there: object, key: object) -> tuple[str, str] | None:
    """Return what to say where a comma within a number made a key of its rest.

    ``{bottom: 0,9 m}`` has a key ``9 m`` without a value behind a bottom of 0, and
    ``{at: (1450, 700)}`` one ``700)``.

    Args:
        there: The mapping.
        key: A key of it that is not known.

    Returns:
        The key whose value was meant, and the message; None where it is none of that.
    """
    if not isinstance(there, dict) or there.get(key, "") is not None:
        return None
    keys = [*there]
    number = keys.index(key)
    before = there[keys[number - 1]] if number else None
    if isinstance(before, str) and before[:1] == "(" and str(key)[-1:] == ")":
        text = f"{before}, {key}"
        return keys[number - 1], f"found {found(text)}, right is [{text[1:-1]}]"
    if type(before) is not int or not _BEHIND_COMMA.fullmatch(str(key)):
        return None
    text = f"{before},{key}"
    right = meant(text) or "a number without a comma"
    if keys[number - 1] in _COUNTED:
        text = f"{before}, {key}"
        right = _list_like((keys[number - 1],), text)
    return keys[number - 1], f"found {found(text)}, right is {right}"


def pair_in(key: str, known: Collection[str]) -> tuple[str, str] | None:
    """Return the key that was meant, and how it is written, where no ": " parts it.

    >>> pair_in("along = 1200", ["wall", "along"]), pair_in("color", ["wall"])
    (('along', 'along: 1200'), None)
    """
    pair = _PAIR.fullmatch(key)
    if pair is None or pair[1] not in known:
        return None
    return pair[1], f"{pair[1]}: {pair[2]}"


def _name(loc: Loc) -> str:
    return next((str(step) for step in reversed(loc) if isinstance(step, str)), "")
