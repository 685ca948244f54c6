"""Every judgement is an object on a line, with the scene's path and hash."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner
    from viewer.report.rows_kept import Row
    from viewer.wording.refusal import Refused

TELLS_REMEDIES: Final = False
ENDING: Final = ".jsonl"


def part(
    one: Report | Refused,
    basis: Basis,
    manner: Manner,  # noqa: ARG001 - the command refuses remedies
) -> list[Row]:
    """Return the rows of a scene."""
    from viewer.report.rows_kept import rows_of

    return rows_of(one, basis)


def write(
    parts: Sequence[list[Row]],
    output: Path | None,
    manner: Manner,  # noqa: ARG001 - it is for programs
) -> None:
    """Write a line a row; what has no value is null."""
    import json

    lines = (json.dumps(row, ensure_ascii=False) for rows in parts for row in rows)
    emit("".join(f"{line}\n" for line in lines), output, exact=True)


def read(file: Path) -> list[Row]:
    """Return the rows of a file that was written so.

    Raises:
        UnusableError: It is none.
        OSError: It cannot be read.
    """
    from viewer.report.rows_kept import known_rows

    return known_rows(_objects(file), file)


def _objects(file: Path) -> Iterator[object]:
    import json

    from viewer.report.rows_kept import foreign

    number = 0
    try:
        with file.open("rb") as lines:
            for number, line in enumerate(lines, start=1):  # noqa: B007 - told below
                yield json.loads(line.decode("utf-8"))
    except (ValueError, RecursionError):
        raise foreign(file, f"no JSON in line {number}") from None
