"""What reports are written as: a format is a file here, and its name is its word.

Its docstring says what it is, to stand after "With --format WORD". ``part`` says of one
scene what goes into the whole, as plain data that may come from another process, and
``write`` writes all parts to a file, or to the terminal where none is named. What a
format is beside that it says by these names, each of which may be left out:

- ``TELLS_REMEDIES = False``: it has no place for remedies;
- ``ENDING = ".csv"``: where no format is asked for, a file that ends so is written so;
- ``FILE_ONLY = True``: it is no text, and is not written to a terminal;
- ``read``: gives back the rows of a file that it wrote, as ``rows_kept`` has them.

All formats are loaded for the help, so a file loads what it needs when it writes.
"""

from __future__ import annotations

import pkgutil
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, Any, Final, Protocol, cast

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.wording.refusal import Refused

DEFAULT: Final = "text"
"""The format where none is asked for; the help of the others begins with it."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How reports are told.

    Attributes:
        mend: With remedies.
        width: Columns of the terminal; None where it is none.
        colour: It shows colour.
    """

    mend: bool = False
    width: int | None = None
    colour: bool = False


class Format(Protocol):
    """What every file here offers."""

    __doc__: str | None

    def part(self, one: Report | Refused, basis: Basis, manner: Manner) -> object:
        """Return what goes into the whole of a scene, or of one that cannot be used."""

    def write(self, parts: Sequence[Any], output: Path | None, manner: Manner) -> None:
        """Write parts to a file, or to the terminal where there is none.

        Args:
            parts: Of each scene, in their order.
            output: The file.
            manner: As the parts were made.
        """


def tells_remedies(one: Format) -> bool:
    """Tell whether a format has a place for remedies."""
    return bool(getattr(one, "TELLS_REMEDIES", True))


def is_read_again(one: Format) -> bool:
    """Tell whether a format gives back the rows that it wrote."""
    return hasattr(one, "read")


def is_for_files(one: Format) -> bool:
    """Tell whether a format is no text."""
    return bool(getattr(one, "FILE_ONLY", False))


def ending_of(one: Format) -> str | None:
    """Return what the name of a file ends with that is written so, or None."""
    found: str | None = getattr(one, "ENDING", None)
    return found


@cache
def formats() -> Mapping[str, Format]:
    """Return every format by its word, the default first."""
    words = sorted(found.name for found in pkgutil.iter_modules(__path__))
    words.sort(key=lambda word: word != DEFAULT)
    return {word: cast("Format", import_module(f"{__name__}.{word}")) for word in words}


def format_of(asked: str | None, output: Path | None) -> str:
    """Return the word of the format: the one asked for, else by the file's name."""
    ending = output.suffix.lower() if output else ""
    if asked is None and ending:
        for word, one in formats().items():
            if ending_of(one) == ending:
                return word
    return asked or DEFAULT


def about_formats() -> str:
    """Say what comes of each format that has to be asked for."""
    asked = {word: one.__doc__ or "" for word, one in formats().items()}
    del asked[DEFAULT]
    return " ".join(
        f"With --format {word} {about[:1].lower()}{about[1:]}"
        for word, about in asked.items()
    )
