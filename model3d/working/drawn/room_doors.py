"""Doors of the room that overlap one another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.wording.said import Named, say
from model3d.working.drawn.contradiction import Contradiction, slack

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor


def doors_that_overlap(
    situation: Situation,
) -> dict[str, tuple[Contradiction, ...]]:
    """Return by door what other doors it overlaps, and by how much."""
    room = situation.scene.room
    doors = sorted(room.doors, key=lambda one: one.id) if room else []
    found: dict[str, tuple[Contradiction, ...]] = {}
    for door in doors:
        others = [one for one in doors if one is not door and one.wall == door.wall]
        told = [_told(door, other, situation) for other in others]
        known = tuple(one for one in told if one is not None)
        if known:
            found[door.id] = known
    return found


def _told(
    door: RoomDoor, other: RoomDoor, situation: Situation
) -> Contradiction | None:
    metres = situation.scene.metres
    much = min(
        _way_out(*((metres(one.along), metres(one.width)) for one in (door, other))),
        _way_out(*((metres(one.sill), metres(one.height)) for one in (door, other))),
    )
    if much <= slack(situation):
        return None
    return Contradiction(
        say("overlaps {} by {}", Named(other.id), situation.length(much)),
        "overlap",
        much,
    )


def _way_out(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Return how far one of two lengths must be moved to part them."""
    (start, size), (begin, other_size) = one, other
    return min(start + size - begin, begin + other_size - start)
