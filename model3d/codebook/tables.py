"""The tables: which there are, and one of them read and looked through."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.codebook.blocks import Block, read_block
from model3d.codebook.errors import BookError, gathered, nearest, refuse_unknown
from model3d.codebook.keys import Key, read_keys
from model3d.codebook.marks import read_text

if TYPE_CHECKING:
    from collections.abc import Mapping

FOLDER: Final = Path(__file__).parent / "tables"
"""Where the tables stand, one TOML file each."""

NAMES: Final[Mapping[str, str]] = {
    "nec-2014": "NEC 2014",
    "nec-2017": "NEC 2017",
    "nec-2020": "NEC 2020",
    "nec-2023": "NEC 2023",
    "nec-2026": "NEC 2026",
    "osha-1910": "29 CFR 1910.303",
    "osha-1926": "29 CFR 1926.403",
}
"""Every rule book by its id, with the name that opens its citations."""

_LARGEST = 1_000_000


@dataclass(frozen=True, slots=True)
class Table:
    """One limit in every rule book.

    Attributes:
        name: The file's name without its ending.
        title: What the limit is, in a few words.
        keys: What may be asked for.
        blocks: What each rule book says, by its id.
    """

    name: str
    title: str
    keys: Mapping[str, Key]
    blocks: Mapping[str, Block]


@lru_cache
def table_names() -> tuple[str, ...]:
    """Return the names of all tables, sorted."""
    return tuple(sorted(file.stem for file in FOLDER.glob("*.toml")))


@lru_cache
def read_table(name: str) -> Table:
    """Return a table, looked through from end to end.

    Raises:
        BookError: There is no such table, or it does not say what each book says.
    """
    if name not in table_names():
        msg = f"{name!r} is no table; {nearest(name, table_names())}"
        raise BookError(msg)
    return parse_table(name, read_toml(FOLDER / f"{name}.toml", f"{name}.toml"))


def parse_table(name: str, raw: Mapping[str, object]) -> Table:
    """Return a table from what its file holds.

    Raises:
        BookError: A book is missing, or something in it is unknown or no value.
    """
    file = f"{name}.toml"
    keys = read_keys(raw.get("keys"), file)
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, ("title", "keys", *NAMES), file)
    title = ""
    with gathered(mistakes):
        title = read_text(raw.get("title"), f"{file}: title", "a few words")
    blocks = {}
    for book, printed in NAMES.items():
        with gathered(mistakes):
            blocks[book] = _block(raw, book, keys, printed, file)
    if mistakes:
        raise BookError(*mistakes)
    return Table(name, title, keys, blocks)


def read_toml(file: Path, called: str) -> dict[str, object]:
    """Return what a TOML file holds; ``called`` is its name in messages.

    Raises:
        BookError: It is missing, too large, or not TOML; the message says where.
    """
    try:
        if not file.is_file():
            msg = f"{called}: no such file"
            raise BookError(msg)
        if file.stat().st_size > _LARGEST:
            msg = f"{called}: too large; right would be at most {_LARGEST} bytes"
            raise BookError(msg)
        return tomllib.loads(file.read_text(encoding="utf-8-sig"))
    except RecursionError:
        msg = f"{called}: nested too deep to be a table"
        raise BookError(msg) from None
    except OSError as error:
        msg = f"{called}: cannot be read ({error.strerror})"
        raise BookError(msg) from None
    except UnicodeDecodeError:
        msg = f"{called}: not UTF-8; right would be a TOML file in UTF-8"
        raise BookError(msg) from None
    except tomllib.TOMLDecodeError as error:
        msg = f"{called}: not TOML: {error}"
        raise BookError(msg) from None


def _block(
    raw: Mapping[str, object],
    book: str,
    keys: Mapping[str, Key],
    printed: str,
    file: str,
) -> Block:
    if book not in raw:
        msg = (
            f"{file}: no block [{book}]; right would be what the book says, "
            'or absent = "why it says nothing"'
        )
        raise BookError(msg)
    return read_block(raw[book], keys, printed, f"{file}: [{book}]")
