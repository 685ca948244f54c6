"""What the headings of a list of equipment mean."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

_WORDS: Final = {
    "id": "tag, id, equipment tag, equipment id, equip tag, equip id, eqpt tag, "
    "eqpt id, item tag, item id, tag no, tag number, unit id, panel id, panel name, "
    "panel, mark, designation, reference, ref, equipment no, equipment number, "
    "equipment, item",
    "kind": "kind, equipment kind, equipment type, equip type, eqpt type, item type, "
    "panel type, device type, gear type, unit type, type, category, class",
    "quantity": "quantity, qty, count, pcs, pieces",
    "name": "name, equipment name, description, title, service",
    "room": "room, space, location, area, room name, room number, room no",
    "width": "width, w, wd, overall width, wide",
    "depth": "depth, d, dp, overall depth, deep",
    "height": "height, h, ht, hgt, overall height, high",
    "wall": "wall, on wall, at wall",
    "along": "along, along wall, offset, left offset, offset from left, from left, "
    "from left end, from left corner, from left wall, distance from left, "
    "distance from left end, distance from left corner, distance from left wall, "
    "offset from left end, offset from left corner, dist from left, "
    "dist from left end, dist from left corner, dist from left wall",
    "size": "size, dimensions, overall dimensions, overall size, dims",
    "bottom": "bottom, underside, to underside, to bottom, bottom above floor, "
    "bottom aff, underside aff, bottom elevation, bottom height, base elevation, "
    "base height, height above floor",
    "top": "top, top above floor, top aff",
    "hung": "aff, a f f, above finished floor, mounting height, mounting height aff, "
    "mounting, mount height, mtg height, height aff, elevation, elev",
    "gap": "gap, gap behind, gap to wall",
    "x": "x, east, x position",
    "y": "y, north, y position",
    "z": "z, z position",
    "facing": "facing, faces, front, front deg, front facing, bearing",
    "stands_on": "stands on, on, standing on",
    "over": "over, above",
    "under": "under, below",
    "system": "system, supply, supply system, voltage, volts, voltage system",
    "line_volts": "voltage ll, volts ll, line voltage, v ll, voltage l l, volts l l, "
    "v l l, line to line voltage",
    "to_ground": "voltage lg, volts lg, voltage to ground, volts to ground, v lg, "
    "voltage l g, volts l g, voltage ln, volts ln, voltage l n, volts l n, v ln, v l n",
    "amps": "amps, amp, current, current a, rating, rating a, amperes, amperage, "
    "bus amps, bus rating, rated current, ampacity",
    "door": "door, doors, door hinge, hinge, hinges, hinged, door swing",
    "door_width": "door width, leaf width",
    "rear": "rear, rear access, back",
    "line_up": "line up, lineup",
    "condition": "condition",
    "why": "why, reason",
    "guid": "guid, global id, globalid, ifc guid",
    "notes": "notes, note, remarks, remark, comments, comment",
    "unit": "unit, units, uom, unit of measure, dim unit",
}
_ABROAD: Final = {
    "id": "bmk, betriebsmittel, kennzeichen, anlagenkennzeichen, "
    "repere, etiqueta, identificacion",
    "kind": "art, typ, geratetyp, genre, tipo, type d equipement, tipo de equipo",
    "name": "bezeichnung, benennung, descripcion, nom, nombre",
    "room": "raum, local, piece, sala, cuarto",
    "width": "breite, largeur, ancho, anchura",
    "depth": "tiefe, profondeur, profundidad, fondo",
    "height": "hohe, hoehe, hauteur, altura, alto",
    "quantity": "anzahl, menge, stuck, stueck, quantite, qte, nombre de pieces, "
    "cantidad, cant",
    "along": "abstand links, abstand von links, abstand zur linken ecke, von links, "
    "distance a gauche, distance depuis la gauche, depuis la gauche, "
    "distancia izquierda, distancia desde la izquierda, desde la izquierda",
    "bottom": "unterkante, hohe unterkante, unterkante uber fussboden, sous face, "
    "hauteur sous face, cara inferior, altura inferior",
    "hung": "montagehohe, montagehoehe, hauteur de montage, altura de montaje",
    "size": "abmessungen, masse, dimensiones, medidas",
    "wall": "wand, mur, pared, muro",
    "system": "spannung, nennspannung, tension, tension nominale, "
    "tension nominal, voltaje",
    "amps": "strom, nennstrom, bemessungsstrom, courant, intensite, courant nominal, "
    "corriente, intensidad, corriente nominal",
    "notes": "bemerkung, bemerkungen, anmerkung, remarque, remarques, observations, "
    "observaciones, notas",
}
"""The same in German, French and Spanish, without accents: common practice."""
LENGTHS: Final = frozenset(
    {*("width", "depth", "height", "size", "door_width", "along")}
    | {*("bottom", "top", "gap", "x", "y", "z")}
)
"""Columns of lengths, which need a unit in the cell or in the heading."""
KEYS: Final = {
    alias: key
    for table in (_ABROAD, _WORDS)
    for key, words in table.items()
    for alias in words.split(", ")
}
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
    words = _WORDS.get(column.key, "").split(", ")
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
