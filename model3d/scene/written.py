"""A scene as plain data, read with forgiveness.

The cross checks look at what is written before anyone knows that it is right: a value
that is no text, no length or no list counts as not said here, because its own mistake
is reported elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.kinds import KINDS, OPEN_SIDE, Kind
from model3d.scene.mistakes import Loc
from model3d.scene.placement import REFERENCES
from model3d.units import METRES, LengthError, to_metres

if TYPE_CHECKING:
    from pathlib import Path

Raw = Mapping[str, Any]
Found = tuple[Loc, str]
"""Where a mistake is, and the message."""

OUTDOOR: Final = "outdoor"
LIMITED: Final = ("crawl-space", "above-ceiling")
"""Uses of a place that is entered through an opening, not by a door."""
SLACK: Final = 1e-4
"""Metres. What touches fits: no drawing is finer than 0.1 mm."""

RUN_KEYS: Final = ("from", "to", "diameter", "section")
"""The keys of which a run has some, and no other shape has any."""
SIDES: Final = ("north", "east", "south", "west")


def text(value: object) -> str | None:
    """Return text, or a plain whole number as its text, or None."""
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value) if abs(value) < _LONGEST_NUMBER else None
    return value if isinstance(value, str) else None


_LONGEST_NUMBER: Final = 10**100


def mapping(value: object) -> Raw:
    """Return a mapping, or an empty one."""
    return value if isinstance(value, Mapping) else {}


def at_loc(data: object, loc: Loc) -> object:
    """Return the value at a place, or None where there is nothing."""
    for step in loc:
        if isinstance(data, Mapping):
            data = data.get(step)
        elif isinstance(data, list | tuple) and isinstance(step, int):
            data = data[step] if step < len(data) else None
        else:
            return None
    return data


def rows(value: object) -> list[tuple[int, Raw]]:
    """Return the mappings of a list with their numbers."""
    listed = value if isinstance(value, list | tuple) else ()
    return [(n, row) for n, row in enumerate(listed) if isinstance(row, Mapping)]


def said(raw: Raw, key: str) -> bool:
    """Return whether anything is written at ``key``."""
    return raw.get(key) is not None


def beyond(limit: float | None, *lengths: float | None) -> bool:
    """Return whether lengths together pass a limit, as far as all are known.

    A limit that is not above zero is a mistake itself, and nothing is held against it.
    """
    known = [length for length in lengths if length is not None]
    if limit is None or limit <= 0 or len(known) < len(lengths):
        return False
    return sum(known) > limit + SLACK


def within(where: Loc, mistakes: list[Found]) -> list[Found]:
    """Return mistakes of a part as mistakes of the whole it is in."""
    return [((*where, *loc), message) for loc, message in mistakes]


@dataclass(frozen=True, slots=True)
class Ruler:
    """What a bare number means; ``units`` is None where the file does not say."""

    units: str | None

    def metres(self, value: object) -> float | None:
        """Return a length in metres, or None where it is not known."""
        try:
            return None if self.units is None else to_metres(value, self.units)
        except LengthError:
            return None

    def lengths(self, value: object, count: int) -> tuple[float | None, ...]:
        """Return so many lengths in metres, None in place of each that is not known."""
        if not isinstance(value, list | tuple) or len(value) != count:
            return (None,) * count
        return tuple(self.metres(length) for length in value)

    def point(self, value: object, count: int) -> tuple[float, ...] | None:
        """Return so many lengths in metres, or None where one is not known."""
        known = tuple(x for x in self.lengths(value, count) if x is not None)
        return known if len(known) == count else None


@dataclass(frozen=True, slots=True)
class Setting:
    """What the items of a scene are checked against.

    Attributes:
        ruler: What a bare number means.
        outdoor: The scene is no room.
        walls: The length of each side by its name, in metres, None where unknown;
            no mapping at all where the room itself is not known.
        open_sides: The sides said to have no wall.
        height: Floor to ceiling in metres, or None.
        folder: Where files named by the scene are.
    """

    ruler: Ruler
    outdoor: bool
    walls: Mapping[str, float | None] | None
    open_sides: frozenset[str]
    height: float | None
    folder: Path


def setting_of(scene: Raw, folder: Path) -> Setting:
    """Return what the items of a scene are checked against."""
    units = scene.get("units")
    ruler = Ruler(units if isinstance(units, str) and units in METRES else None)
    room = mapping(scene.get("room"))
    walls = _walls(scene, room, ruler)
    return Setting(
        ruler,
        scene.get("use") == OUTDOOR,
        walls,
        _open_sides(room.get("walls"), walls or {}),
        ruler.metres(room.get("height")),
        folder,
    )


def _walls(scene: Raw, room: Raw, ruler: Ruler) -> dict[str, float | None] | None:
    if said(room, "size"):
        x, y = ruler.lengths(room["size"], 2)
        return dict(zip(SIDES, (x, y, x, y), strict=True))
    outline = room.get("outline")
    if isinstance(outline, list | tuple):
        points = [ruler.point(corner, 2) for corner in outline]
        ends = zip(points, [*points[1:], *points[:1]], strict=True)
        return {
            f"wall-{n}": math.dist(one, two) if one and two else None
            for n, (one, two) in enumerate(ends, 1)
        }
    # Without a room a place has no walls; a room that is broken may have any.
    return None if said(scene, "room") or scene.get("use") != OUTDOOR else {}


def _open_sides(words: object, walls: Mapping[str, object]) -> frozenset[str]:
    if isinstance(words, str):
        return frozenset(walls) if words == OPEN_SIDE else frozenset()
    each = mapping(words)
    return frozenset(side for side, word in each.items() if word == OPEN_SIDE)


def kind_of(item: Raw) -> Kind | None:
    """Return what an item's kind implies, or None where it is no kind."""
    kind = item.get("kind")
    return KINDS.get(kind) if isinstance(kind, str) else None


def supports(item: Raw) -> list[tuple[str, str]]:
    """Return the items an item stands on, over or under: the key and the id."""
    place = mapping(item.get("place"))
    named = [(key, text(place.get(key))) for key in REFERENCES]
    return [(key, target) for key, target in named if target is not None]
