"""The library's two loaders: libyaml's, and the plain one where that is at a loss."""

from __future__ import annotations

import re
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Final, TypeVar

import yaml

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")

MOST_VALUES: Final = 5_000_000
"""Values of one file, each alias counted as all that it stands for."""
_LONG: Final = 2**20
"""Characters; a room of a thousand items has a third of it."""
_BEFORE_VALUES: Final = (",", "- ", ": ")
_NO_VALUE: Final = re.compile(
    r""""[^"\\]*(?:\\.[^"\\]*)*"|'[^']*'|#[^\n]*""", re.DOTALL
)
_BREAKS: Final = "\x85\u2028\u2029"
_STAND_INS: Final = "\U000f0085\U000f2028\U000f2029"
"""Characters for private use, in place of what ends a line in YAML 1.1 alone."""
_NO_BREAKS: Final = str.maketrans(_BREAKS, _STAND_INS)
_NO_KEY_SIGN: Final = "\U000f003f"
"""Another, in place of a question mark in a word, where YAML 1.1 ends the word."""
_KEY_SIGN: Final = re.compile(r"(?<=[^\s\[\]{},])\?")
AS_WRITTEN: Final = str.maketrans(_STAND_INS + _NO_KEY_SIGN, _BREAKS + "?")
"""Back to the characters that are written."""


def has_too_many(text: str, most: int = MOST_VALUES) -> bool:
    """Tell without reading it whether a text surely stands for more values.

    A comma, a dash and a colon each go before a value. In words they may stand as well,
    but no text of a scene is so long that it has millions of them. What is quoted or a
    comment does not count. Where this cannot tell, reading counts each value.

    >>> has_too_many("size: [1, 2, 3]", 2), has_too_many("size: [1]  # 1, 2, 3", 2)
    (True, False)
    """
    return _signs_in(text) > most and _signs_in(_NO_VALUE.sub("", text)) > most


def _signs_in(text: str) -> int:
    return sum(map(text.count, _BEFORE_VALUES))


def has_breaks(text: str) -> bool:
    """Tell whether something ends a line that ends none in YAML 1.2, but in 1.1."""
    return not text.isascii() and any(sign in text for sign in _BREAKS)


def by_either(text: str, read: Callable[[str, Any], T]) -> T:
    """Return what is read by libyaml, or by the plain loader where that is at a loss.

    Args:
        text: YAML text.
        read: What reads it, given the text and one of the library's loaders.
    """
    plain = text.translate(_NO_BREAKS) if has_breaks(text) else text
    # The plain one says more exactly what is wrong, but takes a hundred times as long.
    if yaml.__with_libyaml__ and len(text) > _LONG:
        return read(plain, yaml.CBaseLoader)
    if yaml.__with_libyaml__:
        with suppress(yaml.YAMLError, ValueError):
            return read(plain, yaml.CBaseLoader)
    return read(_KEY_SIGN.sub(_NO_KEY_SIGN, plain), _PlainLoader)


class _PlainLoader(yaml.BaseLoader):
    """The loader in Python, which lets tabs stand between values in brackets."""

    def scan_to_next_token(self) -> None:
        super().scan_to_next_token()
        while self.flow_level and self.peek() == "\t":
            self.forward()
            super().scan_to_next_token()
