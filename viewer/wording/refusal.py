"""What is said when something cannot be used: a line each, never a traceback."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


class UnusableError(Exception):
    """The input cannot be used.

    Attributes:
        mistakes: One line each.
    """

    def __init__(self, mistakes: Iterable[str]) -> None:
        super().__init__("the input cannot be used")
        self.mistakes = tuple(mistakes)


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
