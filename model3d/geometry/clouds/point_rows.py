"""Points written as text, a row each: by themselves, or below a header."""

from __future__ import annotations

import io
import re
import warnings
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds.faults import MOST_POINTS, TOO_SHORT, PointFileError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_ROW: Final = re.compile(r"^[ \t]*([^#\s/].*)$", re.MULTILINE)
_HEAD: Final = 2**16
"""Characters in which the first row stands, comments before it."""
_FEWEST: Final = 3
_FAULT: Final = re.compile(r"at row (\d+)( with)?")


def text_points(data: bytes) -> Points:
    """Read x, y and z from the first three columns of XYZ, TXT or CSV text.

    Columns are parted by blanks, tabs, commas or semicolons. A first row of words, or
    of one number, how many rows follow, is passed over; so is what stands behind #
    or //.

    Raises:
        PointFileError: A row is no point.
    """
    head = data[:_HEAD].decode("utf-8-sig", "replace")
    first = _ROW.search(head)
    if first is None:
        msg = "no points"
        raise PointFileError(msg)
    mark = next((mark for mark in ";," if mark in first[1]), None)
    cells = [cell.strip() for cell in first[1].split(mark)]
    skipped = 0
    if len(cells) < _FEWEST or not all(map(_is_number, cells[:_FEWEST])):
        if len(cells) < _FEWEST and not (len(cells) == 1 and cells[0].isdecimal()):
            msg = "its first row is no point: fewer than three columns"
            raise PointFileError(msg)
        skipped = head.count("\n", 0, first.end()) + 1
    return rows_of(data.removeprefix(b"\xef\xbb\xbf"), (0, 1, 2), mark, skipped)


def rows_of(
    data: bytes,
    columns: Sequence[int],
    mark: str | None = None,
    skipped: int = 0,
    count: int | None = None,
) -> Points:
    """Read three columns of rows of numbers.

    Args:
        data: The text.
        columns: Which three.
        mark: What parts them; None for blanks.
        skipped: Lines before the first row.
        count: How many rows there must be; None for all that are there.

    Raises:
        PointFileError: A row has no three numbers there, or rows are missing.
    """
    most = MOST_POINTS + 1 if count is None else count
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of a file without a row, which is told
        try:
            found: Points = np.loadtxt(
                io.TextIOWrapper(io.BytesIO(data), "ascii", "replace"),
                comments=["#", "//"],
                delimiter=mark,
                skiprows=skipped,
                usecols=tuple(columns),
                max_rows=most,
                ndmin=2,
            )
        except ValueError as error:
            row = _FAULT.search(str(error))
            # It counts rows from one only where it tells how many columns there are.
            where = f"row {int(row[1]) + (not row[2])}" if row else "a row"
            msg = f"{where} has no three numbers"
            raise PointFileError(msg) from error
    if count is not None and len(found) < count:
        raise PointFileError(TOO_SHORT)
    return found.reshape(-1, 3)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
