"""From the library's validation errors to plain English: what was found, what is right.

Every kind of error a scene can meet has its words here; the tests hold the list against
the models.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d.scene.faults.as_written import written
from model3d.scene.faults.expected import (
    BESIDE,
    OTHER,
    about_commas,
    count_of,
    likely,
    needed,
    whole_list,
)
from model3d.scene.faults.unknown_keys import unknown_keys
from model3d.scene.parts.lesson import CHANGES, which_change
from model3d.scene.parts.part import Part
from model3d.scene.parts.placement import PLACES
from model3d.scene.parts.room import Room
from model3d.scene.words.elsewhere import meant_key, meant_word
from model3d.scene.words.mistakes import (
    KeyStep,
    Loc,
    Mistake,
    NotFittingError,
    SceneError,
    at_loc,
    dotted,
    found,
)
from model3d.scene.words.nearest import listed

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

    from model3d.scene.words.mistakes import Found

_LONG: Final = 100
"""Of a list of which the parts have no names of their own."""
_WHOLE: Final = frozenset({"int_type", "int_from_float"})
_RIGHT: Final = {
    "string_type": "text",
    "string_too_short": "text that is not empty",
    "string_too_long": "text of at most {max_length} characters",
    "string_unicode": "text of whole characters",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "int_parsing_size": "a smaller number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "greater_than": "a number above {gt:g}",
    "greater_than_equal": "{ge:g} or more",
    "less_than_equal": "{le:g} or less",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "dict_type": "a mapping",
    "walls": "a word for all walls, or a mapping with one for each",
    "working_space": "auto, none, or a mapping with depth, width and height",
    "model_type": "a mapping",
    "model_attributes_type": "a mapping",
}
"""What would be right, by the kind of error."""

_NOTHING: Final = "none"
_MOST_ERRORS: Final = 20_000
"""More than anybody reads; a file made to have millions of them must not take hours."""


def explained(error: ValidationError, root: type[Part], data: object) -> list[Found]:
    """Return each error of a validation with its place as written, in plain English.

    Args:
        error: What pydantic found.
        root: The model that was validated.
        data: What it was validated on.
    """
    details = error.errors(include_url=False)[:_MOST_ERRORS]
    unknown = [*unknown_keys(details, root, data)]
    # A key that was misspelt is one mistake, not a second one for being missing.
    meant = {(*loc[:-1], near) for loc, nears, _ in unknown for near in nears}
    commas = {loc for loc, nears, _ in unknown if not isinstance(loc[-1], KeyStep)}
    mistakes: list[Found] = [(loc, message) for loc, _, message in unknown]
    for detail in details:
        if detail["type"] == "extra_forbidden":
            continue
        if isinstance(cross := detail.get("ctx", {}).get("error"), NotFittingError):
            mistakes += cross.found
            continue
        loc = written(detail["loc"])
        if loc in commas or (detail["type"] == "missing" and loc in meant):
            continue
        if detail["type"] == "too_short" and _is_long_enough(detail, loc, data):
            continue
        # A room that is made by itself has its size as in a scene: x and y.
        within = ("room", *loc) if root is Room else loc
        mistakes.append(_worded(detail, loc, data, within))
    return [*dict.fromkeys(mistakes)]


def refusal(
    error: ValidationError, part: type[Part], data: dict[str, Any]
) -> SceneError:
    """Return the mistakes of a part that was made in Python."""
    alias = {name: field.alias or name for name, field in part.model_fields.items()}
    as_written = {alias.get(key, key): value for key, value in data.items()}
    try:
        part.model_validate(as_written)
    except ValidationError as by_alias:
        error = by_alias  # whose places are named by the keys of a file
    own_id = _id(as_written.get("id"))
    lines = []
    for loc, message in explained(error, part, as_written):
        item, field = item_and_field(loc, as_written)
        if not item and "items" not in part.model_fields:
            field = dotted(loc if own_id else (part.__name__, *loc))
        lines.append(Mistake("", 0, 0, item or own_id, field, message))
    return SceneError(tuple(lines))


Part.refusal = staticmethod(refusal)


def item_and_field(loc: Loc, data: dict[str, Any]) -> tuple[str, str]:
    """Return the id of the item a place is in, and the field as a path from there."""
    match loc:
        case ("items", int(), *field) | ("room", "doors", int(), *field):
            own_id = _id(at_loc(data, (*loc[: len(loc) - len(field)], "id")))
            return own_id, dotted(tuple(field) if own_id else loc)
        case ("lesson", "steps", int(), "do", int(), *_):
            key = which_change(at_loc(data, loc[:5])) or ""
            own = (key, "id") if key == "add" else (key,)
            return _id(at_loc(data, (*loc[:5], *own))), dotted(loc)
    return "", dotted(loc)


def _id(value: object) -> str:
    """Return an id as written, text or a whole number, or nothing."""
    if isinstance(value, int) and not isinstance(value, bool):
        return found(value)
    return value if isinstance(value, str) else ""


def _is_long_enough(detail: ErrorDetails, loc: Loc, data: object) -> bool:
    # The library counts only what is right in the list; the rest has its own lines.
    there = at_loc(data, loc)
    fewest = detail.get("ctx", {})["min_length"]
    return isinstance(there, list | tuple) and len(there) >= fewest


def _told(kind: str, value: object) -> str:
    """Return what was found; told without its point, 3.0 would be no mistake."""
    if kind in _WHOLE and isinstance(value, float) and value.is_integer():
        return f"{value} with a point"
    return found(value)


def _worded(detail: ErrorDetails, loc: Loc, data: object, within: Loc) -> Found:
    kind, context = detail["type"], detail.get("ctx", {})
    value = at_loc(data, loc)
    what, more = _told(kind, value), ""
    if loc and isinstance(loc[-1], int) and (whole := whole_list(loc, data)):
        loc, what, right = whole
    elif kind == "missing" and isinstance(loc[-1], int):
        # One of a fixed number of values: the list is at fault, not its end.
        loc = loc[:-1]
        what, right = found(at_loc(data, loc)), count_of(within[:-1])
    elif kind == "missing":
        right = needed(loc)
        loc = loc[:-1] if loc[-1] == BESIDE else loc
    elif kind in ("place", "change"):
        loc, what, right = _one_of(loc, value, PLACES if kind == "place" else CHANGES)
    elif kind == "too_long":
        right, more = count_of(within), about_commas(value)
        if context["max_length"] >= _LONG:
            right = f"a list of at most {context['max_length']}"
    elif kind == "too_short":
        what_it_is = "mapping" if isinstance(value, dict) else "list"
        right = f"a {what_it_is} of at least {context['min_length']}"
    elif kind == "literal_error":
        right = _choice(value, str(context["expected"]))
    elif kind == "value_error":
        right = str(context["error"])
    else:
        right = likely(kind, within, value) or _RIGHT.get(kind, OTHER).format(**context)
    return loc, f"found {what}, right is {right}{more}"


def _one_of(loc: Loc, value: object, keys: tuple[str, ...]) -> tuple[Loc, str, str]:
    """Return place, found and right where exactly one of some keys is wanted."""
    right = f"one of {listed(keys)}"
    if not isinstance(value, dict):
        return loc, found(value), f"a mapping with {right}"
    there = [key for key in keys if key in value]
    if there:
        return loc, listed(there, "and"), right
    if "x" in value and "y" in value and "at" in keys:
        right = f"at: {found([value['x'], value['y']])}"
        return (*loc, KeyStep("x")), "x and y", right
    for key in value:
        if near := meant_key(str(key), keys):
            return (*loc, KeyStep(key)), f"the unknown key {found(key)}", near
    return loc, "none of them", right


def _choice(value: object, expected: str) -> str:
    words = expected.replace("'", "").replace(" or ", ", ").split(", ")
    if value == _NOTHING and _NOTHING not in words:
        return f"{listed(words)}, or no such key where there is none"
    near = meant_word(value, words) if isinstance(value, str) else None
    return f"{listed(words)} (nearest: {near})" if near else listed(words)
