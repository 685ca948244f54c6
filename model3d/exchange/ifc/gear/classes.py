"""Which kind of item an element of a building model is, by a table."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.ifc.element import ModelError
from model3d.scene.kinds import KINDS
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.exchange.ifc.element import Element

UNKNOWN: Final = "obstacle"
LEFT_OUT: Final = "none"
"""What stands in the table for a kind of what is no solid thing."""
_KEYS: Final = ("class", "type", "predefined", "words", "system", "kind", "guid")


@dataclass(frozen=True, slots=True)
class ClassRow:
    """One row of the table; what is empty fits all.

    Attributes:
        of_class, of_type: IFC classes of the element and of its type.
        predefined: Predefined types.
        words: Of its names.
        system: Of its systems.
        guid: GlobalIds.
        kind: What it is then.
    """

    of_class: tuple[str, ...]
    of_type: tuple[str, ...]
    predefined: tuple[str, ...]
    words: tuple[str, ...]
    system: tuple[str, ...]
    guid: tuple[str, ...]
    kind: str

    def fits(self, element: Element) -> bool:
        """Tell whether an element is what the row means."""
        systems = " | ".join(element.systems).casefold()
        return (
            _any(self.guid, lambda one: one == element.guid)
            and _any(self.of_class, lambda one: one in element.classes)
            and _any(self.of_type, lambda one: one in element.type_classes)
            and _any(self.predefined, lambda one: one == element.predefined)
            and _any(self.words, lambda one: one in element.words)
            and _any(self.system, lambda one: one in systems)
        )


def _any(wanted: tuple[str, ...], is_so: Callable[[str], bool]) -> bool:
    return not wanted or any(is_so(one) for one in wanted)


def table_text() -> str:
    """Return the table that comes with the program, to be edited."""
    return files(__package__).joinpath("classes.toml").read_text("utf-8")


@cache
def own_table() -> tuple[ClassRow, ...]:
    """Return the table that comes with the program."""
    return table_of(table_text())


def table_of(text: str) -> tuple[ClassRow, ...]:
    """Return the rows of a table.

    Raises:
        ModelError: It is none, or a row names what is no kind; all mistakes.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        msg = f"found no mapping ({error}), right is TOML"
        raise ModelError(msg) from None
    rows = data.get("ifc", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        msg = "ifc: found no rows, right is [[ifc]] before each"
        raise ModelError(msg)
    mistakes = [
        f"ifc row {number}: {fault}"
        for number, row in enumerate(rows, 1)
        for fault in _faults(row)
    ]
    if mistakes:
        raise ModelError(*mistakes)
    return tuple(_row(row) for row in rows)


def _faults(row: dict[str, Any]) -> list[str]:
    said = [
        f"found the unknown key {found(key)}, right is one of {', '.join(_KEYS)}"
        for key in row
        if key not in _KEYS
    ]
    for key in _KEYS:
        value = row.get(key, "")
        several = value if isinstance(value, list) else [value]
        if not all(isinstance(one, str) for one in several):
            said.append(f"{key}: found {found(value)}, right is text, or a list of it")
    kind = row.get("kind")
    if kind != LEFT_OUT and (not isinstance(kind, str) or kind not in KINDS):
        near = hint(kind, KINDS) if isinstance(kind, str) else ""
        said.append(f"kind: found {found(kind)}, right is a kind{near}")
    return said


def _row(row: dict[str, Any]) -> ClassRow:
    def several(key: str) -> tuple[str, ...]:
        value = row.get(key, [])
        return tuple(value) if isinstance(value, list) else (value,)

    def small(key: str) -> tuple[str, ...]:
        return tuple(one.casefold() for one in several(key))

    return ClassRow(
        several("class"),
        several("type"),
        several("predefined"),
        small("words"),
        small("system"),
        several("guid"),
        row["kind"],
    )


def kind_of(element: Element, first: Sequence[ClassRow] = ()) -> str | None:
    """Return the kind of an element; None where no row fits.

    Args:
        element: The element.
        first: The user's own rows, which are asked before the others.
    """
    rows = (*first, *own_table())
    return next((row.kind for row in rows if row.fits(element)), None)
