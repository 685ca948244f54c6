"""A rule book, whole or amended by a local file, ready to be asked."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from model3d.codebook.amendment import changed, read_amendment
from model3d.codebook.books import BOOKS, NAMES
from model3d.codebook.errors import BookError, nearest
from model3d.codebook.tables import read_table
from model3d.codebook.written.blocks import entry_of

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from model3d.codebook.entry import Entry
    from model3d.codebook.written.blocks import Block


@dataclass(frozen=True, slots=True)
class RuleBook:
    """One edition of a code, for an installation of one day.

    Attributes:
        id: Its id, for example nec-2023; of an amendment the file's name.
        name: Its name, for example "NEC 2023".
        installed: The day of the installation; None for a new one.
        base: The id of the edition whose tables are read.
        changes: What a local amendment changes, by table.
    """

    id: str
    name: str
    installed: date | None
    base: str
    changes: Mapping[str, Block] = field(default_factory=dict, repr=False, hash=False)

    def entry(self, table: str) -> Entry:
        """Return what the book says in a table.

        Raises:
            BookError: There is no such table, or it does not list the book.
        """
        entry = _printed(table, self.base, self.installed)
        change = self.changes.get(table)
        return entry if change is None else changed(entry, change)


def load_book(
    name: str, folder: Path | None = None, *, installed: date | None = None
) -> RuleBook:
    """Return a rule book by its id, or a local amendment by its file.

    Args:
        name: An id of BOOKS, or the name of a TOML file in ``folder``.
        folder: Where an amendment may stand: the folder of the scene.
        installed: The day of the installation; picks values that depend on it.

    Raises:
        BookError: There is no such book, or the amendment has mistakes.

    >>> load_book("nec-2023").name
    'NEC 2023'
    """
    if name in NAMES:
        return RuleBook(name, NAMES[name], installed, base=name)
    if not name.endswith(".toml"):
        msg = f"{name!r} is no rule book; {nearest(name, BOOKS)}"
        raise BookError(msg)
    if folder is None:
        msg = f"{name}: an amendment stands beside its scene, and there is no folder"
        raise BookError(msg)
    amendment = read_amendment(name, folder)
    return RuleBook(
        Path(name).stem, amendment.name, installed, amendment.amends, amendment.changes
    )


@lru_cache
def _printed(table: str, book: str, installed: date | None) -> Entry:
    blocks = read_table(table).blocks
    if book not in blocks:
        msg = f"{table}.toml does not list {book!r}; {nearest(book, blocks)}"
        raise BookError(msg)
    return entry_of(table, blocks[book], installed)
