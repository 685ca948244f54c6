"""What would be right at a place of a scene, in the words of that place."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.length_slips import meant
from model3d.scene.lesson import CHANGES
from model3d.scene.placement import REFERENCES
from model3d.scene.words.mistakes import found

if TYPE_CHECKING:
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
    "shelf": "the height of the shelf above the rack's underside",
    "cells": "the number of cells",
    "cell": "width, depth and height of a cell",
    "at": "the id of an item",
    "from": "x, y and z",
    "by": "east, north and up",
    "to": "an angle in degrees",
    "steps": "a list of steps",
    "text": "the words of an answer",
    "right": "true or false",
    "why": "why it is right or wrong",
    BESIDE: "the new values beside set",
}
"""What would be right where a field is missing that must be there."""

_COUNTED: Final = {
    "size": "width, depth and height",
    "cell": "width, depth and height",
    "section": "width and height",
    "access_opening": "width and length",
    "from": "x, y and z",
    "to": "x, y and z",
    "at": "x and y",
    "by": "east, north and up",
    "shift": "three lengths",
    "step": "right, out and up",
    "turn": "degrees about x, y and z",
    "scanner": "x and y in the numbers of the scan",
    "outline": "x and y",
    "origin": "x, y and z",
}
"""What a list of a fixed length holds."""


_ENDS: Final = ("from", "to")
_MAPPINGS: Final = {
    "supply": "{system: 480Y/277, amps: 400}",
    "room": "{size: [6000, 4000], height: 3000}",
    "repeat": "{count: 4, step: 800}",
    "lighting": "{present: true, control: manual}",
    "clearances": "{left: 100, rear: 150}",
    "sides": "{left: bolted}",
    "sheet": "{project: Harbour, number: E-101}",
}
"""A mapping as it may be written; the format's page has more of each."""
_CHOSEN: Final = ("kind", "rules")
"""Keys whose text is one of some words."""
_CROSSED: Final = re.compile(r"\s*[xX*\N{MULTIPLICATION SIGN}]\s*")
_LEADING: Final = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[A-Za-z%]+\s*")
_PERCENT: Final = re.compile(r"(\d+(?:\.\d+)?)\s*%")
_BEHIND_COMMA: Final = re.compile(r"\d+\s*(?:mm|m|in|ft)?")
_GROUP: Final = 1000
_FIRST_GROUP: Final = 100


def needed(loc: Loc) -> str:
    """Say what would be right at a place where something must stand."""
    name = str(loc[-1])
    # An end of a leaf's way is an angle, an end of a dimension is a point.
    if "show" in loc and name in _ENDS:
        return _COUNTED[name]
    return NEEDED.get(name, OTHER)


def count_of(loc: Loc) -> str:
    """Say what the list at a place holds, if it is one of a fixed length."""
    name = _name(loc)
    # Of the two sizes there are, an item's has three numbers and a room's has two.
    return "x and y" if loc == ("room", "size") else _COUNTED.get(name, OTHER)


def likely(kind: str, loc: Loc, value: object) -> str | None:
    """Return what would be right in the words of the place, or None for the usual.

    Args:
        kind: The library's word for the error.
        loc: The place.
        value: What stands there.
    """
    name = _name(loc)
    if kind == "tuple_type" and count_of(loc) != OTHER:
        return _list_like(loc, value)
    if kind.startswith(("model_", "dict_")) and name in _MAPPINGS:
        return f"a mapping such as {_MAPPINGS[name]}"
    if kind == "tuple_type" and name == "doors" and "room" not in loc:
        return "a list such as [{hinge: left, width: 600}], or door: left"
    if kind == "string_type" and name in _CHOSEN:
        return NEEDED[name]
    if kind == "float_type" and isinstance(value, str):
        if share := _PERCENT.fullmatch(value):
            return f"a number alone: {float(share[1]) / 100:g}"
        match = _LEADING.fullmatch(value)
        return f"a number alone: {match[1]}" if match else None
    return None


def _list_like(loc: Loc, value: object) -> str:
    """Return how a list is written: of the parts there are, or by what they mean."""
    names = count_of(loc)
    parts = [part.strip() for part in re.split(", | and ", names)]
    said = _CROSSED.split(value.strip()) if isinstance(value, str) else []
    if len(said) == len(parts) and all(re.match(r"[\d.]", one) for one in said):
        return f"[{', '.join(said)}]"
    return f"[{', '.join(parts)}]" if len(parts) > 1 else "a list"


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

    ``{bottom: 0,9 m}`` has a key ``9 m`` without a value behind a bottom of 0.

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
    if type(before) is not int or not _BEHIND_COMMA.fullmatch(str(key)):
        return None
    text = f"{before},{key}"
    right = meant(text) or "a number without a comma"
    return keys[number - 1], f"found {found(text)}, right is {right}"


def _name(loc: Loc) -> str:
    return next((str(step) for step in reversed(loc) if isinstance(step, str)), "")
