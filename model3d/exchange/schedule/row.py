"""One row of a list of equipment, as the keys of an item."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.schedule.amounts import (
    AmountError,
    UnitError,
    bare,
    length,
    metres,
    number,
)
from model3d.exchange.schedule.headings import unit_of
from model3d.exchange.schedule.kind_words import KindError, kind_in, kind_of
from model3d.exchange.schedule.meant_columns import cell_at, wall_of
from model3d.exchange.schedule.supply_words import system_of, system_of_volts
from model3d.scene.parts.placement import BEARING
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import listed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.exchange.schedule.listing import Listing

SIZES: Final = ("width", "depth", "height")
_PLAIN: Final = ("name", "guid", "line_up", "why")
_WORDS: Final = ("door", "rear")
"""Columns of words that the scene format knows; small letters and hyphens."""
_HINGED: Final = re.compile(r"\b(?:hinged?|hand(?:ed)?|swing|door|leaf|side|on)\b|-")
_HINGES: Final = {"l": "left", "lh": "left", "r": "right", "rh": "right"} | {
    "double": "pair"
}
_AMPERES: Final = r"(?:a|amps?|amperes?)?(?:\s*(?:mlo|mcb|mb|mccb|main|bus|frame)\b.*)?"
"""What may stand behind a rating: the unit, and which part of the gear it is of."""
_ALONE: Final = re.compile(r"(?<![a-z])[wdh](?![a-z])")
_PARTS: Final = 3


class ListRow:
    """One row, read part by part; what is wrong in it is noted."""

    def __init__(
        self, reading: Listing, number: int, row: tuple[str, ...], tag: str
    ) -> None:
        self.reading, self.number, self.row, self.tag = reading, number, row, tag

    def cell(self, key: str) -> str:
        """Return a cell by what its column means."""
        return self.reading.cell(self.row, key)

    def wrong(self, key: str, said: str) -> None:
        """Note a mistake."""
        self.reading.mistake(self.number, key, self.tag, said)

    def doubted(self, key: str, said: str) -> None:
        """Note a mistake that is the heading's, and in every row the same."""
        self.reading.of_heading(self.number, key, self.tag, said)

    def length(self, key: str, text: str | None = None) -> float | str | None:
        """Return the length of a cell, or of a part of it; None where there is none."""
        text = self.cell(key) if text is None else text
        if not text:
            return None
        unit = self.reading.by_key[key].unit or unit_of(self.cell("unit"))
        try:
            return length(text, unit, self.reading.units, self.reading.signs)
        except AmountError as error:
            said = f"found {found(text)}, right is {error}"
            of_heading = isinstance(error, UnitError)
            (self.doubted if of_heading else self.wrong)(key, said)
            return None

    def kind(self) -> dict[str, Any]:
        """Return the kind."""
        columns = self.reading.by_key
        words = self.cell("kind")
        if "kind" not in columns:
            words = self.reading.sections.get(self.number, "").rstrip(":")
        described = columns.get("kind") is not None and columns["kind"].key != "kind"
        if described and self.tag in self.reading.there:
            return {}  # what it is, is known better from the scene
        if not words:
            if self.tag not in self.reading.there:
                said = "found nothing, right is a kind such as panelboard"
                if "kind" in self.reading.by_key:
                    self.wrong("kind", said)
                else:
                    self.doubted("kind", f"{said}: no column Kind")
            return {}
        if (named := self._type(words)) is not None:
            is_there = self.tag in self.reading.there
            kind = self.reading.types[named].get("kind")
            return {"kind": kind} if is_there else {"type": named}
        try:
            look = kind_in if described else kind_of
            return {"kind": look(words, self.reading.kinds)}
        except KindError as error:
            self.wrong("kind", str(error))
            return {}

    def _type(self, words: str) -> str | None:
        """Return the type of the scene that is named, in any letters, if one is."""
        plain = "-".join(words.casefold().split())
        return next(
            (one for one in self.reading.types if one.casefold() == plain), None
        )

    def plain(self) -> dict[str, Any]:
        """Return what is taken as it is written."""
        return {key: text for key in _PLAIN if (text := self.cell(key))}

    def words(self) -> dict[str, Any]:
        """Return words that the scene format knows, and a leaf."""
        found_words: dict[str, Any] = {
            key: "-".join(text.casefold().split())
            for key in _WORDS
            if (text := self.cell(key))
        }
        if door := found_words.get("door"):
            word = "".join(_HINGED.sub(" ", door).split())
            word = _HINGES.get(word, word)
            found_words["door"] = word if word in {"left", "right", "pair"} else door
        width = self.length("door_width") if self.cell("door_width") else None
        if width is None:
            return found_words
        hinge = found_words.pop("door", "")
        if hinge not in {"left", "right"}:
            said = f"found {found(self.cell('door'))} beside a door's width"
            self.wrong("door_width", f"{said}, right is left or right in column Door")
            return found_words
        return found_words | {"doors": [{"hinge": hinge, "width": width}]}

    def size(self, *, typed: bool = False) -> dict[str, Any]:
        """Return the size, from three cells or from one; a type may have it instead."""
        if self.cell("size"):
            return self._size_in_one()
        said = {key: self.cell(key) for key in SIZES}
        if not any(said.values()):
            if self.tag not in self.reading.there and not typed:
                is_there = any(key in self.reading.by_key for key in ("size", *SIZES))
                note = self.wrong if is_there else self.doubted
                note("width", "found no size, right is width, depth and height")
            return {}
        for key in SIZES:
            if not said[key]:
                self.wrong(key, f"found nothing, right is the {key}")
        lengths = [self.length(key) for key in SIZES]
        return {} if None in lengths else {"size": lengths}

    def _size_in_one(self) -> dict[str, Any]:
        text = self.cell("size")
        parts = re.split(r"\s*[x\u00d7*]\s*", text, flags=re.IGNORECASE)
        if len(parts) != _PARTS:
            said = f"found {found(text)}, right is three lengths with x between them"
            self.wrong("size", said)
            return {}
        unit = re.search(r"[a-z]+\.?$", parts[-1].casefold())
        if unit and all(re.fullmatch(r"[\d.,/\s]+", part) for part in parts[:-1]):
            parts = [*(f"{part} {unit[0]}" for part in parts[:-1]), parts[-1]]
        order = self.reading.by_key["size"].order or tuple(
            next((name for name in SIZES if name[0] in _letters(part)), "")
            for part in parts
        )
        if sorted(order) != sorted(SIZES):
            said = f"found {found(text)}, right is each with W, D or H, or a heading"
            self.wrong("size", f"{said} such as Size W x D x H (in)")
            return {}
        if not self.reading.by_key["size"].order:
            parts = [_ALONE.sub("", part.casefold()) for part in parts]
        lengths = {
            name: self.length("size", part)
            for name, part in zip(order, parts, strict=True)
        }
        size = [lengths[name] for name in SIZES]
        return {} if None in size else {"size": size}

    def place(self, size: list[float | str] | None) -> dict[str, Any]:
        """Return the place; nothing where it has none yet."""
        keys = ("wall", "x", "stands_on", "over", "under")
        named = [key for key in keys if self.cell(key)]
        if not named:
            for key in ("along", "y", "bottom", "top"):
                if self.cell(key):
                    said = f"found {found(self.cell(key))} without a wall or x"
                    right = "a wall or x as well, or nothing: no place yet"
                    self.wrong(key, f"{said}, right is {right}")
            return {}
        if len(named) > 1:
            self.wrong(named[1], f"found {listed(named, 'and')}, right is one of them")
            return {}
        if named[0] == "wall":
            return self._at_wall()
        if named[0] == "x":
            return self._at_point(size)
        target = {named[0]: self.cell(named[0])}
        gap = self.length("gap") if named[0] != "stands_on" else None
        return {"place": target | ({} if gap is None else {"gap": gap})}

    def _heights(self, bottom: str = "bottom") -> dict[str, Any]:
        heights = {"bottom": self.length(bottom), "top": self.length("top")}
        return {key: one for key, one in heights.items() if one is not None}

    def _at_wall(self) -> dict[str, Any]:
        if not self.cell("along"):
            said = "found a wall and nothing along it, right is the length from the "
            note = self.wrong if "along" in self.reading.by_key else self.doubted
            note("along", f"{said}wall's left end, or no wall: no place yet")
            return {}
        place: dict[str, Any] = {"wall": wall_of(self.cell("wall"))}
        place["along"] = self.length("along")
        if (gap := self.length("gap")) is not None:
            place["gap"] = gap
        place |= self._heights()
        return {} if place["along"] is None else {"place": place}

    def _at_point(self, size: list[float | str] | None) -> dict[str, Any]:
        """Read the middle of the back edge; a scene names that of the footprint."""
        if not self.cell("y"):
            self.wrong("y", "found x and nothing here, right is both")
            return {}
        x, y, facing = self.length("x"), self.length("y"), self._facing()
        if x is None or y is None or facing is None or size is None:
            return {}
        units = self.reading.units
        half = metres(size[1], units) / 2
        degrees = BEARING[facing] if isinstance(facing, str) else facing
        bearing = math.radians(degrees)
        at = (
            metres(x, units) + half * math.sin(bearing),
            metres(y, units) + half * math.cos(bearing),
        )
        place = {"at": [bare(round(one, 9), units) for one in at], "facing": facing}
        return {"place": place | self._heights("z" if self.cell("z") else "bottom")}

    def _facing(self) -> float | str | None:
        text = self.cell("facing").casefold()
        if (side := wall_of(text)) in BEARING:
            return side
        plain = text.replace("\u00b0", "").removesuffix("deg").strip()
        try:
            return number(plain, self.reading.signs)
        except AmountError:
            right = "north, east, south, west, or degrees clockwise from north"
            said = found(self.cell("facing") or None)
            self.wrong("facing", f"found {said}, right is {right}")
            return None

    def supply(self) -> dict[str, Any]:
        """Return the supply."""
        supply: dict[str, Any] = {}
        if system := self._system():
            supply["system"] = system
        elif (ground := self._number("to_ground", "v")) is not None:
            supply["to_ground"] = ground
        if (amps := self._number("amps", _AMPERES)) is not None:
            supply["amps"] = amps
        return {"supply": supply} if supply else {}

    def _system(self) -> str | None:
        key, text = "system", self.cell("system")
        if not text:
            key = "line_volts"
            line, ground = self._number(key, "v"), self._number("to_ground", "v")
            if line is None:
                return None
            text = system_of_volts(line, ground)
        try:
            return system_of(text)
        except ValueError as error:
            self.wrong(key, f"found {found(text)}, right is {error}")
            return None

    def _number(self, key: str, unit: str) -> float | None:
        text = self.cell(key)
        if not text:
            return None
        plain = re.sub(rf"\s*(?:{unit})\.?$", "", text, flags=re.IGNORECASE)
        try:
            # No rating is given to the thousandth: 1,600 A are 1600.
            return number(plain, self.reading.signs, whole=True)
        except AmountError as error:
            self.wrong(key, f"found {found(text)}, right is {error}")
            return None

    def others(self) -> dict[str, Any]:
        """Return the condition."""
        text = self.cell("condition")
        if not text:
            return {}
        if text not in {"1", "2", "3"}:
            self.wrong("condition", f"found {found(text)}, right is 1, 2 or 3")
            return {}
        return {"condition": int(text)}

    def notes(self) -> Iterator[str]:
        """Yield what else stands in the row."""
        if notes := self.cell("notes"):
            yield notes
        for column in self.reading.unknown():
            if text := cell_at(self.row, column.number):
                yield f"{column.title}: {text}"


def _letters(part: str) -> list[str]:
    """Return the letters that stand alone beside a length.

    >>> _letters('20"W'), _letters("D 6 in")
    (['w'], ['d'])
    """
    return _ALONE.findall(part.casefold())
