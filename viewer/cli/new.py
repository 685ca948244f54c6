"""Write a room to begin with, with comments that say what each line means."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit, write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable

RANK: Final = 15
MORE: Final = """\
examples:
  standclear new room.yaml
  standclear new room.yaml --units mm --size 6000x4000x3000 --rules nec-2023
  standclear new room.yaml --units ft --size "20 x 14 x 9 ft 6 in" --rules nec-2023

What is not said is asked for on the terminal. A file that is there stays as it is.
"""
_ENDINGS: Final = (".yaml", ".yml")
_CROSS: Final = re.compile(r"\s*[xX\N{MULTIPLICATION SIGN}]\s*")
_SMALLEST: Final = (1.5, 1.5, 2.2)
"""Metres: a person, a door and a panel have room in it."""
_LARGEST: Final = 1000.0
_EXAMPLES: Final = {"--units": "mm", "--size": "6000x4000x3000", "--rules": "nec-2023"}
_NAMES: Final = ("east", "north", "height")
_FEWEST: Final = 2


class _WrongError(ValueError):
    """An answer that cannot be used; the message says what would be right."""


def take(parser: ArgumentParser) -> None:
    """Take the file to be made and what to put in it."""
    parser.add_argument(
        "file", metavar="NEW", type=Path, help="the scene file to be made"
    )
    parser.add_argument(
        "--units", metavar="UNIT", help="what a bare number means: mm, m, in or ft"
    )
    parser.add_argument(
        "--size",
        metavar="EASTxNORTH[xHEIGHT]",
        help="of the room, between its walls and from floor to ceiling",
    )
    parser.add_argument(
        "--rules", metavar="BOOK", help="the rule book; standclear rules lists them"
    )


def run(arguments: Namespace) -> int:
    """Write the file and return the exit status.

    Raises:
        UnusableError: The file is there, or an option is missing or wrong.
        OSError: The file cannot be written.
    """
    from model3d import SceneError, read_text
    from viewer.cli.source.skeleton import skeleton

    file: Path = arguments.file
    mistakes = [*_file_mistakes(file)]
    units = _had("--units", arguments.units, "Units (mm, m, in, ft)", _unit, mistakes)
    size = _had(
        "--size",
        arguments.size,
        "Size of the room, EASTxNORTHxHEIGHT",
        lambda text: _size(text, units[0] if units else None),
        mistakes,
    )
    book = _had(
        "--rules", arguments.rules, "Rule book (such as nec-2023)", _book, mistakes
    )
    if mistakes:
        raise UnusableError(mistakes)
    title = file.stem.replace("-", " ").replace("_", " ").strip().capitalize() or "Room"
    text = skeleton(title, units[0], book[0], size)
    try:
        read_text(text, file)
    except SceneError as error:  # a rule book that is a file may have its own mistakes
        raise UnusableError(map(str, error.mistakes)) from error
    write_whole(file, text.encode())
    emit(f"{file} is written; standclear check {file} says how it stands.\n")
    return 0


def _file_mistakes(file: Path) -> list[str]:
    if file.exists() or file.is_symlink():
        return [f"{file}: is there already, right is a new name"]
    if file.suffix.lower() not in _ENDINGS:
        return [f"{file}: ends otherwise, right is a name that ends in .yaml"]
    return []


def _had(
    option: str,
    given: str | None,
    question: str,
    read: Callable[[str], list[str]],
    mistakes: list[str],
) -> list[str]:
    """Return what an option says, or the answer of who sits at the terminal."""
    asked = given is None and not mistakes and sys.stdin.isatty()
    while True:
        try:
            text = input(f"{question}: ") if asked else given
        except EOFError:
            asked, text = False, None
        if text is None:
            right = f"right is for example {option} {_EXAMPLES[option]}"
            mistakes.append(f"{option}: found nothing, {right}")
            return []
        try:
            return read(text.strip())
        except _WrongError as error:
            line = f"found {text.strip() or 'nothing'}, right is {error}"
            if not asked:
                mistakes.append(f"{option}: {line}")
                return []
            sys.stderr.write(f"  {line}\n")


def _unit(text: str) -> list[str]:
    from model3d.scene.words.nearest import hint, listed
    from model3d.units import METRES

    if text not in METRES:
        msg = f"{listed(METRES)}{hint(text, METRES)}"
        raise _WrongError(msg)
    return [text]


def _book(text: str) -> list[str]:
    from model3d import BOOKS
    from model3d.scene.words.nearest import hint, listed

    if text not in BOOKS and not text.endswith(".toml"):
        books = listed([*BOOKS, "a .toml file beside NEW"])
        msg = f"{books}{hint(text, BOOKS)}"
        raise _WrongError(msg)
    return [text]


def _size(text: str, unit: str | None) -> list[str]:
    """Return the lengths of a size as written, such as 6000x4000x3000."""
    from model3d.units import LengthError, to_metres
    from viewer.cli.source.skeleton import as_yaml

    parts = _CROSS.split(text)
    right = "east x north, or east x north x height, such as 6000x4000x3000"
    if not _FEWEST <= len(parts) <= len(_NAMES):
        raise _WrongError(right)
    for name, part, least in zip(_NAMES, parts, _SMALLEST, strict=False):
        try:
            metres = to_metres(part, unit or "m")
        except LengthError as error:
            msg = f"{error} for {name}"
            raise _WrongError(msg) from error
        if unit and not least <= metres <= _LARGEST:
            msg = f"{name} from {least:g} m to {_LARGEST:g} m"
            raise _WrongError(msg)
    return [as_yaml(part) for part in parts]
