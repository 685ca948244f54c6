"""Rows of results that are kept: a row a judgement, with what it stands on.

They have the columns of the CSV, and before these the scene's path and hash, the
program's version, what was asked for instead of what the scene says, and how many rows
the scene has, so that a row that is missing is noticed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.judging.results import VERDICTS
from model3d.judging.written.rows import COLUMNS as JUDGED
from viewer.report.basis import Basis
from viewer.wording.refusal import Refused, UnusableError

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from model3d import Report

Row = dict[str, str | float | int | None]

NUMBERS: Final = ("required", "provided", "margin")
"""Columns of numbers; those of all others but ``COUNT`` are words."""
COUNT: Final = "scene_rows"
COLUMNS: Final = ("path", "hash", "version", "asked", COUNT, *JUDGED)
REFUSED: Final = "refused"
"""What stands for a verdict in the row of a scene that cannot be used."""
RIGHT: Final = "right is a .jsonl or .parquet file that check wrote"


def rows_of(one: Report | Refused, basis: Basis) -> list[Row]:
    """Return a row a judgement, or the one row of a scene that cannot be used."""
    head: Row = {
        "path": basis.path,
        "hash": basis.hash,
        "version": basis.version,
        "asked": basis.asked,
    }
    if isinstance(one, Refused):
        reason = "; ".join(one.lines)
        said: Row = {"file": one.file.name, "verdict": REFUSED, "reason": reason}
        return [dict.fromkeys(COLUMNS) | head | {COUNT: 1} | said]
    found = one.table()
    return [{**head, COUNT: len(found), **_plain(row)} for row in found]


def _plain(row: Mapping[str, str | float | None]) -> Row:
    # A number is one kind of number in every file, whatever Python had it as.
    return {
        name: float(value) if name in NUMBERS and value is not None else value
        for name, value in row.items()
    }


def basis_of(row: Row) -> Basis:
    """Return what a row says that it stands on."""
    words = {name: row[name] for name in ("path", "hash", "version", "asked")}
    return Basis(**{name: _word(value) for name, value in words.items()})  # type: ignore[arg-type]


def _word(value: object) -> str | None:
    return value if isinstance(value, str) else None


def known_rows(rows: Iterable[object], file: Path) -> list[Row]:
    """Return rows that were read, each of which is what ``rows_of`` makes.

    Raises:
        UnusableError: One is not; with the line of the first.
    """
    found: list[Row] = []
    for number, row in enumerate(rows, start=1):
        if not isinstance(row, dict) or tuple(row) != COLUMNS:
            raise foreign(file, f"a row {number} with other columns")
        wrong = next((name for name in COLUMNS if not _is_right(name, row[name])), None)
        if wrong:
            raise foreign(file, f"{row[wrong]!r} as {wrong} in row {number}")
        found.append(row)
    return found


def _is_right(name: str, value: object) -> bool:
    if name == COUNT:
        return type(value) is int and value > 0
    if name in NUMBERS:
        return value is None or type(value) is float
    if name == "verdict":
        return value in (*VERDICTS, REFUSED)
    if name in {"path", "version", "reason"}:
        return isinstance(value, str)
    return value is None or isinstance(value, str)


def foreign(file: Path, what: str) -> UnusableError:
    """Return the error of a file that holds no results; ``what`` was found in it."""
    return UnusableError([f"{file}: found {what}, {RIGHT}"])
