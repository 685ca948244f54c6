"""What the items of a scene are checked against, in metres as far as it is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeVar

from model3d.scene.parts.part import Part
from model3d.scene.parts.placement import BEARING
from model3d.scene.parts.room import Room, RoomDoor
from model3d.scene.parts.site import OUTDOOR
from model3d.scene.words.wall_words import OPEN_SIDE
from model3d.units import METRES, LengthError, to_metres

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from model3d.scene.parts.site import Site

SLACK: Final = 1e-4
"""Metres. What touches fits: no drawing is finer than 0.1 mm."""
SIDES: Final = tuple(BEARING)

P = TypeVar("P", bound=Part)


def word(value: object) -> str | None:
    """Return text, or None where something else is written."""
    return value if isinstance(value, str) else None


def numbered(kind: type[P], parts: Iterable[object] | None) -> list[tuple[int, P]]:
    """Return those of a list that are parts of a kind, with their numbers."""
    return [(n, part) for n, part in enumerate(parts or ()) if isinstance(part, kind)]


def room_of(site: Site) -> Room | None:
    """Return the room, or None where none is written, or something that is none."""
    return site.room if isinstance(site.room, Room) else None


def doors_of(site: Site) -> list[tuple[int, RoomDoor]]:
    """Return the personnel doors with their numbers."""
    room = room_of(site)
    return numbered(RoomDoor, room.doors) if room else []


def beyond(limit: float | None, *lengths: float | None) -> bool:
    """Return whether lengths together pass a limit, as far as all are known.

    A limit that is not above zero is a mistake itself, and nothing is held against it.
    """
    if limit is None or limit <= 0:
        return False
    total = 0.0
    for length in lengths:
        if length is None:
            return False
        total += length
    return total > limit + SLACK


@dataclass(frozen=True, slots=True)
class BareUnit:
    """What a bare number means; ``units`` is None where the file does not say."""

    units: str | None

    def metres(self, value: object) -> float | None:
        """Return a length in metres, or None where it is not known."""
        if self.units is None or value is None:
            return None
        try:
            return to_metres(value, self.units)
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

    ruler: BareUnit
    outdoor: bool
    walls: Mapping[str, float | None] | None
    open_sides: frozenset[str]
    height: float | None
    folder: Path


def setting_of(site: Site, folder: Path) -> Setting:
    """Return what the items of a scene are checked against."""
    ruler = BareUnit(site.units if site.units in [*METRES] else None)
    room = room_of(site)
    walls = _walls(site, room, ruler)
    return Setting(
        ruler,
        site.use == OUTDOOR,
        walls,
        _open_sides(room.walls if room else None, walls or {}),
        ruler.metres(room.height) if room else None,
        folder,
    )


def _walls(
    site: Site, room: Room | None, ruler: BareUnit
) -> dict[str, float | None] | None:
    if room is None:
        # Without a room a place has no walls; a room that is broken may have any.
        return None if site.said("room") or site.use != OUTDOOR else {}
    if room.said("size"):
        x, y = ruler.lengths(room.size, 2)
        return dict(zip(SIDES, (x, y, x, y), strict=True))
    if room.outline is None:
        return None
    points = [ruler.point(corner, 2) for corner in room.outline]
    ends = zip(points, [*points[1:], *points[:1]], strict=True)
    return {
        f"wall-{n}": math.dist(one, two) if one and two else None
        for n, (one, two) in enumerate(ends, 1)
    }


def _open_sides(words: object, walls: Mapping[str, object]) -> frozenset[str]:
    if isinstance(words, Mapping):
        return frozenset(side for side, word in words.items() if word == OPEN_SIDE)
    return frozenset(walls) if words == OPEN_SIDE else frozenset()
