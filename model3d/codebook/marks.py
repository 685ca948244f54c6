"""What a value stands on: its book, its section, and how it was checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from model3d.codebook.errors import wrong
from model3d.codebook.figures import MARKS, Mark


class Marks(NamedTuple):
    """How a value was checked in either system."""

    si: Mark
    inch_pound: Mark


@dataclass(frozen=True, slots=True)
class Ground:
    """What a value stands on where it does not say so itself.

    Attributes:
        where: File and block, for messages.
        book: Name that opens the citation.
        section: Section of the block, if it names one.
        marks: How the block was checked.
    """

    where: str
    book: str
    section: str | None
    marks: Marks


def citation(book: str, section: str | None) -> str:
    """Join the name of a book and a section of it.

    >>> citation("29 CFR 1910.303", "(g)(1)(ii)"), citation("NEC 2023", "110.26(B)")
    ('29 CFR 1910.303(g)(1)(ii)', 'NEC 2023 110.26(B)')
    """
    if section is None:
        return book
    return f"{book}{section}" if section.startswith("(") else f"{book} {section}"


def read_text(raw: object, where: str, what: str) -> str:
    """Return a text that is not empty; BookError where it is none."""
    if isinstance(raw, str) and raw.strip():
        return raw.strip()
    raise wrong(raw, where, f"{what}, as a text")


def read_marks(raw: object, where: str) -> Marks:
    """Return how something was checked: one mark, or one for each system."""
    if isinstance(raw, dict) and set(raw) == {"si", "inch_pound"}:
        return Marks(_mark(raw["si"], where), _mark(raw["inch_pound"], where))
    mark = _mark(raw, where)
    return Marks(mark, mark)


def _mark(raw: object, where: str) -> Mark:
    for mark in MARKS:
        if raw == mark:
            return mark
    raise wrong(raw, f"{where} checked", f"one of {', '.join(MARKS)}")
