"""The types of a scene: those at its top, and those of the gear files that it names."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.checks.files import OWN_UNIT, file_fault
from model3d.scene.faults.salvage import optional, usable
from model3d.scene.parts.item import Item
from model3d.scene.text.bare_words import bare_lengths, with_unit
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import Node, NotReadError, Position
from model3d.scene.text.file_content import LARGEST, content_of
from model3d.scene.words.mistakes import KeyStep, Loc, SceneError, found
from model3d.scene.words.nearest import hint, listed
from model3d.units import METRES

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

GEAR_ENDINGS: Final = (".yaml", ".yml", ".json")
GEAR_KEYS: Final = ("types", "units")
"""What a gear file holds, and nothing else."""
MOST_FILES: Final = 100
"""Gear files of one scene."""
DEEPEST: Final = 20
"""Types built on one another."""
NOT_IN_A_TYPE: Final = ("id", "place", "repeat")
"""Keys of an item that each item has for itself."""


@dataclass(frozen=True, slots=True)
class GearMistake:
    """A mistake, and where it is written.

    Attributes:
        file: The file that it is in.
        mark: Where in that.
        loc: The way there from the top of that file.
        message: What was found, what would be right.
    """

    file: str
    mark: Position
    loc: Loc
    message: str

    def saying(self, more: str) -> GearMistake:
        """Return the mistake with more in its message."""
        return GearMistake(self.file, self.mark, self.loc, self.message + more)


@dataclass(frozen=True, slots=True)
class GearFile:
    """A file with types, as it is written.

    Attributes:
        file: Its name, as the scene's is named.
        root: What is in it.
        folder: Its folder, as seen from the scene's; None for the scene itself.
        units: What its bare numbers mean; None where that is said by the scene.
        same: The scene's bare numbers mean the same.
    """

    file: str
    root: Node
    folder: PurePosixPath | None = None
    units: str | None = None
    same: bool = False

    @property
    def other(self) -> str | None:
        """What its bare numbers mean, where the scene's mean something else."""
        return None if self.same else self.units

    def told(self, loc: Loc, message: str) -> GearMistake:
        """Return a mistake in this file."""
        return GearMistake(self.file, self.root.mark_of(loc), loc, message)


@dataclass(frozen=True, slots=True)
class GearType:
    """One type, as it is written."""

    name: str
    source: GearFile

    @property
    def loc(self) -> Loc:
        """The way to it from the top of its file."""
        return ("types", self.name)

    @property
    def node(self) -> Node:
        """What is written of it."""
        return self.source.root.parts["types"].parts[self.name]

    @property
    def mark(self) -> Position:
        """Where its name stands."""
        return self.source.root.mark_of(("types", KeyStep(self.name)))

    @property
    def base(self) -> object:
        """The name of the type it is built on, or None."""
        return as_name(self.node.value.get("type"))

    def value(self, key: str) -> object:
        """Return what it says at a key, so that it means the same in any scene."""
        value, units = self.node.value[key], self.source.other
        folder = self.source.folder
        if key in {"mesh", "points"} and folder is not None and isinstance(value, str):
            return (folder / value).as_posix() if value else value
        if units:
            return with_unit({key: value}, units)[key]
        return value

    def values(self) -> dict[str, object]:
        """Return what it says, so that it means the same in any scene."""
        said = {key: self.value(key) for key in self.node.value if key != "type"}
        mesh = said.get("mesh") or said.get("points")
        bare = isinstance(mesh, str) and not mesh.lower().endswith((*OWN_UNIT, ".e57"))
        if bare and self.source.other and said.get("units") is None:
            said["units"] = self.source.other
        return said


Types = dict[str, GearType]


def types_of(root: Node, file: str, names: object) -> tuple[Types, list[GearMistake]]:
    """Return every type that a scene can use, and the mistakes in them.

    Args:
        root: The scene as it is written.
        file: Its file.
        names: What it says at ``types_from``.
    """
    own = GearFile(file, root)
    sources, mistakes = [own], []
    many = names if isinstance(names, list) else [names]
    for number, name in enumerate(many[:MOST_FILES]):
        loc: Loc = ("types_from", number) if names is many else ("types_from",)
        if isinstance(name, str) and name:
            found_source, told = _gear_file(own, loc, name)
            mistakes += told
            sources += [found_source] if found_source else []
    if len(many) > MOST_FILES:
        message = f"found {len(many)} files, right is at most {MOST_FILES}"
        mistakes.append(own.told(("types_from",), message))
    types: Types = {}
    for source in sources:
        written = source.root.parts.get("types")
        is_named = written is not None and isinstance(written.value, dict)
        for name in written.parts if written and is_named else ():
            one = GearType(str(name), source)
            if isinstance(one.node.value, dict):
                mistakes += _again(types, one)
                types.setdefault(one.name, one)
    for one in types.values():
        mistakes += _mistakes_of(one, types)
    return types, mistakes


def is_gear(data: Mapping[str, Any]) -> bool:
    """Tell whether a file holds types and is no scene."""
    return "types" in data and {*data} <= {*GEAR_KEYS}


def chain_of(name: str, types: Types) -> list[GearType]:
    """Return a type and those it is built on, as far as they are known."""
    chain: list[GearType] = []
    here: object = name
    while isinstance(here, str) and here in types and len(chain) <= DEEPEST:
        if types[here] in chain:
            break
        chain.append(types[here])
        here = types[here].base
    return chain


def as_name(value: object) -> object:
    """Return a name as text, of which a plain whole number is one as well."""
    return str(value) if type(value) is int else value


def unknown_type(name: object, types: Collection[str]) -> str:
    """Return the message about a name that is not the name of a type."""
    if not types:
        return f"found {found(name)}, right is a type of this scene, which has none"
    return f"found {found(name)}, right is the name of a type{hint(str(name), types)}"


def told_at(file: str, mark: Position, here: str) -> str:
    """Say where something is written, for a mistake in the file ``here``."""
    of = "" if file == here else f" of {Path(file).name}"
    return f"line {mark.line}{of}"


def _gear_file(
    own: GearFile, loc: Loc, name: str
) -> tuple[GearFile | None, list[GearMistake]]:
    folder = Path(own.file).parent
    if fault := file_fault(name, folder, GEAR_ENDINGS, LARGEST):
        return None, [own.told(loc, f"found {found(name)}, right is {fault}")]
    path = folder / name
    if path.resolve() == Path(own.file).resolve():
        message = f"found {found(name)}, the scene itself, right is a file of gear"
        return None, [own.told(loc, message)]
    try:
        node, faults = compose(content_of(path).removeprefix("\ufeff"))
    except SceneError as error:
        one = error.mistakes[0]
        return None, [
            GearMistake(str(path), Position(one.line, one.column), (), one.message),
        ]
    except NotReadError as error:
        return None, [GearMistake(str(path), error.mark, (), str(error))]
    told = [GearMistake(str(path), one.mark, one.loc, one.message) for one in faults]
    if node is None or not isinstance(node.value, dict) or "types" not in node.value:
        what = node.value if node else None
        mark = node.mark if node else Position(1, 1)
        message = f"found {found(what)} without types, right is a file of gear: types"
        return None, [*told, GearMistake(str(path), mark, (), message)]
    units = node.value.get("units")
    known = units if isinstance(units, str) and units in METRES else None
    same = known == own.root.value.get("units")
    source = GearFile(str(path), node, PurePosixPath(name).parent, known, same)
    return source, [*told, *_file_mistakes(source)]


def _file_mistakes(source: GearFile) -> Iterator[GearMistake]:
    """Yield what is wrong with a gear file apart from each of its types."""
    data = source.root.value
    for key in data:
        if key not in GEAR_KEYS:
            right = f"right is {listed(GEAR_KEYS)}: it is a file of gear"
            yield source.told((KeyStep(key),), f"found the key {found(key)}, {right}")
    if data.get("units") is not None and source.units is None:
        right = f"right is {listed(METRES)}"
        yield source.told(("units",), f"found {found(data['units'])}, {right}")
    types = data["types"]
    if not isinstance(types, dict):
        right = "right is a mapping of types by their names"
        yield source.told(("types",), f"found {found(types)}, {right}")
        return
    for name, one in types.items():
        if not isinstance(one, dict):
            message = f"found {found(one)}, right is a mapping"
            yield source.told(("types", name), message)
        elif data.get("units") is None and (bare := bare_lengths(one)):
            value = one
            for step in bare[0]:
                value = value[step]
            message = (
                f"found {found(value)} without a unit, right is units: at the top of "
                "a file of gear"
            )
            yield source.told(("types", name, *bare[0]), message)


def _again(types: Types, one: GearType) -> list[GearMistake]:
    if one.name not in types:
        return []
    first = types[one.name]
    there = told_at(first.source.file, first.mark, one.source.file)
    message = f"found the type {found(one.name)} again, right is a name of its own"
    return [
        one.source.told((*one.loc[:1], KeyStep(one.name)), f"{message}; see {there}")
    ]


def _mistakes_of(one: GearType, types: Types) -> Iterator[GearMistake]:
    """Yield what a type has wrong by itself, whether it is used or not."""
    said = {key: value for key, value in one.node.value.items() if value is not None}
    for key in NOT_IN_A_TYPE:
        if key in said:
            message = f"found {key} in a type, right is {key} at each item"
            yield one.source.told((*one.loc, KeyStep(key)), message)
    if "type" in said:
        yield from _base_mistakes(one, types)
    keys = {
        key: value
        for key, value in said.items()
        if key not in NOT_IN_A_TYPE and key != "type"
    }
    for loc, message in usable(optional(Item), keys)[1]:
        yield one.source.told((*one.loc, *loc), message)


def _base_mistakes(one: GearType, types: Types) -> Iterator[GearMistake]:
    chain = chain_of(one.name, types)
    loc, base = (*one.loc, "type"), chain[-1].base
    if len(chain) == 1 and (not isinstance(base, str) or base not in types):
        yield one.source.told(loc, unknown_type(base, types.keys() - {one.name}))
    elif len(chain) > DEEPEST:
        message = f"found more than {DEEPEST} types on one another, right is fewer"
        yield one.source.told(loc, message)
    elif base == one.name:
        names = " on ".join([*(link.name for link in chain[:4]), one.name])
        message = f"found a circle, {names}, right is a chain with an end"
        yield one.source.told(loc, message)
