"""One table of one rule book, ready to be asked."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, TypeAlias, TypeVar

from model3d.codebook.errors import BookError
from model3d.codebook.figures import Mark, PrintedFigure, VoltageRow, worst

if TYPE_CHECKING:
    from collections.abc import Mapping

Kind = TypeVar("Kind")

_DIRECT: Final = "dc_up_to"
"""The key that says how far direct current keeps the last row of a voltage table."""


@dataclass(frozen=True, slots=True)
class VoltageRows:
    """The rows of a voltage table, the lowest voltage first."""

    rows: tuple[VoltageRow, ...]


Content: TypeAlias = PrintedFigure | float | bool | tuple[str, ...] | VoltageRows
"""What a key may hold: a length, a number, a flag, words, or the rows of a table."""


@dataclass(frozen=True, slots=True)
class Value:
    """One value with the sentence that says it.

    Attributes:
        content: The value itself.
        citation: Book and section that say it.
        checked: How it was checked; the worst mark where it holds several.
    """

    content: Content
    citation: str
    checked: Mark


@dataclass(frozen=True, slots=True)
class Entry:
    """What one rule book says on one limit.

    Attributes:
        table: Name of the table.
        absent: Why the book has no such rule, or why it does not bind an installation
            of that day; None where it holds.
        citation: Book and section, for example "NEC 2023 110.26(A)(3)".
        values: Every value by its key, in the order of the table.
        marked: How the rule as a whole was checked.
    """

    table: str
    absent: str | None
    citation: str
    values: Mapping[str, Value] = field(hash=False)
    marked: Mark

    @property
    def given(self) -> bool:
        """Whether the book has such a rule, and it binds the installation."""
        return self.absent is None

    @property
    def checked(self) -> Mark:
        """The worst mark of the rule and of all its values."""
        return worst((self.marked, *(value.checked for value in self.values.values())))

    @property
    def rows(self) -> tuple[VoltageRow, ...]:
        """The rows of a voltage table, the lowest voltage first.

        Raises:
            BookError: The table has no rows, or the book has no such rule.
        """
        return self._content("rows", VoltageRows, "voltage rows").rows

    def up_to(self, *, direct_current: bool) -> float:
        """Return the highest voltage of a voltage table.

        Direct current may keep the last row to a higher voltage than alternating
        current does.
        """
        highest = self.rows[-1].up_to
        if direct_current and self.has(_DIRECT):
            return max(highest, self.number(_DIRECT))
        return highest

    def row(self, volts: float) -> VoltageRow:
        """Return the row for a voltage: the first one that reaches it, or the last."""
        return next((row for row in self.rows if volts <= row.up_to), self.rows[-1])

    def has(self, key: str) -> bool:
        """Tell whether the book gives a value for the key."""
        return key in self.values

    def figure(self, key: str) -> PrintedFigure:
        """Return a length; BookError where there is none of that name."""
        return self._content(key, PrintedFigure, "length")

    def number(self, key: str) -> float:
        """Return a number (volts, amperes, degrees); BookError where there is none."""
        return self._content(key, float, "number")

    def flag(self, key: str) -> bool:
        """Return a yes or no; BookError where there is none of that name."""
        return self._content(key, bool, "flag")

    def words(self, key: str) -> tuple[str, ...]:
        """Return words such as kinds of items; BookError where there are none."""
        return self._content(key, tuple, "words")

    def cite(self, key: str) -> str:
        """Return the citation of one value, which may have a section of its own.

        Raises:
            BookError: The book gives no value for the key.
        """
        return self._value(key).citation

    def mark(self, key: str) -> Mark:
        """Return how one value was checked; BookError where there is none."""
        return self._value(key).checked

    def _value(self, key: str) -> Value:
        if key not in self.values:
            raise self._none(key, "value")
        return self.values[key]

    def _content(self, key: str, kind: type[Kind], called: str) -> Kind:
        content = self._value(key).content
        if isinstance(content, kind):
            return content
        raise self._none(key, called)

    def _none(self, key: str, kind: str) -> BookError:
        held = ", ".join(self.values) or "none"
        why = f"; the book has no such rule: {self.absent}" if self.absent else ""
        return BookError(
            f"{self.table}, {self.citation}: no {kind} {key!r}; it has {held}{why}"
        )
