"""The scene as a step of a lesson finds it, and what a change makes of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from model3d.scene.mistakes import found
from model3d.scene.nearest import hint
from model3d.scene.written import mapping, rows, supports, text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.written import Raw, Setting


@dataclass
class Stage:
    """The scene as a step of the lesson finds it.

    Attributes:
        scene: What was written of the scene itself and of its room.
        setting: What items are checked against.
        items: The items there are, by id.
        leaning: For each id the items that stand on, over or under it.
    """

    scene: Raw
    setting: Setting
    items: dict[str, Raw]
    leaning: dict[str, set[str]] = field(default_factory=dict)

    @property
    def doors(self) -> dict[str, Raw]:
        """The personnel doors, by id."""
        numbered = rows(mapping(self.scene.get("room")).get("doors"))
        named = ((text(door.get("id")), door) for _, door in numbered)
        return {name: door for name, door in named if name is not None}

    def put(self, own_id: str, item: Raw) -> None:
        """Put an item in, in place of one of the same id."""
        self.take(own_id)
        self.items[own_id] = item
        for _, target in supports(item):
            self.leaning.setdefault(target, set()).add(own_id)

    def take(self, own_id: str) -> None:
        """Take an item out, if it is there."""
        for _, target in supports(self.items.pop(own_id, {})):
            self.leaning.get(target, set()).discard(own_id)

    def missing(self, name: str | None, known: Mapping[str, Raw]) -> str | None:
        """Return the message about an id that is not there, or None."""
        if name is None or name in known:
            return None
        right = f"right is an id that is there at this step{hint(name, known)}"
        return f"found {found(name)}, {right}"


def changed_place(scene: Raw, name: str, fields: Raw) -> dict[str, Any]:
    """Return a scene with other keys of its own, of its room or of a room door."""
    if name == "scene":
        return changed_fields(scene, fields)
    room = mapping(scene.get("room"))
    if name == "room":
        return {**scene, "room": changed_fields(room, fields)}
    doors = [
        changed_fields(door, fields) if text(door.get("id")) == name else door
        for _, door in rows(room.get("doors"))
    ]
    return {**scene, "room": {**room, "doors": doors}}


def changed_fields(item: Raw, fields: Raw) -> dict[str, Any]:
    """Return an item with other fields; None takes a field away.

    >>> changed_fields({"id": "A", "door": "left"}, {"door": None, "rear": "bolted"})
    {'id': 'A', 'rear': 'bolted'}
    """
    return {
        key: value for key, value in {**item, **fields}.items() if value is not None
    }
