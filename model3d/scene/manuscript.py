"""Plain data as the text of a scene file, laid out as people lay it out."""

from __future__ import annotations

import datetime as dt
import json
import re
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

_FIRST: Final = (
    "title",
    "units",
    "rules",
    "measures",
    "installed",
    "premises",
    "use",
    "survey_tolerance",
    "origin",
    "frames",
    "not_read",
    "sheet",
)
_LAST: Final = ("room", "items", "lesson")
_OPENED: Final = frozenset({"items", "steps"})
"""Lists of which every entry has its keys on lines of their own."""
_WIDEST: Final = 88
_PLAIN: Final = re.compile(r"[^\W_][\w./+()]*(?:[ -]+[\w./+()]+)*")
_LIKE_A_NUMBER: Final = re.compile(r"[\d_.+:-]+(?:[eExXoO][\da-fA-F_+-]*)?")
_WORDS: Final = frozenset(["y", "n", "yes", "no", "on", "off", "true", "false", "null"])
"""What some reader of YAML takes for something else than text."""


def scene_text(data: Mapping[str, Any]) -> str:
    """Return a scene's plain data as YAML text."""
    return "".join(f"{line}\n" for line in _mapping(_ordered(data)))


def json_text(data: Mapping[str, Any]) -> str:
    """Return a scene's plain data as JSON text."""
    text = json.dumps(_ordered(data), indent=2, ensure_ascii=False, default=str)
    return f"{text}\n"


def _ordered(data: Mapping[str, Any]) -> dict[str, Any]:
    keys = [key for key in _FIRST if key in data]
    keys += [key for key in data if key not in (*_FIRST, *_LAST)]
    keys += [key for key in _LAST if key in data]
    return {key: data[key] for key in keys}


def entry_lines(entry: Mapping[str, Any], notes: Iterable[str] = ()) -> list[str]:
    """Return the lines of an entry of a list: its keys one below the other.

    Args:
        entry: Its keys and values.
        notes: Comments, which stand below it.
    """
    lines = [*_mapping(entry), *(f"# {comment(note)}" for note in notes)]
    return _dashed(lines)


def comment(text: str) -> str:
    r"""Return text as it may stand behind a #, on one line.

    >>> comment("two\nlines")
    'two lines'
    """
    return blanked(" ".join(text.split()))


def blanked(text: str) -> str:
    r"""Return a text with a blank for each sign that cannot be printed.

    >>> blanked("LP1\x00\nA")
    'LP1  A'
    """
    return "".join(sign if sign.isprintable() else " " for sign in text)


def _mapping(data: Mapping[str, Any]) -> Iterator[str]:
    for key, value in data.items():
        name = _text(str(key))
        flow = _flow(value)
        simple = not isinstance(value, dict | list | tuple) or not value
        if simple or (key not in _OPENED and len(name) + len(flow) < _WIDEST - 6):
            yield f"{name}: {flow}"
            continue
        yield f"{name}:"
        inner = _mapping(value) if isinstance(value, dict) else _list(value, str(key))
        yield from (f"  {line}" for line in inner)


def _list(values: Sequence[Any], key: str) -> Iterator[str]:
    for value in values:
        flow = _flow(value)
        if isinstance(value, dict) and (key in _OPENED or len(flow) > _WIDEST - 8):
            yield from _dashed([*_mapping(value)])
        else:
            yield f"- {flow}"


def _dashed(lines: list[str]) -> list[str]:
    return [f"{'  ' if number else '- '}{line}" for number, line in enumerate(lines)]


def _flow(value: object) -> str:
    r"""Write a value on one line.

    >>> _flow({"wall": "north", "along": 1200.0, "why": "6'-6\""})
    '{wall: north, along: 1200, why: "6\'-6\\""}'
    >>> _flow([True, None, "on", "12", "208Y/120", 0.5])
    '[true, null, "on", "12", 208Y/120, 0.5]'
    """
    match value:
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():
            return str(int(value)) if value.is_integer() else repr(value)
        case dt.date():
            return value.isoformat()
        case dict():
            pairs = (f"{_text(str(key))}: {_flow(one)}" for key, one in value.items())
            return f"{{{', '.join(pairs)}}}"
        case list() | tuple():
            return f"[{', '.join(map(_flow, value))}]"
    return _text(str(value))


def _text(text: str) -> str:
    is_word = _PLAIN.fullmatch(text) and not _LIKE_A_NUMBER.fullmatch(text)
    if is_word and text.casefold() not in _WORDS:
        return text
    return f'"{"".join(map(_escaped, text))}"'


def _escaped(char: str) -> str:
    if char in '"\\':
        return f"\\{char}"
    if char.isprintable():
        return char
    code = ord(char)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"  # noqa: PLR2004 - what four digits hold
