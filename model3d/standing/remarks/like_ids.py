"""Ids that are not the same by the case of their letters alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement


def likenesses_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each item or door whose id is like that of one before it."""
    scene = arrangement.scene
    doors = scene.room.doors if scene.room else ()
    first: dict[str, str] = {}
    for name in (*(door.id for door in doors), *(item.id for item in scene.items)):
        if (other := first.setdefault(name.casefold(), name)) != name:
            yield name, f"It is not {other}: letters of another case make another id."
