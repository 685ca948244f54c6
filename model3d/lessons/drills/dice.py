"""What is drawn by lot: the same rule and seed draw the same on every machine."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING, Final, TypeVar

from model3d.units import METRES

if TYPE_CHECKING:
    from collections.abc import Sequence

T = TypeVar("T")

_SYSTEMS: Final = ("mm", "in")


class Dice:
    """Draws by lot from what the words say, and from nothing else."""

    def __init__(self, *words: object) -> None:
        self._words = " ".join(map(str, words))
        self._thrown = 0

    def number(self, below: int) -> int:
        """Return a whole number from 0, less than ``below``."""
        self._thrown += 1
        text = f"{self._words} {self._thrown}"
        return int.from_bytes(sha256(text.encode()).digest()) % below

    def one(self, choices: Sequence[T]) -> T:
        """Return one of some things."""
        return choices[self.number(len(choices))]

    def mixed(self, things: Sequence[T]) -> list[T]:
        """Return things in an order drawn by lot."""
        left = [*things]
        return [left.pop(self.number(len(left))) for _ in things]


@dataclass(frozen=True, slots=True)
class Ruler:
    """Lengths of a drawing in one system of units, on a grid as people draw.

    Attributes:
        units: Of the drawing: mm or in.
    """

    units: str

    @property
    def step(self) -> float:
        """How fine the grid is, in the drawing's units."""
        return 10.0 if self.units == "mm" else 0.5

    def near(self, metres: float) -> float:
        """Return the length on the grid that is nearest, in the drawing's units."""
        return self.plain(round(metres / METRES[self.units] / self.step) * self.step)

    def metres(self, written: float) -> float:
        """Return a length of the drawing in metres."""
        return written * METRES[self.units]

    def between(self, low: float, high: float, fine: float = 1.0) -> list[float]:
        """Return the lengths of the grid from ``low`` up to below ``high``.

        Args:
            low: Metres.
            high: Metres.
            fine: How many times finer the grid is.
        """
        unit, step = METRES[self.units], self.step / fine
        first = -int(-(low / unit - _HAIR) // step)
        last = -int(-(high / unit - _HAIR) // step)
        return [self.plain(number * step) for number in range(first, last)]

    @staticmethod
    def plain(number: float) -> float:
        """Write a whole number without a point.

        >>> Ruler.plain(30.0), Ruler.plain(30.5)
        (30, 30.5)
        """
        return int(number) if number == int(number) else number


_HAIR: Final = 1e-6
"""Of a unit. A length on the grid is not missed for the last digit of a float."""


def ruler(dice: Dice) -> Ruler:
    """Draw the system of units by lot."""
    return Ruler(dice.one(_SYSTEMS))
