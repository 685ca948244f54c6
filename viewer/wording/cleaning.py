"""Text of unknown origin, made fit for a terminal."""

from __future__ import annotations

import unicodedata
from typing import Final

_BAD: Final = frozenset({"Cc", "Cn", "Co", "Cs", "Zl", "Zp"})
"""Unicode categories that a terminal may obey, or cannot show."""
_UNSEEN: Final = frozenset({"Cf"})
"""Marks without a width of their own; those that turn the direction of text too."""


def clean(text: str, longest: int | None = None) -> str:
    r"""Return text as one line that does no harm on a terminal.

    >>> clean("Annex\n\x1b[31m A\u202e"), clean("x" * 50, 10)
    ('Annex ?[31m A', 'xxxxxxx...')
    """
    line = _line(text)
    if longest is not None and len(line) > longest:
        return f"{line[: longest - 3]}..."
    return line if type(text) is str else _in_parts(text, line)


def _in_parts(text: str, line: str) -> str:
    """Return a line with the parts of the text that it was, where it has any."""
    from model3d.wording.said import Said, parts_of  # noqa: PLC0415 - not for the help

    # Within full stops a part keeps the blanks at its ends.
    parts = (type(part)(_line(f".{part}.")[1:-1]) for part in parts_of(text))
    made = Said(*parts)
    return made if made == line else line


def _line(text: str) -> str:
    # Unseen marks go first: one at the end would leave a blank before it behind.
    seen = text if text.isascii() else "".join(filter(_is_seen, text))
    line = " ".join(seen.split())
    if not line.isascii() or not line.isprintable():
        line = "".join(map(_shown, line))
    return line


def _is_seen(char: str) -> bool:
    return unicodedata.category(char) not in _UNSEEN


def _shown(char: str) -> str:
    return "?" if unicodedata.category(char) in _BAD else char
