"""What may be written at a key, in a few words, from the schema of the format."""

from __future__ import annotations

import re
from typing import Any, Final

from model3d.scene.kinds import KINDS

Schema = dict[str, Any]

LENGTHS: Final = {
    "Length": "length",
    "PositiveLength": "length above 0",
    "Distance": "length, 0 or more",
}
UNITS: Final = {
    ("Supply", "amps"): "amperes",
    ("Supply", "to_ground"): "volts",
    ("RoomDoor", "opens_to"): "degrees",
    ("OpenLeaf", "to"): "degrees",
    ("Lesson", "number"): "counted from 1",
    ("OpenLeaf", "leaf"): "counted from 0",
    ("Item", "scale"): "factor",
    ("Item", "free_air"): "share",
    ("Tier", "cells"): "count",
    ("Tier", "rows"): "count",
    ("Repeat", "count"): "count",
    ("NotRead", "count"): "count",
    ("Step", "minutes"): "minutes",
}
"""The units of numbers that are neither lengths nor angles."""
_SIMPLE: Final = {"boolean": "`true` or `false`", "date": "date"}
_IN_WORDS: Final = {
    "GearType": "an [item](#item) without `id` and `place`",
    "SetItem": "`set` and new keys",
}
"""Parts that have no table of their own."""
_UNHEARD_OF: Final = 1e6
"""A greatest number from there on only keeps files sane."""
_FULL_TURN: Final = 360
_NAME: Final = ["string", "integer"]


def form(schema: Schema, unit: str = "") -> str:
    """Return what may be written, in Markdown.

    >>> form({"type": "array", "prefixItems": [{"$ref": "#/$defs/Length"}] * 3})
    'list of 3: length'
    >>> form({"enum": ["in", "out"], "type": "string"})
    '`in` or `out`'
    """
    if "$ref" in schema:
        return _named(schema["$ref"].rpartition("/")[2])
    if "const" in schema or "enum" in schema:
        return _words(schema.get("enum") or [schema["const"]])
    either = schema.get("anyOf") or schema.get("oneOf")
    if either and "properties" not in schema:
        return _either(either, unit)
    match schema.get("type"):
        case "array":
            return _list(schema, unit)
        case "object":
            return _mapping(schema)
        case "integer" | "number" as kind:
            return _number(schema, kind, unit)
        case other:
            return _SIMPLE.get(schema.get("format") or str(other), "text")


def _named(name: str) -> str:
    told = {**LENGTHS, **_IN_WORDS}.get(name)
    words = re.sub(r"(?<!^)(?=[A-Z])", " ", name).lower()
    return told or f"[{words}](#{name.lower()})"


def _words(words: list[object]) -> str:
    if [*words] == [*KINDS]:
        return "one of the [kinds](#kinds)"
    *some, last = [f"`{word}`" for word in words]
    return f"{', '.join(some)} or {last}" if some else last


def _either(forms: list[Schema], unit: str) -> str:
    if [one.get("type") for one in forms] == _NAME:
        return "name"
    return " or ".join(dict.fromkeys(form(one, unit) for one in forms if one))


def _list(schema: Schema, unit: str) -> str:
    if "prefixItems" in schema:
        each = [*dict.fromkeys(form(one, unit) for one in schema["prefixItems"])]
        return f"list of {len(schema['prefixItems'])}: {', '.join(each)}"
    return f"list of {form(schema['items'], unit)}"


def _mapping(schema: Schema) -> str:
    inside = schema.get("additionalProperties")
    if isinstance(inside, dict):
        return f"mapping, by name: {form(inside)}"
    return "mapping"


def _number(schema: Schema, kind: str, unit: str) -> str:
    low, high = schema.get("minimum"), schema.get("maximum")
    if (low, high) == (-_FULL_TURN, _FULL_TURN):
        return "degrees"
    word = "whole number" if kind == "integer" else "number"
    above = schema.get("exclusiveMinimum")
    if low is not None:
        word += f", {low:g} or more" if high is None else f", {low:g} to {high:g}"
    elif above is not None:
        word += f" above {above:g}"
        word += f", at most {high:g}" if high is not None and high < _UNHEARD_OF else ""
    return f"{word} ({unit})" if unit else word
