"""What one rule book says in one table, with what older installations may keep."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date  # noqa: TC003 - pydantic reads it
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

from pydantic import Field, TypeAdapter

from model3d.codebook.entry import Entry, Value
from model3d.codebook.errors import BookError, gathered, refuse_unknown, wrong
from model3d.codebook.figures import Mark, worst
from model3d.codebook.values import Ground, read_value
from model3d.codebook.written import (
    Checked,
    Marks,
    Reason,
    Section,
    Written,
    read,
    right,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.keys import Key


@dataclass(frozen=True, slots=True)
class Block:
    """What one rule book says in one table, or what a day or a city changes of it.

    Attributes:
        absent: Why there is no such rule, or why it does not bind; None where it does.
        citation: Book and section; None where a change leaves them.
        marked: How it was checked.
        values: Every value that it gives by its key, in the order of the table.
        dated: What an installation built before a day may keep, the latest day first.
    """

    absent: str | None
    citation: str | None
    marked: Mark
    values: Mapping[str, Value]
    dated: Mapping[date, Block] = field(default_factory=dict)


class _Change(Written):
    section: Section | None = None
    absent: Reason | None = None
    checked: Checked | None = None


class _Dated(_Change):
    installed_before: Annotated[
        date, right("installed_before = a day, such as 1981-04-16")
    ] = Field(None, validate_default=True)


class _Block(_Change):
    checked: Checked
    dated: Annotated[
        tuple[Any, ...], Field(strict=False), right("one [[...dated]] block a day")
    ] = ()


Head = TypeVar("Head", bound=_Change)


def read_block(raw: object, keys: Mapping[str, Key], book: str, where: str) -> Block:
    """Return the block of one book; ``book`` is the name that opens its citations.

    Raises:
        BookError: Something is missing, unknown or no value; all mistakes at once.
    """
    shape = "a block with section, checked and the values"
    head, written = _apart(_Block, raw, shape, where)
    if not (head.absent or head.section):
        msg = f'{where}: no section; right would be section = "..." or absent = "..."'
        raise BookError(msg)
    ground = Ground(book, head.section, head.checked)
    mistakes = [
        f"{where}: no {name} ({key.about})"
        for name, key in keys.items()
        if not (name in written or key.optional or head.absent)
    ]
    values: dict[str, Value] = {}
    with gathered(mistakes):
        values = _values(written, keys, head, ground, where)
    dated: dict[date, Block] = {}
    for one in head.dated:
        with gathered(mistakes):
            day, change = _dated(one, keys, ground, f"{where} dated")
            if day in dated:
                raise wrong(str(day), "each day once", f"{where} dated")
            dated[day] = change
    if mistakes:
        raise BookError(*mistakes)
    latest_first = dict(sorted(dated.items(), reverse=True))
    block = _block(head, ground, values)
    return replace(block, citation=ground.cite(), dated=latest_first)


def read_change(raw: object, keys: Mapping[str, Key], title: str, where: str) -> Block:
    """Return what an amendment changes; ``title`` opens its citations.

    Raises:
        BookError: Something is unknown or no value, or nothing changes.
    """
    shape = "section and the values that differ"
    head, written = _apart(_Change, raw, shape, where)
    if head.absent and not head.section:
        msg = f"{where}: no section; right would be the citation of its absence"
        raise BookError(msg)
    # Nobody said how a figure was checked: it is shown with a note to verify it.
    marks = head.checked or Marks("memory", "memory")
    ground = Ground(title, head.section, marks)
    values = _values(written, keys, head, ground, where)
    if not (values or head.absent):
        msg = f"{where}: changes no value; known are {', '.join(keys)}"
        raise BookError(msg)
    change = _block(head, ground, values)
    if head.checked or not values:
        return change
    return replace(change, marked=worst(value.checked for value in values.values()))


def entry_of(table: str, block: Block, installed: date | None) -> Entry:
    """Return what a block says for an installation of a day; None is a new one.

    Of several dated variants the one with the earliest day that still covers the
    installation counts, value by value. What does not bind those built before a day
    binds none that is older.
    """
    values = dict(block.values)
    absent, cited, marked = block.absent, block.citation or "", block.marked
    for day, dated in block.dated.items():
        if installed is not None and installed < day:
            values.update(dated.values)
            cited = dated.citation or cited
            if dated.absent is not None:
                absent, marked = dated.absent, dated.marked
    return Entry(table, absent, cited, MappingProxyType(values), marked)


def _apart(
    kind: type[Head], raw: object, shape: str, where: str
) -> tuple[Head, dict[str, object]]:
    """Return what a block says beside its values, and all else that it says."""
    if not isinstance(raw, dict):
        raise wrong(raw, shape, where)
    rest = dict(raw)
    own = {word: rest.pop(word) for word in kind.words() if word in raw}
    return read(TypeAdapter(kind), own, where), rest


def _values(
    written: Mapping[str, object],
    keys: Mapping[str, Key],
    head: _Change,
    ground: Ground,
    where: str,
) -> dict[str, Value]:
    """Return the values of a block; of an absent rule those that stand apart."""
    keys = {name: key for name, key in keys.items() if key.apart or not head.absent}
    values = {}
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(written, (*keys, *head.words()), where)
    for name in [name for name in keys if name in written]:
        with gathered(mistakes):
            place = f"{where} {name}"
            values[name] = read_value(keys[name], written[name], ground, place)
    if mistakes:
        raise BookError(*mistakes)
    return values


def _dated(
    raw: object, keys: Mapping[str, Key], base: Ground, where: str
) -> tuple[date, Block]:
    shape = "installed_before and the values that differ"
    head, written = _apart(_Dated, raw, shape, where)
    where = f"{where} {head.installed_before}"
    ground = Ground(base.book, head.section or base.section, head.checked or base.marks)
    values = _values(written, keys, head, ground, where)
    if not (values or head.absent):
        msg = f"{where}: no value differs"
        raise BookError(msg)
    return head.installed_before, _block(head, ground, values)


def _block(head: _Change, ground: Ground, values: Mapping[str, Value]) -> Block:
    cited = ground.cite() if head.section else None
    return Block(head.absent, cited, worst(ground.marks), values)
