"""What a word of a YAML file means: the core schema of YAML 1.2, and nothing else."""

from __future__ import annotations

import math
import re
from typing import Final

Scalar = str | int | float | bool | None

_WORDS: Final[dict[str, bool | None]] = {
    "": None,
    "~": None,
    **dict.fromkeys(("null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_WHOLE = re.compile(r"[-+]?[0-9]+")
_DECIMAL = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_OTHER_BASE = re.compile(r"0o[0-7]+|0x[0-9a-fA-F]+")
_ENDLESS = re.compile(r"([-+]?)\.(?:inf|Inf|INF)")
_NO_NUMBER: Final = (".nan", ".NaN", ".NAN")
_MOST_DIGITS: Final = 300
"""Beyond, a whole number is no float either, and converting it takes its time."""

_TAG: Final = "tag:yaml.org,2002:"
STANDARD_TAGS: Final[dict[str, type]] = {
    f"{_TAG}str": str,
    f"{_TAG}int": int,
    f"{_TAG}float": float,
    f"{_TAG}bool": bool,
    f"{_TAG}null": type(None),
    f"{_TAG}seq": list,
    f"{_TAG}map": dict,
}
"""The tags of the core schema, and what a value with that tag is."""


def meaning(text: str) -> Scalar:
    """Return the value of a plain scalar (YAML 1.2.2, 10.3.2 Tag Resolution).

    >>> meaning("0x1F"), meaning("007"), meaning("1e3"), meaning("yes"), meaning("~")
    (31, 7, 1000.0, 'yes', None)
    """
    if text in _WORDS:
        return _WORDS[text]
    # Most words of a scene are names, and no number starts with a letter.
    if text[0].isalpha():
        return text
    if text.isascii() and text.isdecimal() and len(text) <= _MOST_DIGITS:
        return int(text)
    number = _number(text)
    return text if number is None else number


def _number(text: str) -> int | float | None:
    short = len(text) <= _MOST_DIGITS
    number: int | float | None = None
    if _WHOLE.fullmatch(text):
        number = int(text) if short else float(text)
    elif _DECIMAL.fullmatch(text):
        number = float(text)
    elif _OTHER_BASE.fullmatch(text):
        number = int(text, 0) if short else math.inf
    elif match := _ENDLESS.fullmatch(text):
        number = float(f"{match[1]}inf")
    elif text in _NO_NUMBER:
        number = math.nan
    return number


def tagged(text: str, tag: str) -> Scalar:
    """Return the value of a scalar with one of the standard tags.

    Raises:
        ValueError: The text is no value of that tag.
    """
    wanted = STANDARD_TAGS[tag]
    if wanted is str:
        return text
    value = meaning(text)
    if wanted is float and type(value) is int:
        return float(value)
    if type(value) is not wanted:
        msg = f"a value that suits the tag {written_tag(tag)}"
        raise ValueError(msg)
    return value


def written_tag(tag: str) -> str:
    """Return a tag in the short form people write.

    >>> written_tag("tag:yaml.org,2002:int"), written_tag("!mine")
    ('!!int', '!mine')
    """
    return f"!!{tag.removeprefix(_TAG)}" if tag.startswith(_TAG) else tag
