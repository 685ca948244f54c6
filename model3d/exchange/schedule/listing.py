"""A list of equipment while it is read: its columns, its mistakes, its cells."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.schedule.amounts import signs_of
from model3d.exchange.schedule.meant_columns import cell_at
from model3d.scene.manuscript import comment
from model3d.scene.words.nearest import listed

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from model3d.exchange.schedule.amounts import NumberSigns
    from model3d.exchange.schedule.headings import ListColumn

_MOST: Final = 8
"""Rows or titles; a longer list helps nobody."""
_LONGEST: Final = 60
"""Characters of a tag or a title in a mistake, which is one line to be read."""


@dataclass(frozen=True, slots=True)
class CellMistake:
    """A mistake in a list.

    Attributes:
        file: The list as it was named.
        row: Its row as a spreadsheet counts, from 1; 0 where it is of none.
        column: Its column; None where it is of none.
        item: The tag of the row, or "".
        message: What was found and what would be right.
    """

    file: str
    row: int
    column: ListColumn | None
    item: str
    message: str

    def __str__(self) -> str:
        place = [f"row {self.row}"] if self.row else []
        if self.column is not None:
            title = _shortened(self.column.title)
            place.append(f"column {self.column.letters} ({title})")
        parts = (self.file, ", ".join(place), _shortened(self.item), self.message)
        return ": ".join(comment(part) for part in parts if part)


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


class ScheduleError(ValueError):
    """A list that cannot be used.

    Attributes:
        mistakes: All of them, in the order of the rows.
    """

    def __init__(self, mistakes: Iterable[CellMistake]) -> None:
        self.mistakes = tuple(sorted(mistakes, key=_order))
        super().__init__("\n".join(map(str, self.mistakes)))


def _order(mistake: CellMistake) -> tuple[int, int]:
    return mistake.row, mistake.column.number if mistake.column else -1


def _as_in(more: int) -> str:
    return f" (as in {more} more {'row' if more == 1 else 'rows'})" if more else ""


def _also_in(more: Sequence[CellMistake]) -> str:
    rows = [str(one.row) for one in more[:_MOST]]
    if len(more) > len(rows):
        rows.append(f"{len(more) - len(rows)} more")
    word = "row" if len(more) == 1 else "rows"
    return f" (also in {word} {listed(rows, 'and')})" if rows else ""


@dataclass
class Listing:
    """The state of reading one list.

    Attributes:
        file: The list as it was named.
        columns: Its columns.
        by_key: The column that is meant for each key.
        units: Of the scene that it is written into.
        kinds: What the list's own words for kinds mean.
        there: Ids of items that the scene has.
        types: What each type of the scene says.
        signs: How it writes numbers.
        headings: The first row that a heading leaves in doubt, by key, and all of them.
        sections: The title above each row that names a kind, by the row's number.
        called: Ids of items that the scene has, by what else they are called.
        alike: The first tag of those that look alike, small and large letters too.
        mistakes: What was found so far.
    """

    file: str
    columns: tuple[ListColumn, ...]
    by_key: Mapping[str, ListColumn]
    units: str
    kinds: Mapping[str, str]
    there: Collection[str]
    types: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    signs: NumberSigns = field(default_factory=lambda: signs_of(()))
    headings: dict[str, tuple[CellMistake, set[int]]] = field(default_factory=dict)
    sections: Mapping[int, str] = field(default_factory=dict)
    called: dict[str, list[str]] = field(default_factory=dict)
    alike: dict[str, str] = field(default_factory=dict)
    mistakes: list[CellMistake] = field(default_factory=list)

    def mistake(
        self, row: int, key: str | ListColumn | None, item: str, said: str
    ) -> None:
        """Note a mistake in a row; the column by what it means, or itself."""
        column = self.by_key.get(key) if isinstance(key, str) else key
        self.mistakes.append(CellMistake(self.file, row, column, item, said))

    def of_heading(self, row: int, key: str, item: str, said: str) -> None:
        """Note a mistake in a row that its heading makes in every row: told once."""
        one = CellMistake(self.file, row, self.by_key.get(key), item, said)
        self.headings.setdefault(key, (one, set()))[1].add(row)

    def all_mistakes(self) -> tuple[CellMistake, ...]:
        """Return what was found; what is wrong alike in several rows once."""
        once = [
            replace(
                first,
                message=f"{first.message}{self._not_known(first)}"
                f"{_as_in(len(rows) - 1)}",
            )
            for first, rows in self.headings.values()
        ]
        alike: dict[object, list[CellMistake]] = {}
        for one in self.mistakes:
            alike.setdefault((one.column, one.message), []).append(one)
        own = [
            replace(first, message=f"{first.message}{_also_in(more)}")
            for first, *more in alike.values()
        ]
        return (*own, *once)

    def _not_known(self, mistake: CellMistake) -> str:
        """Name the columns one of which may be what no column is."""
        titles = [comment(one.title) for one in self.unknown()[:_MOST]]
        if mistake.column is not None or not titles:
            return ""
        return f" (nothing is known of {listed(titles, 'and')})"

    def faulty(self) -> frozenset[int]:
        """Return the rows in which something is wrong."""
        doubted = (rows for _, rows in self.headings.values())
        return frozenset({one.row for one in self.mistakes}.union(*doubted))

    def unknown(self) -> list[ListColumn]:
        """Return the columns of which nothing is known."""
        used = {column.number for column in self.by_key.values()}
        return [one for one in self.columns if one.title and one.number not in used]

    def cell(self, row: tuple[str, ...], key: str) -> str:
        """Return the cell of a row by what its column means; "" where there is none."""
        column = self.by_key.get(key)
        return "" if column is None else cell_at(row, column.number)
