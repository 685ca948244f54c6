"""A list of equipment in: rows of a table as items, or every mistake in them.

What a list may hold, the headings and the units, is the product's own contract; a
length without a unit in its cell or its heading is a mistake and never a guess.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from model3d.exchange.schedule.amounts import signs_of
from model3d.exchange.schedule.headings import headings, tags_in
from model3d.exchange.schedule.listing import CellMistake, Listing, ScheduleError
from model3d.exchange.schedule.meant_columns import (
    cell_at,
    is_aside,
    meant,
    names_kind,
    numbers_in,
    units_row,
)
from model3d.exchange.schedule.row import ListRow
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import listed
from model3d.scene.words.seen import as_seen, unseen

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from model3d.exchange.schedule.grid import Grid
    from model3d.exchange.schedule.headings import ListColumn


@dataclass(frozen=True, slots=True)
class ListedItem:
    """A row of a list.

    Attributes:
        row: As a spreadsheet counts, from 1.
        id: Its tag.
        data: The keys of the item that the row says.
        notes: What else stands in the row, for comments.
        columns: Where each key comes from: "size", "place", "amps" ...
    """

    row: int
    id: str
    data: dict[str, Any]
    notes: tuple[str, ...]
    columns: Mapping[str, ListColumn]


@dataclass(frozen=True, slots=True)
class Schedule:
    """A list of equipment, read.

    Attributes:
        file: The list as it was named.
        entries: Its rows.
        unread: The titles of columns of which nothing is known; kept as comments.
        asides: What was passed over as no item, row by row: titles and notes.
        mistakes: What is wrong in the cells; with any, the entries are not whole.
        faulty: The rows in which something is wrong.
    """

    file: str
    entries: tuple[ListedItem, ...]
    unread: tuple[str, ...]
    asides: tuple[tuple[int, str], ...] = ()
    mistakes: tuple[CellMistake, ...] = ()
    faulty: frozenset[int] = frozenset()


def read_schedule(
    grids: Sequence[Grid],
    file: str,
    *,
    units: str,
    kinds: Mapping[str, str],
    room: str | None = None,
    there: Mapping[str, Collection[str]] | None = None,
    types: Mapping[str, Mapping[str, Any]] | None = None,
) -> Schedule:
    """Return the items of a list.

    Args:
        grids: The table, or what it may be; that of which most is known is taken.
        file: The list as it was named.
        units: Of the scene that it is written into.
        kinds: What the list's own words for kinds mean.
        room: Only the rows of this room.
        there: Ids of items that the scene has, each with what else it is called; these
            rows need not say all.
        types: What each type of the scene says; a row may name one as its kind.

    Raises:
        ScheduleError: There is no list, or nobody can tell which rows are meant.
    """
    grid, first, columns = _table(grids, file)
    rows = [
        (number, row)
        for number, row in enumerate(grid.rows[first + 1 :], first + 2)
        if any(row)
    ]
    if rows and (in_units := units_row(columns, rows[0][1])):
        columns, rows = in_units, rows[1:]
    asides = [
        (number, " ".join(filter(None, row))) for number, row in rows if is_aside(row)
    ]
    sections = _sections(rows)
    rows = [one for one in rows if not is_aside(one[1])]
    by_key, twice = meant(columns, [row for _, row in rows])
    if not _says_heights(by_key, rows):
        by_key.pop("hung", None)
    reading = Listing(file, columns, by_key, units, kinds, there or {}, types or {})
    reading.sections = sections
    reading.alike.update({as_seen(one).casefold(): one for one in reading.there})
    for item, names in (there or {}).items():
        for name in names:
            reading.called.setdefault(as_seen(name).casefold(), []).append(item)
    if "id" not in by_key:
        reading.mistake(first + 1, None, "", "found no column Tag, right is one")
    for one, other in twice:
        said = f"found the same as in column {one.letters} ({one.title})"
        reading.mistake(first + 1, other, "", f"{said}, right is one of them")
    rows = _of_room(reading, rows, room)
    _require_ends(reading, first + 1, rows)
    if reading.mistakes:
        raise ScheduleError(reading.mistakes)
    places = numbers_in(by_key)
    reading.signs = signs_of(cell_at(row, one) for _, row in rows for one in places)
    tags: dict[str, int] = {}
    entries = [
        entry
        for n, row in rows
        for tag in _tags(reading, n, row)
        if (entry := _entry(reading, n, row, tag, tags))
    ]
    mistakes = reading.all_mistakes()
    if not entries and not mistakes:
        reading.mistake(0, None, "", "found no rows, right is one row an item")
        mistakes = reading.all_mistakes()
    unread = tuple(column.title for column in reading.unknown())
    faulty = reading.faulty()
    return Schedule(file, tuple(entries), unread, tuple(asides), mistakes, faulty)


def _sections(rows: Sequence[tuple[int, tuple[str, ...]]]) -> dict[int, str]:
    """Return the title above each row, by its number, where that names a kind."""
    title, found_above = "", {}
    for number, row in rows:
        if is_aside(row):
            (title, *more) = filter(None, row)
            title = "" if more or not names_kind(title.rstrip(":")) else title
        else:
            found_above[number] = title
    return found_above


def _table(
    grids: Sequence[Grid], file: str
) -> tuple[Grid, int, tuple[ListColumn, ...]]:
    found_in = [
        (grid, *head) for grid in grids if (head := headings(grid.rows)) is not None
    ]
    if not found_in:
        msg = "found no headings, right is a row with tag, kind, width, depth, height"
        raise ScheduleError([CellMistake(file, 0, None, "", msg)])
    sheets = [grid.sheet for grid, _, _ in found_in if grid.sheet]
    if len(sheets) > 1:
        msg = f"found lists in {listed(sheets, 'and')}, right is one: --sheet NAME"
        raise ScheduleError([CellMistake(file, 0, None, "", msg)])
    return max(found_in, key=lambda one: len({c.key for c in one[2] if c.key}))


def _says_heights(
    by_key: Mapping[str, ListColumn], rows: Sequence[tuple[int, tuple[str, ...]]]
) -> bool:
    """Tell whether a column of mountings has heights in it, and not words alone."""
    hung = by_key.get("hung")
    texts = [cell_at(row, hung.number) for _, row in rows] if hung is not None else []
    return any(any(sign.isdigit() for sign in text) for text in texts)


def _require_ends(
    reading: Listing, heading: int, rows: Sequence[tuple[int, tuple[str, ...]]]
) -> None:
    """Note heights of nobody knows which end, and cells that stand under no heading."""
    hung = reading.by_key.get("hung")
    if hung is not None:
        said = f"found {found(hung.title)}, right is Bottom or Top"
        reading.mistake(heading, hung, "", f"{said}, as it is measured to")
    many = len(reading.columns)
    for number, row in rows:
        if more := [found(text) for text in row[many:] if text]:
            said = f"found {listed(more, 'and')} behind the last heading"
            reading.mistake(number, None, "", f"{said}, right is a heading for each")


def _of_room(
    reading: Listing, rows: list[tuple[int, tuple[str, ...]]], room: str | None
) -> list[tuple[int, tuple[str, ...]]]:
    """Return the rows of one room; where there are several it must be said."""
    column = reading.by_key.get("room")
    if column is None:
        if room is not None:
            said = f"found no column Room, right is one with {found(room)}"
            reading.mistake(0, None, "", said)
        return rows
    names = [*dict.fromkeys(cell_at(row, column.number) for _, row in rows)]
    folded = {name.casefold(): name for name in names}
    if room is None and len(folded) > 1:
        told = listed(map(found, names), "and")
        said = f"found the rooms {told}, right is one of them: --space NAME"
        reading.mistake(0, column, "", said)
    if room is not None and room.casefold() not in folded:
        said = f"found no room {found(room)}, right is {listed(map(found, names))}"
        reading.mistake(0, column, "", said)
    if room is None:
        return rows
    wanted = room.casefold()
    return [one for one in rows if cell_at(one[1], column.number).casefold() == wanted]


def _tags(reading: Listing, number: int, row: tuple[str, ...]) -> list[str]:
    """Return the tag of a row, or those of the several things that it says it is of."""
    tag = " ".join(reading.cell(row, "id").split())
    many = reading.cell(row, "quantity")
    if not tag or many in {"", "1"}:
        return [tag]
    tags = tags_in(tag)
    if not re.fullmatch(rf"{len(tags)}\s*(?:ea|each|pcs|x)?\.?", many.casefold()):
        right = "one row an item, or as many tags as P1-P3 or P1, P2, P3 are"
        reading.mistake(
            number, "quantity", tag, f"found {found(many)}, right is {right}"
        )
        return []
    places = [key for key in ("wall", "x") if reading.cell(row, key)]
    if places and len(tags) > 1:
        said = f"found one place for {len(tags)}, right is a row for each"
        reading.mistake(number, places[0], tag, said)
    return tags


def _known(reading: Listing, number: int, row: tuple[str, ...], tag: str) -> str:
    """Return the id of the item that a row is about, where the scene knows it else.

    An item that came from a model is called by its name, tag and GlobalId there.
    """
    words = (tag, reading.cell(row, "guid"))
    if tag in reading.there:
        return tag
    for word in filter(None, words):
        ids = dict.fromkeys(reading.called.get(as_seen(word).casefold(), ()))
        if len(ids) > 1:
            said = f"found {found(word)}, as {listed([*ids], 'and')} are called"
            reading.mistake(number, "id", tag, f"{said}, right is the id of one")
        if ids:
            return next(iter(ids))
    return tag


def _entry(
    reading: Listing, number: int, row: tuple[str, ...], tag: str, tags: dict[str, int]
) -> ListedItem | None:
    if not tag:
        reading.mistake(number, "id", "", "found nothing, right is the item's tag")
        return None
    if sign := unseen(tag):
        said = f"found {found(tag)}, right is a tag without the sign {sign}"
        reading.mistake(number, "id", tag, f"{said}, which nobody sees")
        return None
    tag = _known(reading, number, row, tag)
    if tag in tags:
        said = f"found {found(tag)} again, as in row {tags[tag]}"
        reading.mistake(number, "id", tag, f"{said}, right is a tag of its own")
        return None
    other = reading.alike.setdefault(as_seen(tag).casefold(), tag)
    if other != tag and tag not in reading.there:
        said = f"found {found(tag)} beside {found(other)}"
        reading.mistake(number, "id", tag, f"{said}, right is one way to write it")
        return None
    tags[tag] = number
    one = ListRow(reading, number, row, tag)
    kind = one.kind()
    of_type = reading.types.get(kind.get("type", ""), {})
    data = {"id": tag} | kind | one.plain() | one.size(typed="size" in of_type)
    data |= (
        one.place(data.get("size") or of_type.get("size"))
        | one.supply()
        | one.words()
        | one.others()
    )
    return ListedItem(number, tag, data, tuple(one.notes()), reading.by_key)
