"""A local amendment: a small file that names a book and the values it changes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from model3d.codebook.blocks import entry_of, read_values
from model3d.codebook.errors import (
    BookError,
    gathered,
    nearest,
    refuse_unknown,
    wrong,
)
from model3d.codebook.figures import Mark, worst
from model3d.codebook.marks import Ground, citation, read_marks, read_text
from model3d.codebook.tables import NAMES, Table, read_table, read_toml, table_names

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.entry import Entry, Value
    from model3d.codebook.keys import Key


@dataclass(frozen=True, slots=True)
class Change:
    """What an amendment changes in one table.

    Attributes:
        absent: Why the rule does not hold there; None where it does.
        citation: Where the amendment says so; None where only single values differ.
        values: The values that differ.
        marked: How it was checked.
        gives: Whether it gives values of the main rule, not only of rules apart.
    """

    absent: str | None
    citation: str | None
    values: Mapping[str, Value]
    marked: Mark
    gives: bool


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
    changes: Mapping[str, Change]


def read_amendment(name: str, folder: Path) -> Amendment:
    """Return the amendment in the file ``name`` inside ``folder``.

    Raises:
        BookError: The file is outside the folder, missing, or has mistakes; all of
            them are reported at once.
    """
    raw = read_toml(_inside(name, folder), name)
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, ("amends", "name", *table_names()), name)
    title, amends = "", ""
    with gathered(mistakes):
        title = read_text(
            raw.get("name"), f"{name}: name", "what its citations open with"
        )
    with gathered(mistakes):
        amends = _amended_book(raw.get("amends"), name)
    tables = [table for table in table_names() if table in raw]
    if not tables and not mistakes:
        mistakes.append(
            f"{name}: changes no table; right would be [working-space-width]"
        )
    changes = {}
    for table in tables:
        with gathered(mistakes):
            where = f"{name}: [{table}]"
            change = _change(raw[table], read_table(table).keys, title, where)
            if amends:
                _is_whole(read_table(table), amends, change, where)
            changes[table] = change
    if mistakes:
        raise BookError(*mistakes)
    return Amendment(title, amends, changes)


def changed(entry: Entry, change: Change) -> Entry:
    """Return an entry with what an amendment changes in it.

    Values that the amendment does not name keep their own citation.
    """
    values: Mapping[str, Value] = {**entry.values, **change.values}
    absent = None if change.gives else entry.absent
    if change.absent is not None:
        values, absent = change.values, change.absent
    return replace(
        entry,
        absent=absent,
        citation=change.citation or entry.citation,
        values=values,
        marked=change.marked,
    )


def _inside(name: str, folder: Path) -> Path:
    if Path(name).stem in NAMES:
        raise wrong(Path(name).stem, name, "a file name that is no rule book's id")
    try:
        home = folder.resolve()
        file = (home / name).resolve()
    except (OSError, ValueError, RuntimeError):
        raise wrong(name, "rules", "the name of a file") from None
    if not file.is_relative_to(home):
        msg = f"{name}: outside the scene's folder; right would be a file inside it"
        raise BookError(msg)
    return file


def _amended_book(raw: object, name: str) -> str:
    if isinstance(raw, str) and raw in NAMES:
        return raw
    hint = nearest(str(raw), NAMES)
    raise wrong(raw, f"{name}: amends", f"the id of a rule book; {hint}")


def _change(raw: object, keys: Mapping[str, Key], title: str, where: str) -> Change:
    if not isinstance(raw, dict):
        raise wrong(raw, where, "section and the values that differ")
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, ("section", "checked", "absent", *keys), where)
    section = absent = None
    if "section" in raw:
        section = read_text(raw["section"], f"{where} section", "a section")
    if "absent" in raw:
        absent = read_text(raw["absent"], f"{where} absent", "the reason")
        if section is None:
            msg = f"{where}: no section; right would be the citation of its absence"
            raise BookError(msg)
    # Nobody said how a figure was checked: it is shown with a note to verify it.
    marks = read_marks(raw.get("checked", "memory"), where)
    allowed = [key for key in keys.values() if key.apart or not absent]
    ground = Ground(where, title, section, marks)
    values = read_values(raw, allowed, ground, mistakes)
    if not values and not absent and not mistakes:
        mistakes.append(f"{where}: changes no value; known are {', '.join(keys)}")
    if mistakes:
        raise BookError(*mistakes)
    cited = citation(title, section) if section else None
    gives = any(not keys[name].apart for name in values)
    marked = worst(marks)
    if "checked" not in raw and values:
        marked = worst(value.checked for value in values.values())
    return Change(absent, cited, values, marked, gives)


def _is_whole(table: Table, amends: str, change: Change, where: str) -> None:
    entry = changed(entry_of(table.name, table.blocks[amends], None), change)
    missing = [
        key.name
        for key in table.keys.values()
        if entry.given and not key.optional and not entry.has(key.name)
    ]
    if missing:
        msg = (
            f"{where}: {amends} has no such rule, so all of it must be given; "
            f"missing is {', '.join(missing)}"
        )
        raise BookError(msg)
