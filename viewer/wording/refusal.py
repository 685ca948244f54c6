"""What is said when something cannot be used: a line each, never a traceback."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from model3d import Mistake


class UnusableError(Exception):
    """The input cannot be used.

    Attributes:
        mistakes: One line each.
    """

    def __init__(self, mistakes: Iterable[str]) -> None:
        super().__init__("the input cannot be used")
        self.mistakes = tuple(mistakes)


@dataclass(frozen=True, slots=True)
class Refused:
    """A scene that cannot be used, in its place among others.

    Attributes:
        file: Its file.
        mistakes: Everything that is wrong with it.
    """

    file: Path
    mistakes: tuple[Mistake, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The mistakes as people read them, a line each."""
        return tuple(str(mistake) for mistake in self.mistakes)

    @property
    def count(self) -> str:
        """How many mistakes there are, in words."""
        number = len(self.mistakes)
        return f"{number} mistake{'' if number == 1 else 's'}"

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document; null where there is no line."""
        found = [
            {
                "line": one.line or None,
                "column": one.column or None,
                "item": one.item,
                "field": one.field,
                "text": one.message,
            }
            for one in self.mistakes
        ]
        return {"format": 1, "file": self.file.name, "mistakes": found}


def refused(error: OSError) -> str:
    """Say what the system refused, in a line.

    >>> refused(FileNotFoundError(2, "No such file or directory", "a.yaml"))
    'a.yaml: No such file or directory'
    """
    words = (error.filename, error.strerror or error)
    return ": ".join(str(word) for word in words if word)


def fault(error: Exception) -> str:
    """Describe a fault of the program itself, in a line.

    >>> fault(KeyError("LP1"))
    "a fault of standclear, please report it: KeyError: 'LP1'"
    """
    return f"a fault of standclear, please report it: {type(error).__name__}: {error}"
