"""Which column of a list is meant for what: its headings and its rows together."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.exchange.schedule.headings import LENGTHS, plain_text, rank, unit_of
from model3d.exchange.schedule.kind_words import KindError, kind_in, kind_of
from model3d.scene.parts.placement import BEARING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from model3d.exchange.schedule.headings import ListColumn

_SENTENCE: Final = 3
"""Words that are no tag any more."""
_LOOSE: Final = ("id", "kind", "name", "notes")
"""Several columns may be called so: the one that is called so most plainly is meant."""
_NOTHING: Final = frozenset(
    {"-", "--", "\N{EN DASH}", "\N{EM DASH}", "n/a", "na", "tbd", "tbc", "?", "."}
)
"""What people write into a cell of which nothing is known."""
_TOTALS: Final = frozenset(
    {
        "total",
        "totals",
        "sub-total",
        "subtotal",
        "grand total",
        "sum",
        "summe",
        "gesamt",
    }
)
"""What begins a row that counts the others up."""
_OTHER_UNITS: Final = (
    "v",
    "vac",
    "vdc",
    "kv",
    "a",
    "amps",
    "va",
    "kva",
    "kw",
    "hp",
    "hz",
    "ph",
    "kg",
    "lb",
    "lbs",
    "ea",
    "each",
    "pcs",
)
"""Units of what is no length."""
_WALLS: Final = {
    **{word[0]: word for word in BEARING},
    **{word: word for word in BEARING},
    **dict.fromkeys(("nord", "norte", "nordwand"), "north"),
    **dict.fromkeys(("ost", "est", "este", "ostwand"), "east"),
    **dict.fromkeys(("sud", "sur", "sudwand"), "south"),
    **dict.fromkeys(("ouest", "oeste", "westwand"), "west"),
}
_OF_A_WALL: Final = ("wall", "side")


def cell_at(row: Sequence[str], number: int) -> str:
    """Return a cell of a row, "" beyond its end and where it says that it is empty.

    >>> cell_at(["A", "TBD"], 1), cell_at(["A"], 1), cell_at(["A"], 0)
    ('', '', 'A')
    """
    text = row[number] if number < len(row) else ""
    return "" if text.casefold() in _NOTHING else text


def wall_of(text: str) -> str:
    """Return the name of a wall as a scene has it.

    >>> wall_of("North wall"), wall_of("E"), wall_of("wall-S"), wall_of("Wall 3")
    ('north', 'east', 'south', 'wall-3')
    """
    words = re.split(r"[\s.-]+", plain_text(text).rstrip("."))
    names = [word for word in words if word not in _OF_A_WALL]
    return (_WALLS.get(names[0]) if len(names) == 1 else None) or "-".join(words)


def is_aside(row: Sequence[str]) -> bool:
    """Tell whether a row is no item but a word between them: a title, or a note.

    All of it is one text: a kind, a text that ends in a colon, or one of some words.
    Any other may be a tag, and then its row is an item of which nothing is said.

    >>> [is_aside(row) for row in (["PANELS:"], ["", "1. By others"], ["LP-1", ""])]
    [True, True, False]
    """
    said = [text for text in row if text]
    if said[0].casefold().rstrip(":") in _TOTALS:
        return True
    if len(said) != 1:
        return False
    (text,) = said
    if text.endswith(":") or len(text.split()) >= _SENTENCE:
        return True
    return names_kind(text)


def names_kind(text: str) -> bool:
    """Tell whether a text names a kind."""
    try:
        return bool(kind_of(text, {}))
    except KindError:
        return False


def units_row(
    columns: Sequence[ListColumn], row: Sequence[str]
) -> tuple[ListColumn, ...] | None:
    """Return the columns with the units of a row below the headings, if it is one."""
    words = {n: text.strip("()[] ") for n, text in enumerate(row) if text}
    said = {n: unit for n, word in words.items() if (unit := unit_of(word))}
    others = [word for n, word in words.items() if n not in said]
    if not said or any(word.casefold() not in _OTHER_UNITS for word in others):
        return None
    return tuple(replace(one, unit=said.get(one.number) or one.unit) for one in columns)


def meant(
    columns: Iterable[ListColumn], rows: Sequence[Sequence[str]]
) -> tuple[dict[str, ListColumn], list[tuple[ListColumn, ListColumn]]]:
    """Return the column for each key, and pairs of columns that mean the same.

    Args:
        columns: As their headings say.
        rows: The rows below.
    """
    by_key: dict[str, ListColumn] = {}
    twice: list[tuple[ListColumn, ListColumn]] = []
    left: list[ListColumn] = []
    for column in columns:
        key = column.key
        if key == "room" and _are_walls(column, rows):
            key = "wall"
        if not key:
            continue
        other = by_key.setdefault(key, column)
        if other is not column:
            if key not in _LOOSE:
                twice.append((other, column))
            best, rest = sorted((other, column), key=rank)
            by_key[key] = best
            left.append(rest)
    _fill(by_key, left, rows)
    return by_key, twice


def _fill(
    by_key: dict[str, ListColumn],
    left: Sequence[ListColumn],
    rows: Sequence[Sequence[str]],
) -> None:
    """Let what is called another way stand for a tag or a kind that nothing is."""
    if "id" not in by_key and "name" in by_key:
        # A list that names its things without a tag means them by that name.
        by_key["id"] = by_key.pop("name")
    if "kind" not in by_key:
        others = [one for one in left if one.key == "id"]
        own = [one for one in others if _are_unlike(one, rows)]
        if own and not _are_unlike(by_key["id"], rows):
            # What stands there again and again is what things are, and no tag.
            others = [by_key["id"], *(one for one in others if one is not own[0])]
            by_key["id"] = own[0]
        others = [one for one in others if _has_words(one, rows)]
        if "name" in by_key:
            others.append(by_key["name"])
        if others:
            by_key["kind"] = others[0]
        elif "id" in by_key and _tells_kinds(by_key["id"], rows):
            by_key["kind"] = by_key["id"]


def _are_unlike(column: ListColumn, rows: Sequence[Sequence[str]]) -> bool:
    """Tell whether no two cells of a column are the same, and some are there."""
    texts = [text for row in rows if (text := cell_at(row, column.number))]
    return bool(texts) and len({*texts}) == len(texts)


def _tells_kinds(column: ListColumn, rows: Iterable[Sequence[str]]) -> bool:
    """Tell whether what a thing is stands in some cells of a column: Panelboard A."""
    for row in rows:
        with suppress(KindError):
            return bool(kind_in(cell_at(row, column.number), {}))
    return False


def _has_words(column: ListColumn, rows: Iterable[Sequence[str]]) -> bool:
    """Tell whether a column is no mere count of the rows."""
    return any(
        any(sign.isalpha() for sign in cell_at(row, column.number)) for row in rows
    )


def _are_walls(column: ListColumn, rows: Iterable[Sequence[str]]) -> bool:
    texts = [text for row in rows if (text := cell_at(row, column.number))]
    return bool(texts) and all(wall_of(text) in BEARING for text in texts)


def numbers_in(by_key: Mapping[str, ListColumn]) -> list[int]:
    """Return the places of the columns in which numbers stand."""
    return [one.number for key, one in by_key.items() if key in {*LENGTHS, "amps"}]
