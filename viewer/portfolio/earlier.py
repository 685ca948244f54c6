"""Results of an earlier run, of which those are kept that still stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.disk.files import NOT_PLAIN, is_plain
from viewer.report.formats import ending_of, formats, is_read_again
from viewer.report.rows_kept import COUNT, REFUSED, RIGHT, basis_of
from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from viewer.report.rows_kept import Row

Rows = list["Row"]


def earlier_rows(file: Path) -> Mapping[str, Rows]:
    """Return the rows of each room, by its path, that may be kept.

    Left out, so that they are judged again, are rooms that were refused, of which rows
    are missing or stand twice, and whose rows do not stand on the same.

    Raises:
        UnusableError: There is no such file, or it is none that check wrote.
    """
    read = {
        ending_of(one): one for one in formats().values() if is_read_again(one)
    }.get(file.suffix.lower())
    if read is None:
        raise UnusableError([f"--changed-since: found {file.name}, {RIGHT}"])
    if not file.exists():
        raise UnusableError([f"{file}: found no such file, {RIGHT}"])
    if not is_plain(file):
        raise UnusableError([f"{file}: found {NOT_PLAIN}, {RIGHT}"])
    try:
        rows: Rows = read.read(file)  # type: ignore[attr-defined]
    except OSError as error:
        raise UnusableError([refused(error)]) from error
    found: dict[str, Rows] = {}
    for row in rows:
        found.setdefault(str(row["path"]), []).append(row)
    return {path: one for path, one in found.items() if _is_whole(one)}


def _is_whole(rows: Sequence[Row]) -> bool:
    first = rows[0]
    basis = basis_of(first)
    different = {tuple(row.items()) for row in rows}
    return (
        len(different) == len(rows) == first[COUNT]
        and bool(basis.hash)
        and all(row["verdict"] != REFUSED for row in rows)
        and all(basis_of(row) == basis for row in rows)
    )
