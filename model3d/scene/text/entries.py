"""What an item of a scene is written as, and what its type says."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from model3d.scene.text.gear_file import (
    GearFile,
    GearMistake,
    GearType,
    Types,
    as_name,
    chain_of,
    unknown_type,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.words.mistakes import Loc

Inherited = dict[str, tuple[Any, GearType]]
"""What a type says, by key, and the type that says it."""


@dataclass(frozen=True, slots=True)
class WrittenItem:
    """What one item of a scene is written as.

    Attributes:
        loc: Where it is written in the scene's file.
        copy: Which copy it is, from 0.
        count: How many copies there are.
        type: The type it is made from, if any.
        inherited: The type that each key comes from which the item itself has not.
        broken: Its type or its repeat has a mistake: what is missing is no other one.
    """

    loc: Loc
    copy: int = 0
    count: int = 1
    type: GearType | None = None
    inherited: Mapping[str, GearType] = field(default_factory=dict)
    broken: bool = False


@dataclass(slots=True)
class Expansion:
    """A scene's data with every item written out.

    Attributes:
        source: The scene as it is written.
        data: The same, written out.
        types: The types that it can use.
        entries: What is written of an item, or an added one, by its place in ``data``.
        mistakes: What is wrong with the types, or with their use.
    """

    source: GearFile
    data: dict[str, Any]
    types: Types = field(default_factory=dict)
    entries: dict[Loc, WrittenItem] = field(default_factory=dict)
    mistakes: list[GearMistake] = field(default_factory=list)
    _known: dict[str, Inherited] = field(default_factory=dict)
    unread: bool = False
    """A file of gear cannot be read: nobody knows which types it would have."""

    def inherited(self, name: str) -> Inherited:
        """Return what a type says, and what it is built on, key by key."""
        if name not in self._known:
            said: Inherited = {}
            for one in reversed(chain_of(name, self.types)):
                said |= {key: (value, one) for key, value in one.values().items()}
            self._known[name] = said
        return self._known[name]

    def values_of(self, name: str) -> dict[str, Any]:
        """Return all that a type says, with what it is built on."""
        said = self.inherited(name)
        return {key: value for key, (value, _) in said.items() if value is not None}

    def entry_at(self, loc: Loc) -> tuple[WrittenItem | None, Loc]:
        """Return what a place in the data belongs to, and the rest of the way."""
        for length in (2, 6):
            if loc[:length] in self.entries:
                return self.entries[loc[:length]], loc[length:]
        return None, loc


def with_type(
    made: Expansion, loc: Loc, item: dict[str, Any]
) -> tuple[dict[str, Any], WrittenItem]:
    """Return an item with what its type says, and without the name of that."""
    name = as_name(item.get("type"))
    own = {key: value for key, value in item.items() if key != "type"}
    if name is None:
        return own, WrittenItem(loc)
    chain = chain_of(name, made.types) if isinstance(name, str) else []
    if not chain:
        if not made.unread:
            message = unknown_type(name, made.types)
            made.mistakes.append(made.source.told((*loc, "type"), message))
        return own, WrittenItem(loc, broken=True)
    said = made.inherited(chain[0].name)
    kept = {key: one for key, one in said.items() if key not in own}
    values = {key: value for key, (value, _) in kept.items() if value is not None}
    inherited = {key: kept[key][1] for key in values}
    # An empty value at the item takes the type's away, and leaves nothing itself.
    own = {key: own[key] for key in own if own[key] is not None or key not in said}
    end = chain[-1].base
    broken = end is not None
    first = {"id": own.pop("id")} if "id" in own else {}
    return {**first, **values, **own}, WrittenItem(
        loc, 0, 1, chain[0], inherited, broken
    )
