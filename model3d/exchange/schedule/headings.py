"""What the headings of a list of equipment mean."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

_TABLES: Final = tomllib.loads(
    files(__package__).joinpath("words.toml").read_text("utf-8")
)


def meanings(*tables: str) -> dict[str, str]:
    """Return what words mean by some tables of words; the last table counts most.

    >>> meanings("headings_abroad", "headings")["breite"]
    'width'
    """
    return {
        word: meaning
        for table in tables
        for meaning, words in _TABLES[table].items()
        for word in words
    }


KEYS: Final = meanings("headings_abroad", "headings")
LENGTHS: Final = frozenset(
    {*("width", "depth", "height", "size", "door_width", "along")}
    | {*("bottom", "top", "gap", "x", "y", "z")}
)
"""Columns of lengths, which need a unit in the cell or in the heading."""
_UNITS: Final = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter"), "mm"),
    "millimeters": "mm",
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter"), "cm"),
    "centimeters": "cm",
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "inch", "inches", "ins"), "in"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
}
UNIT_WORDS: Final = tuple(sorted(_UNITS, key=len, reverse=True))
_OF_SUPPLY: Final = {
    **dict.fromkeys(
        ("v", "vac", "vdc", "volt", "volts"), "system line_volts to_ground"
    ),
    **dict.fromkeys(("a", "amp", "amps", "ampere", "amperes"), "amps"),
}
"""Units that a heading may end with, and what it is then a heading of."""
_ORDER: Final = re.compile(
    r"\b([wdh]|width|depth|height)\s*[x\u00d7*/]\s*([wdh]|width|depth|height)\s*[x\u00d7*/]\s*"
    r"([wdh]|width|depth|height)\b"
)
_SIZES: Final = {"w": "width", "d": "depth", "h": "height"}
_RANGE: Final = re.compile(
    r"(.*?)(\d{1,6})\s*(?:-|\u2013|\.\.+|\u2026|\b(?:to|thru|through|bis)\b)\s*(?:\1)?(\d{1,6})",
    re.IGNORECASE,
)
_MOST_TAGS: Final = 1000
_FEWEST: Final = 2
_DEEPEST: Final = 30
"""Rows of titles above the headings."""


@dataclass(frozen=True, slots=True)
class ListColumn:
    """A column of a list.

    Attributes:
        number: Its place, from 0.
        title: What is written above it.
        key: What it means; "" where nothing is known of it.
        unit: Of bare numbers in it.
        order: Of a size in one cell: which of width, depth and height comes when.
    """

    number: int
    title: str
    key: str = ""
    unit: str | None = None
    order: tuple[str, ...] = ()

    @property
    def letters(self) -> str:
        """Its name in a spreadsheet.

        >>> ListColumn(2, "").letters, ListColumn(27, "").letters
        ('C', 'AB')
        """
        found, left = "", self.number + 1
        while left:
            left, letter = divmod(left - 1, 26)
            found = chr(ord("A") + letter) + found
        return found


def plain_text(text: str) -> str:
    """Return text in small letters without accents.

    >>> plain_text(" Hauteur hors tout, Höhe ")
    'hauteur hors tout, hohe'
    """
    apart = unicodedata.normalize("NFD", text.casefold().strip())
    return "".join(one for one in apart if not unicodedata.combining(one))


def tags_in(text: str) -> list[str]:
    """Return the tags that one text is for: a list of them, or from one to another.

    >>> tags_in("P-09 thru P-11"), tags_in("T1 & T2"), tags_in("LP1-3"), tags_in("MSB")
    (['P-09', 'P-10', 'P-11'], ['T1', 'T2'], ['LP1', 'LP2', 'LP3'], ['MSB'])
    """
    if ends := _RANGE.fullmatch(text):
        name, first, last = ends.groups()
        numbers = range(int(first), int(last) + 1)
        if 1 < len(numbers) <= _MOST_TAGS:
            return [f"{name}{one:0{len(first)}}" for one in numbers]
    return [one.strip() for one in re.split(r"[,;&/]|\band\b", text) if one.strip()]


def unit_of(word: str) -> str | None:
    """Return the unit that a word means, if it is one.

    >>> unit_of("Inches"), unit_of("mm."), unit_of("stone")
    ('in', 'mm', None)
    """
    return _UNITS.get(word.casefold().rstrip("."))


def column_of(number: int, title: str) -> ListColumn:
    """Return what a heading means.

    >>> [column_of(0, text).unit for text in ("Width (mm)", "W [in]", "depth_in_feet")]
    ['mm', 'in', 'ft']
    >>> column_of(0, "Size W x H x D (in)").order
    ('width', 'height', 'depth')
    """
    plain = plain_text(title).replace('"', " in ")
    words = [word for word in re.split(r"[^\w]+|_", plain) if word]
    unit = unit_of(words[-1]) if len(words) > 1 else None
    if unit and words[-2] == "in" and len(words) > 2:  # noqa: PLR2004 - width in mm
        words = words[:-2]
    elif unit:
        words = words[:-1]
        if len(words) > 1 and unit_of(words[-1]):  # feet and inches: no one unit
            words, unit = words[:-1], None
    if order := _ORDER.search(plain):
        names = tuple(_SIZES[one[0]] for one in order.groups())
        if len({*names}) == len(names):
            return ListColumn(number, title, "size", unit, names)
    key = KEYS.get(" ".join(words), "")
    if words and not key:
        bare = KEYS.get(" ".join(words[:-1]), "")
        key = bare if bare in _OF_SUPPLY.get(words[-1], "").split() else ""
    return ListColumn(number, title, key, unit)


def rank(column: ListColumn) -> int:
    """Tell how plainly a heading means what it means: the least is the plainest."""
    words = _TABLES["headings"].get(column.key, [""])
    plain = " ".join(re.split(r"[^\w]+|_", column.title.casefold())).strip()
    return words.index(plain) if plain in words else len(words)


def headings(
    rows: Sequence[Sequence[str]],
) -> tuple[int, tuple[ListColumn, ...]] | None:
    """Return which row holds the headings, from 0, and what they mean.

    It is the one of the first rows of which most is known, or two that stand one above
    the other, of which the last is told; None where of none enough is known.

    >>> upper, lower = ["Tag", "Size (in)", "", ""], ["", "W", "D", "H"]
    >>> [one.title for one in headings([upper, lower])[1]]
    ['Tag', 'Size (in) W', 'Size (in) D', 'Size (in) H']
    """
    best: tuple[int, tuple[ListColumn, ...]] | None = None
    most = _FEWEST - 1
    for number, row in enumerate(rows[:_DEEPEST]):
        alone = tuple(column_of(place, title) for place, title in enumerate(row))
        below = rows[number + 1] if number + 1 < len(rows) else ()
        for last, columns in ((number, alone), (number + 1, _grouped(row, below))):
            known = len({one.key for one in columns if one.key})
            # Of one row that says as much as with the title above it, that is enough.
            if known > most or (known == most and best and best[0] == last):
                best, most = (last, columns), known
    return best


def _grouped(upper: Sequence[str], lower: Sequence[str]) -> tuple[ListColumn, ...]:
    """Return what two rows of headings mean together; nothing where they are not two.

    A heading over several columns (a merged cell) is written over the first of them.
    What stands below it must be a heading, all of it: a row of an item is none.
    """
    columns: list[ListColumn] = []
    group = ""
    for place in range(max(len(upper), len(lower))):
        above = upper[place] if place < len(upper) else ""
        below = lower[place] if place < len(lower) else ""
        group = above or group
        if not below:
            columns.append(column_of(place, above))
            continue
        own, whole = column_of(place, below), column_of(place, f"{group} {below}")
        key = own.key or whole.key
        if not key:
            return ()
        unit = own.unit or column_of(place, group).unit
        title, order = f"{group} {below}".strip(), own.order or whole.order
        columns.append(ListColumn(place, title, key, unit, order))
    return tuple(columns)
