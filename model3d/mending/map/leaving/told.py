"""What is told of the ways out at a place, and how much may be asked for it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Told:
    """What comes of the ways out at one place of an item.

    Attributes:
        broken: Requirement and subject of what is not met there and counts.
        open: The same of what is open there, and is not so without the item.
    """

    broken: frozenset[tuple[str, str]] = frozenset()
    open: frozenset[tuple[str, str]] = frozenset()

    @property
    def met(self) -> bool:
        """Whether nothing is told against the place."""
        return not (self.broken or self.open)

    @property
    def badness(self) -> int:
        """How bad it is: met, open or not met."""
        return 2 if self.broken else int(bool(self.open))


@dataclass
class Purse:
    """How many questions may still be asked: a count, and so always the same."""

    left: int

    @property
    def empty(self) -> bool:
        """Whether no more may be asked."""
        return self.left <= 0
