"""A value of a scene's text, and the place where it is written."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final, NamedTuple

from model3d.scene.words.mistakes import KeyStep, Loc


class Position(NamedTuple):
    """A place in a text; the first line and the first column are 1."""

    line: int
    column: int


START: Final = Position(1, 1)


class Fault(NamedTuple):
    """Something wrong with the text of one value, while the rest can be read."""

    mark: Position
    loc: Loc
    message: str


class NotReadError(Exception):
    """A text that cannot be read on from here.

    Attributes:
        mark: Where that was found out.
    """

    def __init__(self, mark: Position, message: str) -> None:
        super().__init__(message)
        self.mark = mark


# A file may have millions of words and numbers, with nothing in any of them.
NO_PARTS: Final[dict[str | int, Node]] = {}
NO_KEYS: Final[dict[str, Position]] = {}


@dataclass(slots=True)
class Node:
    """A value, where it is written, and the same of everything in it.

    Attributes:
        mark: Where it starts.
        value: Plain data: dict, list, str, int, float, bool or None.
        parts: The nodes of what is in it, by key or by number.
        keys: Where each key of a mapping starts.
        count: How many values it stands for, itself included.
        height: How many lists and mappings are inside each other in it.
        open: It is still being read.
    """

    mark: Position
    value: Any
    parts: dict[str | int, Node] = field(default_factory=lambda: NO_PARTS)
    keys: dict[str, Position] = field(default_factory=lambda: NO_KEYS)
    count: int = 1
    height: int = 0
    open: bool = False

    def mark_of(self, loc: Loc) -> Position:
        """Return where the value at ``loc`` starts, or the nearest thing around it.

        A last step that is a Key asks for the key and not for its value.
        """
        node = self
        for step in loc:
            if isinstance(step, KeyStep) and step in node.keys:
                return node.keys[step]
            if step not in node.parts:
                break
            node = node.parts[step]
        return node.mark
