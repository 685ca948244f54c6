"""What one rule book says in one table, with what older installations may keep."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING

from model3d.codebook.entry import Entry, Value
from model3d.codebook.errors import BookError, gathered, refuse_unknown, wrong
from model3d.codebook.figures import Mark, worst
from model3d.codebook.marks import Ground, citation, read_marks, read_text
from model3d.codebook.values import read_value

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.keys import Key


@dataclass(frozen=True, slots=True)
class Dated:
    """What holds for installations built before a day.

    Attributes:
        installed_before: The day; what was built on it is no longer covered.
        absent: Why the rule does not bind them; None where only values differ.
        citation: Book and section, where it is another one.
        marked: How it was checked.
        values: The values that differ.
    """

    installed_before: date
    absent: str | None
    citation: str | None
    marked: Mark
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Block:
    """What one rule book says in one table.

    Attributes:
        absent: Why the book has no such rule; None where it has.
        citation: Book and section.
        marked: How it was checked.
        values: Every value by its key, in the order of the table.
        dated: What older installations may keep, the latest day first.
    """

    absent: str | None
    citation: str
    marked: Mark
    values: Mapping[str, Value]
    dated: tuple[Dated, ...] = ()


def read_block(raw: object, keys: Mapping[str, Key], book: str, where: str) -> Block:
    """Return the block of one book; ``book`` is the name that opens its citations.

    Raises:
        BookError: Something is missing, unknown or no value; all mistakes at once.
    """
    if not isinstance(raw, dict):
        raise wrong(raw, where, "a block with section, checked and the values")
    ground = _ground(raw, book, where)
    absent = None
    if "absent" in raw:
        absent = read_text(raw["absent"], f"{where} absent", "the reason")
    elif ground.section is None:
        msg = f'{where}: no section; right would be section = "..." or absent = "..."'
        raise BookError(msg)
    own = ("section", "checked", "absent" if absent else "dated")
    allowed = [key for key in keys.values() if key.apart or not absent]
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(raw, (*own, *(key.name for key in allowed)), where)
    values = read_values(raw, allowed, ground, mistakes)
    mistakes += [
        f"{where}: no {key.name} ({key.about})"
        for key in allowed
        if not (key.name in raw or key.optional or absent)
    ]
    dated: tuple[Dated, ...] = ()
    with gathered(mistakes):
        dated = _all_dated(raw.get("dated", []), keys, ground)
    if mistakes:
        raise BookError(*mistakes)
    cited = citation(book, ground.section)
    return Block(absent, cited, worst(ground.marks), values, dated)


def read_values(
    raw: Mapping[str, object],
    keys: list[Key],
    ground: Ground,
    mistakes: list[str],
) -> dict[str, Value]:
    """Return the values that ``raw`` holds, and add what is wrong to ``mistakes``."""
    values = {}
    for key in keys:
        if key.name in raw:
            with gathered(mistakes):
                values[key.name] = read_value(key, raw[key.name], ground)
    return values


def entry_of(table: str, block: Block, installed: date | None) -> Entry:
    """Return what a block says for an installation of a day; None is a new one.

    Of several dated variants the one with the earliest day that still covers the
    installation counts, value by value. What does not bind those built before a day
    binds none that is older.
    """
    values = dict(block.values)
    absent, cited, marked = block.absent, block.citation, block.marked
    for dated in block.dated:
        if installed is not None and installed < dated.installed_before:
            values.update(dated.values)
            cited = dated.citation or cited
            if dated.absent is not None:
                absent, marked = dated.absent, dated.marked
    return Entry(table, absent, cited, MappingProxyType(values), marked)


def _ground(raw: Mapping[str, object], book: str, where: str) -> Ground:
    if "checked" not in raw:
        msg = f"{where}: no checked; right would be how it was checked"
        raise BookError(msg)
    section = None
    if "section" in raw:
        section = read_text(raw["section"], f"{where} section", "a section")
    return Ground(where, book, section, read_marks(raw["checked"], where))


def _all_dated(
    raw: object, keys: Mapping[str, Key], ground: Ground
) -> tuple[Dated, ...]:
    if not isinstance(raw, list):
        raise wrong(raw, f"{ground.where} dated", "one [[...dated]] block a day")
    found = sorted(
        (_dated(one, keys, ground) for one in raw),
        key=lambda one: one.installed_before,
        reverse=True,
    )
    for later, earlier in pairwise(found):
        if later.installed_before == earlier.installed_before:
            day = later.installed_before.isoformat()
            raise wrong(day, f"{ground.where} dated", "each day once")
    return tuple(found)


def _dated(raw: object, keys: Mapping[str, Key], ground: Ground) -> Dated:
    where = f"{ground.where} dated"
    if not isinstance(raw, dict):
        raise wrong(raw, where, "installed_before and the values that differ")
    absent = None
    if "absent" in raw:
        absent = read_text(raw["absent"], f"{where} absent", "the reason")
    allowed = [key for key in keys.values() if key.apart or not absent]
    own = ("installed_before", "section", "checked", "absent")
    refuse_unknown(raw, (*own, *(key.name for key in allowed)), where)
    day = raw.get("installed_before")
    if not isinstance(day, date) or isinstance(day, datetime):
        raise wrong(day, where, "installed_before = a day, such as 1981-04-16")
    base = replace(ground, where=f"{where} {day.isoformat()}")
    if "checked" in raw:
        base = replace(base, marks=read_marks(raw["checked"], base.where))
    if "section" in raw:
        section = read_text(raw["section"], f"{base.where} section", "a section")
        base = replace(base, section=section)
    mistakes: list[str] = []
    values = read_values(raw, allowed, base, mistakes)
    if not values and not absent and not mistakes:
        mistakes.append(f"{base.where}: no value differs")
    if mistakes:
        raise BookError(*mistakes)
    cited = citation(base.book, base.section) if "section" in raw else None
    return Dated(day, absent, cited, worst(base.marks), values)
