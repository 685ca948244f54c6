"""The tables: which there are, and one of them read and looked through."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from pydantic import TypeAdapter

from model3d.codebook.books import BOOKS, NAMES
from model3d.codebook.errors import BookError, gathered, nearest, refuse_unknown, wrong
from model3d.codebook.written.blocks import Block, read_block
from model3d.codebook.written.keys import Key, read_keys
from model3d.codebook.written.models import CHECKED, Text, read, right
from model3d.codebook.written.values import passed_on
from model3d.disk.files import content, lost_link

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

FOLDER: Final = Path(__file__).parent / "tables"
"""Where the tables stand, one TOML file each."""

_LARGEST = 1_000_000
_TITLE = TypeAdapter(Annotated[Text, right("a few words, as a text")])


@dataclass(frozen=True, slots=True)
class LimitTable:
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
def read_table(name: str) -> LimitTable:
    """Return a table, looked through from end to end.

    Raises:
        BookError: There is no such table, or it does not say what each book says.
    """
    if name not in table_names():
        msg = f"{name!r} is no table; {nearest(name, table_names())}"
        raise BookError(msg)
    return parse_table(name, read_toml(FOLDER / f"{name}.toml", f"{name}.toml"))


def parse_table(name: str, raw: Mapping[str, object]) -> LimitTable:
    """Return a table from what its file holds.

    Raises:
        BookError: A book is missing, or something in it is unknown or no value.
    """
    file = f"{name}.toml"
    keys = read_keys(raw.get("keys"), file)
    title = ""
    blocks: dict[str, Block] = {}
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, ("title", "keys", *NAMES), file)
    with gathered(mistakes):
        title = read(_TITLE, raw.get("title"), f"{file}: title")
    for book, printed in NAMES.items():
        where = f"{file}: [{book}]"
        with gathered(mistakes):
            block = _spelled_out(raw, book, blocks, where)
            blocks[book] = read_block(block, keys, printed, where)
    if mistakes:
        raise BookError(*mistakes)
    return LimitTable(name, title, keys, blocks)


def read_toml(file: Path, called: str) -> dict[str, object]:
    """Return what a TOML file holds; ``called`` is its name in messages.

    Raises:
        BookError: It is missing, too large, or not TOML; the message says where.
    """
    try:
        data = content(file, _LARGEST)
        if len(data) > _LARGEST:
            msg = f"{called}: too large; right would be at most {_LARGEST} bytes"
            raise BookError(msg)
        return tomllib.loads(data.decode("utf-8-sig").replace("\r\n", "\n"))
    except FileNotFoundError:
        msg = f"{called}: {lost_link(file) or 'no such file'}"
        raise BookError(msg) from None
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


def _spelled_out(
    raw: Mapping[str, object], book: str, read_before: Container[str], where: str
) -> object:
    """Return a block with what it has as it is in the block of another edition.

    What it says itself counts, and no mark that comes with a value of the other one is
    better than its own. The other one says all itself, so that nobody looks further.
    """
    if book not in raw:
        file, _, place = where.partition(" ")
        msg = (
            f"{file} no block {place}; right would be what the book says, "
            'or absent = "why it says nothing"'
        )
        raise BookError(msg)
    block = raw[book]
    if not isinstance(block, dict) or "as_in" not in block:
        return block
    other = block["as_in"]
    base = raw.get(other) if other in BOOKS[: BOOKS.index(book)] else None
    if not isinstance(base, dict) or {"as_in", "dated"} & base.keys():
        right = "the id of an edition before, whose block says all itself, undated"
        raise wrong(other, right, f"{where} as_in")
    marks = read(CHECKED, block.get("checked"), f"{where} checked")
    if other not in read_before:
        # What is wrong there is told there, once.
        raise BookError
    passed = {word: passed_on(value, marks) for word, value in base.items()}
    return {**passed, **{word: block[word] for word in block if word != "as_in"}}
