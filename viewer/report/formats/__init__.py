"""What reports are written as: a format is a file here, and its name is its word.

Its docstring says what it is, to stand after "With --format WORD", and ``write`` writes
reports to a file, or to the terminal where none is named. A format that has no place
for remedies says so by ``TELLS_REMEDIES = False``. All formats are loaded for the help,
so a file loads what it needs when it writes.
"""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, Final, Protocol, cast

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.wording.refusal import Refused

DEFAULT: Final = "text"
"""The format where none is asked for; the help of the others begins with it."""


class Format(Protocol):
    """What every file here offers."""

    __doc__: str | None

    def write(
        self, checked: Sequence[Report | Refused], output: Path | None, *, mend: bool
    ) -> None:
        """Write what came of each scene to a file, or to the terminal.

        Args:
            checked: Reports, and in their places the scenes that cannot be used.
            output: The file; the terminal where there is none.
            mend: With remedies.
        """


def tells_remedies(one: Format) -> bool:
    """Tell whether a format has a place for remedies."""
    return bool(getattr(one, "TELLS_REMEDIES", True))


@cache
def formats() -> Mapping[str, Format]:
    """Return every format by its word, the default first."""
    words = sorted(found.name for found in pkgutil.iter_modules(__path__))
    words.sort(key=lambda word: word != DEFAULT)
    return {word: cast("Format", import_module(f"{__name__}.{word}")) for word in words}


def about_formats() -> str:
    """Say what comes of each format that has to be asked for."""
    asked = {word: one.__doc__ or "" for word, one in formats().items()}
    del asked[DEFAULT]
    return " ".join(
        f"With --format {word} {about[:1].lower()}{about[1:]}"
        for word, about in asked.items()
    )
