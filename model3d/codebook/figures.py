"""Figures as a code prints them: both systems, and how each was checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias, assert_never

if TYPE_CHECKING:
    from collections.abc import Iterable

System: TypeAlias = Literal["si", "inch-pound"]
"""A system of units that a code prints a figure in."""

Measures: TypeAlias = Literal["si", "inch-pound", "either"]
"""Which printed figure counts; meeting either is compliance (NEC 90.9(D))."""

Mark: TypeAlias = Literal["read", "copy", "memory"]
"""How a value was checked: read in the source, in a copy of it, or from memory."""

MARKS: Final[tuple[Mark, ...]] = ("read", "copy", "memory")
"""Every mark, the best first."""


def worst(marks: Iterable[Mark]) -> Mark:
    """Return the weakest of some marks.

    >>> worst(["read", "memory", "copy"])
    'memory'
    """
    return max(marks, key=MARKS.index)


@dataclass(frozen=True, slots=True)
class PrintedFigure:
    """A length that a code prints, in metres, with its printed words.

    The two systems are two published numbers: none is worked out from the other. A
    figure that is printed in one system only stands in both places.

    Attributes:
        si: The figure of the SI column, in metres.
        inch_pound: The figure of the inch-pound column, in metres.
        text_si: The SI figure as printed, for example "1.0 m".
        text_inch_pound: The inch-pound figure as printed, for example "3 ft 6 in".
        checked_si: How the SI figure was checked.
        checked_inch_pound: How the inch-pound figure was checked.
        printed: The systems that the code prints.
    """

    si: float
    inch_pound: float
    text_si: str
    text_inch_pound: str
    checked_si: Mark
    checked_inch_pound: Mark
    printed: tuple[System, ...] = ("si", "inch-pound")

    def at_least(self, measures: Measures) -> float:
        """Return the least length in metres that keeps a lower limit.

        >>> depth = PrintedFigure(1.0, 1.0668, "1.0 m", "3 ft 6 in", "read", "read")
        >>> depth.at_least("inch-pound"), depth.at_least("either")
        (1.0668, 1.0)
        """
        return min(length for length, _ in self._counting(measures))

    def at_most(self, measures: Measures) -> float:
        """Return the greatest length in metres that keeps an upper limit.

        >>> reach = PrintedFigure(0.15, 0.1524, "150 mm", "6 in", "read", "read")
        >>> reach.at_most("si"), reach.at_most("either")
        (0.15, 0.1524)
        """
        return max(length for length, _ in self._counting(measures))

    def checked(self, measures: Measures) -> Mark:
        """Return how the figure was checked; the worse mark where either counts."""
        return worst(mark for _, mark in self._counting(measures))

    @property
    def texts(self) -> tuple[str, ...]:
        """The figure as printed in each system that is printed, SI first."""
        if len(self.printed) == 1:
            return (self.text_si,)
        return self.text_si, self.text_inch_pound

    @property
    def text(self) -> str:
        """The figure as printed, both systems where both are: 1.0 m / 3 ft 6 in."""
        return " / ".join(self.texts)

    def _counting(self, measures: Measures) -> tuple[tuple[float, Mark], ...]:
        """Return the length and the mark of each system that counts."""
        si = self.si, self.checked_si
        inch_pound = self.inch_pound, self.checked_inch_pound
        match measures:
            case "si":
                return (si,)
            case "inch-pound":
                return (inch_pound,)
            case "either":
                return si, inch_pound
            case _:
                assert_never(measures)


@dataclass(frozen=True, slots=True)
class VoltageRow:
    """One row of a voltage table.

    Attributes:
        above: The row holds above this many volts.
        up_to: The row holds up to and including this many volts; infinite at the end.
        cells: The figures of the row, one a column.
    """

    above: float
    up_to: float
    cells: tuple[PrintedFigure, ...]

    def holds(self, volts: float) -> bool:
        """Tell whether the row is the one for a voltage.

        >>> VoltageRow(150, 600, ()).holds(600), VoltageRow(150, 600, ()).holds(150)
        (True, False)
        """
        return self.above < volts <= self.up_to
