"""What a table may say: its keys, and what each of them holds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.codebook.errors import BookError, refuse_unknown

if TYPE_CHECKING:
    from collections.abc import Mapping

KINDS: Final = ("length", "number", "flag", "words", "rows")
"""What a value can be."""

_NAME = re.compile(r"[a-z][a-z0-9_]*")
_OWN_WORDS = ("section", "checked", "absent", "dated", "installed_before")
_PLAIN = ("is", "about", "optional", "apart")
_NEEDS: Final[Mapping[str, tuple[str, ...]]] = {
    "length": (),
    "number": (),
    "flag": (),
    "words": ("one_of",),
    "rows": ("columns", "volts"),
}


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    Attributes:
        name: The key as it is written.
        kind: length, number, flag, words or rows.
        about: What it means, for people.
        optional: A book may leave it out.
        apart: A rule of its own, which may stand where the main one is absent.
        unit: Unit of a number, where it has one.
        one_of: The words that may stand there.
        columns: Names of a voltage table's columns.
        volts: What the volts of a voltage table are measured between.
    """

    name: str
    kind: str
    about: str
    optional: bool = False
    apart: bool = False
    unit: str = ""
    one_of: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    volts: str = ""


def read_keys(raw: object, file: str) -> dict[str, Key]:
    """Return the keys that the table ``file`` declares under [keys].

    Raises:
        BookError: [keys] is missing or one of its lines is not understood.
    """
    if not isinstance(raw, dict) or not raw:
        msg = f"{file}: no [keys]; right would be one line a key, with is and about"
        raise BookError(msg)
    return {
        name: _key(name, line, f"{file}: [keys] {name}") for name, line in raw.items()
    }


def _key(name: str, raw: object, where: str) -> Key:
    if not _NAME.fullmatch(name) or name in _OWN_WORDS:
        msg = (
            f"{where}: a key is small letters, digits and _, and no word of the format"
        )
        raise BookError(msg)
    if not isinstance(raw, dict):
        msg = f'{where}: right would be {{ is = "length", about = "..." }}'
        raise BookError(msg)
    kind = raw.get("is")
    if kind not in KINDS:
        msg = f"{where}: is = {kind!r}; right would be one of {', '.join(KINDS)}"
        raise BookError(msg)
    unit = ("unit",) if kind == "number" else ()
    known = (*_PLAIN, *_NEEDS[kind], *unit)
    refuse_unknown(raw, known, where)
    for word in ("about", *_NEEDS[kind]):
        if not raw.get(word):
            msg = f"{where}: no {word}"
            raise BookError(msg)
    return Key(
        name=name,
        kind=kind,
        about=raw["about"],
        optional=raw.get("optional", False) is True,
        apart=raw.get("apart", False) is True,
        unit=raw.get("unit", ""),
        one_of=tuple(raw.get("one_of", ())),
        columns=tuple(raw.get("columns", ())),
        volts=raw.get("volts", ""),
    )
