"""A local amendment: a small file that names a book and the values it changes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from pydantic import TypeAdapter

from model3d.codebook.books import NAMES
from model3d.codebook.errors import BookError, gathered, nearest, refuse_unknown, wrong
from model3d.codebook.tables import LimitTable, read_table, read_toml, table_names
from model3d.codebook.written.blocks import entry_of, read_change
from model3d.codebook.written.models import Text, read, right

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.entry import Entry
    from model3d.codebook.written.blocks import Block


_NAME = TypeAdapter(Annotated[Text, right("what its citations open with, as a text")])


@dataclass(frozen=True, slots=True)
class Amendment:
    """A local amendment.

    Attributes:
        name: What opens its citations, for example the name of the ordinance.
        amends: The id of the rule book it changes.
        changes: What it changes, by table.
    """

    name: str
    amends: str
    changes: Mapping[str, Block]


def read_amendment(name: str, folder: Path) -> Amendment:
    """Return the amendment in the file ``name`` inside ``folder``.

    Raises:
        BookError: The file is outside the folder, missing, or has mistakes; all of
            them are reported at once.
    """
    raw = read_toml(_inside(name, folder), name)
    title = amends = ""
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, ("amends", "name", *table_names()), name)
    with gathered(mistakes):
        title = read(_NAME, raw.get("name"), f"{name}: name")
    with gathered(mistakes):
        amends = _amended_book(raw.get("amends"), name)
    tables = [table for table in table_names() if table in raw]
    if not tables and not mistakes:
        mistakes.append(
            f"{name}: changes no table; right would be [working-space-width]"
        )
    changes = {}
    for table in map(read_table, tables):
        with gathered(mistakes):
            where = f"{name}: [{table.name}]"
            change = read_change(raw[table.name], table.keys, title, where)
            if amends:
                _is_whole(table, amends, change, where)
            changes[table.name] = change
    if mistakes:
        raise BookError(*mistakes)
    return Amendment(title, amends, changes)


def changed(entry: Entry, change: Block) -> Entry:
    """Return an entry with what an amendment changes in it.

    Values that the amendment does not name keep their own citation. A rule that the
    book lacks holds where the amendment gives values of it, not only rules apart.
    """
    keys = read_table(entry.table).keys
    gives = any(not keys[name].apart for name in change.values)
    kept = {} if change.absent else entry.values
    return replace(
        entry,
        absent=change.absent or (None if gives else entry.absent),
        citation=change.citation or entry.citation,
        values={**kept, **change.values},
        marked=change.marked,
    )


def _inside(name: str, folder: Path) -> Path:
    if Path(name).stem in NAMES:
        raise wrong(Path(name).stem, "a file name that is no rule book's id", name)
    try:
        home = folder.resolve()
        file = (home / name).resolve()
    except (OSError, ValueError, RuntimeError):
        raise wrong(name, "the name of a file", "rules") from None
    if not file.is_relative_to(home):
        msg = f"{name}: outside the scene's folder; right would be a file inside it"
        raise BookError(msg)
    return file


def _amended_book(raw: object, name: str) -> str:
    if isinstance(raw, str) and raw in NAMES:
        return raw
    right = f"the id of a rule book; {nearest(str(raw), NAMES)}"
    raise wrong(raw, right, f"{name}: amends")


def _is_whole(table: LimitTable, amends: str, change: Block, where: str) -> None:
    entry = changed(entry_of(table.name, table.blocks[amends], None), change)
    missing = [
        name
        for name, key in table.keys.items()
        if entry.given and not key.optional and not entry.has(name)
    ]
    if missing:
        msg = (
            f"{where}: {amends} has no such rule, so all of it must be given; "
            f"missing is {', '.join(missing)}"
        )
        raise BookError(msg)
