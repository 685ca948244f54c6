"""The cells of a table, from CSV text or from a sheet of a workbook."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from contextlib import nullcontext, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

LARGEST: Final = 32 * 2**20
"""Bytes of a list."""
_LARGEST_INSIDE: Final = 512 * 2**20
"""Bytes of a workbook when it is unpacked."""
_LARGEST_READ: Final = 96 * 2**20
"""Bytes of what of it is read: text, of which a megabyte takes half a second."""
MOST_ROWS: Final = 100_000
_MOST_CELLS: Final = 5_000_000
"""A cell far to the right has all before it in its row, and takes no more bytes."""
_MOST_COLUMNS: Final = 16_384
"""As many as a sheet of a workbook has (the last is XFD)."""
_MANY_CELLS: Final = f"found more than {_MOST_CELLS} cells, right is a smaller list"
_MOST_BUILT: Final = {"texts": 1_000_000, "rows": 2**20}
"""Of what is built whether it says anything or not; no sheet has more rows."""
_BUILT: Final = {
    # Those that cells have in common (ECMA-376, part 1, 18.4.8).
    "texts": re.compile(rb"<(?:\w+:)?si\b"),
    # The empty ones that have a height or a format too (18.3.1.73).
    "rows": re.compile(rb"<(?:\w+:)?row\b"),
}
_AT_ONCE: Final = 2**20
DELIMITERS: Final = (",", ";", "\t", "|")
_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")


class GridError(ValueError):
    """A file that holds no table; the message says what was found and what is right."""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table as it stands in a file.

    Attributes:
        rows: Cells as text, "" where nothing is written.
        sheet: The name of the sheet, "" in a text file.
    """

    rows: tuple[tuple[str, ...], ...]
    sheet: str = ""


def grids_of_text(data: bytes) -> list[Grid]:
    """Return the table that a text may be, once for each sign that may part its cells.

    Raises:
        GridError: It is no text.
    """
    text = _decoded(data)
    asked = text.partition("\n")[0].strip().casefold()
    signs: Sequence[str] = DELIMITERS
    if asked.startswith("sep=") and len(asked) > len("sep="):
        # What a spreadsheet writes to itself; the row counts, as it does there.
        signs = [asked[len("sep=")]]
        text = "\n" + text.partition("\n")[2]
    # A quote may seem open where a cell is parted by what does not part it.
    first = text.strip().partition("\n")[0]
    likely = max(signs, key=first.count)
    grids = []
    for sign in signs:
        with nullcontext() if sign == likely else suppress(GridError):
            grids.append(Grid(_parted(text, sign)))
    return grids


def grids_of_workbook(data: bytes, sheet: str | None) -> list[Grid]:
    """Return the tables of a workbook's visible sheets, or of one that is named.

    Raises:
        GridError: It is no workbook, has no such sheet, or a formula has no value.
        ImportError: What reads workbooks is not installed.
    """
    from openpyxl import load_workbook  # noqa: PLC0415 - an extra

    _check_size(data)
    try:
        values = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        written = load_workbook(io.BytesIO(data), read_only=True)
    except Exception as error:
        msg = "found no workbook, or a damaged one, right is a whole .xlsx file"
        raise GridError(msg) from error
    names = [one.title for one in values.worksheets if one.sheet_state == "visible"]
    if sheet is not None:
        if sheet not in values.sheetnames:
            msg = f"found no sheet {sheet!r}, right is one of {', '.join(names)}"
            raise GridError(msg)
        names = [sheet]
    try:
        for book in (values, written):
            for name in names:
                # What the file says of its extent may be anything: a million columns.
                book[name].reset_dimensions()
        return [
            Grid(tuple(_cells(values[name].rows, written[name].rows)), name)
            for name in names
        ]
    except GridError:
        raise
    except Exception as error:
        # The rows are read as they are asked for.
        msg = "found a damaged sheet, right is a whole .xlsx file"
        raise GridError(msg) from error


def _check_size(data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            files = archive.infolist()
            inside = sum(one.file_size for one in files)
            read = sum(one.file_size for one in files if _is_read(one.filename))
            if inside <= _LARGEST_INSIDE and read <= _LARGEST_READ:
                _require_few(archive)
    except GridError:
        raise
    except Exception as error:
        # A damaged archive may raise anything: a part may lie before its beginning.
        msg = "found no workbook, right is a file with the ending .xlsx"
        raise GridError(msg) from error
    if inside > _LARGEST_INSIDE:
        msg = f"found more than {_LARGEST_INSIDE // 2**20} MiB inside, right is less"
        raise GridError(msg)
    if read > _LARGEST_READ:
        msg = f"found more than {_LARGEST_READ // 2**20} MiB of cells, right is less"
        raise GridError(msg)


def _is_read(name: str) -> bool:
    return name.lower().endswith((".xml", ".rels"))


def _require_few(archive: zipfile.ZipFile) -> None:
    """Make sure that no file has too many of what is built."""
    for name in archive.namelist():
        if not _is_read(name):
            continue
        counts = dict.fromkeys(_BUILT, 0)
        with archive.open(name) as stream:
            # One that goes on in the next part is not counted: one in a megabyte.
            while more := stream.read(_AT_ONCE):
                for what, word in _BUILT.items():
                    counts[what] += sum(1 for _ in word.finditer(more))
        for what, most in _MOST_BUILT.items():
            if counts[what] > most:
                msg = f"found more than {most} {what}, right is a shorter list"
                raise GridError(msg)


def _cells(
    values: Iterable[Sequence[Any]], written: Iterable[Sequence[Any]]
) -> Iterator[tuple[str, ...]]:
    count = 0
    for number, (row, formulas) in enumerate(zip(values, written, strict=True), 1):
        count += len(row)
        if count > _MOST_CELLS:
            raise GridError(_MANY_CELLS)
        if number > MOST_ROWS:
            msg = f"found more than {MOST_ROWS} rows, right is a shorter list"
            raise GridError(msg)
        for cell, formula in zip(row, formulas, strict=True):
            if cell.value is None and formula.data_type == "f":
                msg = (
                    f"row {number}, cell {formula.coordinate}: found a formula that "
                    "was never worked out, right is to open and save the workbook"
                )
                raise GridError(msg)
        yield tuple(_text(cell.value) for cell in row)


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    return str(value).strip()


def _decoded(data: bytes) -> str:
    coding = "utf-16" if data.startswith(_UTF_16) else "utf-8-sig"
    try:
        text = data.decode(coding)
    except UnicodeDecodeError:
        # What spreadsheets on Windows write where nobody asks them for UTF-8.
        text = data.decode("cp1252", "replace")
    if "\0" in text or "\ufffd" in text:
        msg = "found no text, right is a list as text (CSV)"
        raise GridError(msg)
    return text


def _parted(text: str, sign: str) -> tuple[tuple[str, ...], ...]:
    # One more row: a quote that is open at the end swallows it.
    reader = csv.reader(io.StringIO(f"{text}\n{sign}", newline=""), delimiter=sign)
    rows: list[tuple[str, ...]] = []
    count = 0
    try:
        for row in reader:
            count += len(row)
            if count > _MOST_CELLS:
                raise GridError(_MANY_CELLS)
            if len(row) > _MOST_COLUMNS:
                msg = f"found more than {_MOST_COLUMNS} columns, right is fewer"
                raise GridError(msg)
            if len(rows) > MOST_ROWS:
                msg = f"found more than {MOST_ROWS} rows, right is a shorter list"
                raise GridError(msg)
            rows.append(tuple(cell.strip() for cell in row))
    except csv.Error as error:
        most = f"more than {csv.field_size_limit()} characters in a cell"
        msg = f'row {len(rows) + 1}: found {most}, right is less, or " to close it'
        raise GridError(msg) from error
    if rows.pop() != ("", ""):
        msg = f"row {len(rows) + 1}: found a quote that is not closed"
        more = f'{msg}, right is another " at the end of the cell'
        raise GridError(more)
    return tuple(rows)
