"""How much room text takes: measured in the typeface that figures are set in."""

from __future__ import annotations

import importlib.util
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

from PIL import ImageFont

FAMILY: Final = "DejaVu Sans"
"""Has every sign that sizes and names need, and is as wide everywhere."""
ASCENT: Final = 0.78
DESCENT: Final = 0.24
"""Shares of the size that letters take above and below the base line."""
LINE: Final = 1.22
"""Share of the size from one base line to the next."""

_MEASURED_AT: Final = 100
_FILES: Final = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
_HOME: Final = "matplotlib"
"""The package that brings the typeface."""


def folder() -> Path | None:
    """Return the folder with the typeface's files; None where it is missing."""
    found = importlib.util.find_spec(_HOME)
    if found is None or found.origin is None:
        return None
    return Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"


@lru_cache(maxsize=8192)
def wide(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line of text is, millimetres.

    >>> wide("", 2.5), wide("mm", 2.5) < wide("mm", 2.5, bold=True)
    (0.0, True)
    """
    return float(_font(bold=bold).getlength(text)) * size / _MEASURED_AT


def wrapped(text: str, size: float, room: float) -> tuple[str, ...]:
    """Return a text in lines no wider than ``room``, as far as its words allow.

    >>> wrapped("one two three", 10.0, 45.0)
    ('one two', 'three')
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and wide(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


@cache
def _font(*, bold: bool) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    home = folder()
    if home is not None and (home / _FILES[bold]).is_file():
        return ImageFont.truetype(home / _FILES[bold], _MEASURED_AT)
    return ImageFont.load_default(_MEASURED_AT)
