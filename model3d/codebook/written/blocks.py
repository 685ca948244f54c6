"""What one rule book says in one table, with what older installations may keep."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date  # noqa: TC003 - pydantic reads it
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, TypeVar

from pydantic import Field, TypeAdapter, model_validator

from model3d.codebook.entry import Entry, Value
from model3d.codebook.errors import BookError, gathered, refuse_unknown, wrong
from model3d.codebook.figures import Mark, worst
from model3d.codebook.written.models import (
    Checked,
    Marks,
    Reason,
    Section,
    Written,
    read,
    right,
)
from model3d.codebook.written.values import Backing, read_value

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.codebook.written.keys import Key


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


class _Said(Written):
    shape: ClassVar[str]
    nothing: ClassVar[str] = ""

    section: Section | None = None
    absent: Reason | None = None
    checked: Checked | None = None


class _Block(_Said):
    shape = "a block with section, checked and the values"

    checked: Checked
    dated: Annotated[
        tuple[Any, ...], Field(strict=False), right("one [[...dated]] block a day")
    ] = ()

    @model_validator(mode="after")
    def _is_cited(self) -> _Block:
        if not (self.section or self.absent):
            msg = 'no section; right would be section = "..." or absent = "..."'
            raise BookError(msg)
        return self


class _Dated(_Said):
    shape = "installed_before and the values that differ"
    nothing = "no value differs"

    installed_before: Annotated[
        date, right("installed_before = a day, such as 1981-04-16")
    ] = Field(None, validate_default=True)


class _Change(_Said):
    shape = "section and the values that differ"
    nothing = "changes no value; known are {keys}"

    @model_validator(mode="after")
    def _is_cited(self) -> _Change:
        if self.absent and not self.section:
            msg = "no section; right would be the citation of its absence"
            raise BookError(msg)
        return self


Said = TypeVar("Said", bound=_Said)


@cache
def _adapter(kind: type[Said]) -> TypeAdapter[Said]:
    return TypeAdapter(kind)


def read_block(raw: object, keys: Mapping[str, Key], book: str, where: str) -> Block:
    """Return the block of one book; ``book`` is the name that opens its citations.

    Raises:
        BookError: Something is missing, unknown or no value; all mistakes at once.
    """
    said, written = _said(_Block, raw, where)
    ground = Backing(book, said.section, said.checked)
    mistakes: list[str] = []
    block = Block(None, None, "memory", {})
    with gathered(mistakes):
        block = _block(said, written, keys, ground, where)
    mistakes += [
        f"{where}: no {name} ({key.about})"
        for name, key in keys.items()
        if not (name in written or key.optional or said.absent)
    ]
    dated: dict[date, Block] = {}
    for one in said.dated:
        with gathered(mistakes):
            change, differs = _said(_Dated, one, f"{where} dated")
            day = change.installed_before
            if day in dated:
                raise wrong(str(day), "each day once", f"{where} dated")
            dated[day] = _block(change, differs, keys, ground, f"{where} dated {day}")
    if mistakes:
        raise BookError(*mistakes)
    latest_first = dict(sorted(dated.items(), reverse=True))
    return replace(block, citation=ground.cite(), dated=latest_first)


def read_change(raw: object, keys: Mapping[str, Key], title: str, where: str) -> Block:
    """Return what an amendment changes; ``title`` opens its citations.

    Raises:
        BookError: Something is unknown or no value, or nothing changes.
    """
    said, written = _said(_Change, raw, where)
    # Nobody said how a figure was checked: it is shown with a note to verify it.
    ground = Backing(title, said.section, said.checked or Marks("memory", "memory"))
    change = _block(said, written, keys, ground, where)
    if said.checked or not change.values:
        return change
    marked = worst(value.checked for value in change.values.values())
    return replace(change, marked=marked)


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


def _said(
    kind: type[Said], raw: object, where: str
) -> tuple[Said, Mapping[str, object]]:
    """Return what a block says beside its values, and all of it as it is written."""
    if not isinstance(raw, dict):
        raise wrong(raw, kind.shape, where)
    own = {word: raw[word] for word in kind.words() if word in raw}
    return read(_adapter(kind), own, where), raw


def _block(
    said: _Said,
    written: Mapping[str, object],
    keys: Mapping[str, Key],
    base: Backing,
    where: str,
) -> Block:
    """Return a block with its values; of an absent rule those that stand apart."""
    ground = Backing(
        base.book, said.section or base.section, said.checked or base.marks
    )
    keys = {name: key for name, key in keys.items() if key.apart or not said.absent}
    values = {}
    mistakes: list[str] = []
    with gathered(mistakes):
        refuse_unknown(written, (*keys, *said.words()), where)
    for name in [name for name in keys if name in written]:
        with gathered(mistakes):
            place = f"{where} {name}"
            values[name] = read_value(keys[name], written[name], ground, place)
    if not (values or mistakes or said.absent or not said.nothing):
        nothing = said.nothing.format(keys=", ".join(keys))
        mistakes.append(f"{where}: {nothing}")
    if mistakes:
        raise BookError(*mistakes)
    cited = ground.cite() if said.section else None
    return Block(said.absent, cited, worst(ground.marks), values)
