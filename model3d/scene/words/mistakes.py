"""A mistake in a scene: where it is written, what was found, what would be right."""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable

Loc = tuple[str | int, ...]
"""The way from the top of a scene to a value: keys as written, numbers from 0."""
Found = tuple[Loc, str]
"""Where a mistake is, and the message."""

_SHORT: Final = 40
_LIST: Final = 24
"""Characters of a value, and of a list, that a message repeats."""
_EXACT: Final = 15
"""Digits that a float keeps."""


class KeyStep(str):
    """The last step of a Loc, where the key itself is meant and not its value."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake in a scene file.

    Attributes:
        file: The file as it was named to the reader.
        line: Line in the file, the first is 1; 0 where it is none of a line.
        column: Column in that line, the first is 1.
        item: Id of the item or personnel door, or nothing.
        field: Dotted path below the item, for example ``doors[1].width``, which
            counts from 0 as programs do; from the top of the file where there is no
            item. In the line for people the same is ``doors #2.width``.
        message: What was found and what would be right.
    """

    file: str
    line: int
    column: int
    item: str
    field: str
    message: str

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        field = counted(self.field)
        parts = (where, _shortened(self.item), field, self.message)
        return ": ".join(_on_one_line(part) for part in parts if part)


class SceneError(ValueError):
    """A scene, or a part of one, that cannot be used.

    Attributes:
        mistakes: Every mistake, in the order of the file.
    """

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        super().__init__(mistakes)
        self.mistakes = mistakes

    def __str__(self) -> str:
        return "\n".join(str(mistake) for mistake in self.mistakes)


class NotFittingError(ValueError):
    """Parts of a scene that do not fit together.

    Attributes:
        found: Each with its place.
    """

    def __init__(self, found: tuple[Found, ...]) -> None:
        lines = (f"{counted(dotted(loc))}: {message}" for loc, message in found)
        super().__init__("\n".join(lines))
        self.found = found


def dotted(loc: Loc) -> str:
    """Write the way to a value as people do.

    >>> dotted(("doors", 1, "width"))
    'doors[1].width'
    """
    text = ""
    for step in loc:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            text += f".{_shortened(step)}" if text else _shortened(step)
    return text


def counted(field: str) -> str:
    """Write the way to a value so that lists are counted from 1, as people do.

    >>> counted("doors[1].width"), counted("size[0]")
    ('doors #2.width', 'size #1')
    """
    return re.sub(r"\[(\d+)\]", lambda one: f" #{int(one[1]) + 1}", field)


def found(value: object) -> str:
    """Say what was found, in a few words.

    >>> found(-3), found("LP9"), found(None), found(True), found([1, 2])
    ('-3', '"LP9"', 'nothing', 'true', '[1, 2]')
    """
    match value:
        case None:
            text = "nothing"
        case bool():
            text = "true" if value else "false"
        case int() | float():
            text = _found_number(value)
        case str():
            text = json.dumps(_shortened(value), ensure_ascii=False)
        case dict():
            text = "a mapping"
        case list() | tuple():
            text = _found_list(value)
        case _:
            text = f"a {type(value).__name__}"
    return text


def shown(length: object) -> str:
    """Say a length or several, in which a number has become a float, as written.

    >>> shown(900.0), shown(1.5), shown((0.0, "1 in"))
    ('900', '1.5', '[0, "1 in"]')
    """
    if isinstance(length, list | tuple):
        return found([_bare(one) for one in length])
    return found(_bare(length))


def _bare(length: object) -> object:
    if isinstance(length, float) and length.is_integer():
        return int(length)
    return length


def within(where: Loc, mistakes: Iterable[Found]) -> list[Found]:
    """Return mistakes of a part as mistakes of the whole it is in."""
    return [((*where, *loc), message) for loc, message in mistakes]


def at_loc(data: object, loc: Loc) -> object:
    """Return the value at a place, or None where there is nothing.

    Args:
        data: Plain data, in which finished parts may stand.
        loc: The place.
    """
    for step in loc:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(step, str) and hasattr(data, f"{step}_"):
            data = getattr(data, f"{step}_")
        elif isinstance(step, str) and hasattr(data, step):
            data = getattr(data, step)
        elif isinstance(data, list | tuple) and isinstance(step, int):
            data = data[step] if step < len(data) else None
        else:
            return None
    return data


def _found_number(value: float) -> str:
    if isinstance(value, int):
        # Longer ones cannot even be written out, beyond some thousands of digits.
        return str(value) if abs(value) < 10**_SHORT else "an endless number"
    if math.isnan(value):
        return ".nan"
    if value.is_integer() and abs(value) < 10**_EXACT:
        return str(int(value))  # what a list has as 508 is a float by now
    return str(value).replace("inf", ".inf")


def _found_list(values: list[object] | tuple[object, ...]) -> str:
    few = 4
    is_simple = not any(isinstance(value, list | tuple | dict) for value in values)
    if is_simple and 0 < len(values) <= few:
        text = f"[{', '.join(found(value) for value in values)}]"
        if len(text) <= _LIST:
            return text
    return f"a list of {len(values)}" if values else "an empty list"


def _shortened(text: str) -> str:
    return text if len(text) <= _SHORT else f"{text[:_SHORT]}..."


def _on_one_line(text: str) -> str:
    # A line break, or a terminal's control character, in an id must not do harm.
    if text.isprintable():
        return text
    return "".join(
        char if char.isprintable() else char.encode("unicode_escape").decode()
        for char in text
    )
