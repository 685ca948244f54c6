"""The same rows stand in columns (Apache Parquet), for a query engine."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner
    from viewer.report.rows_kept import Row
    from viewer.wording.refusal import Refused

TELLS_REMEDIES: Final = False
ENDING: Final = ".parquet"
FILE_ONLY: Final = True


def part(
    one: Report | Refused,
    basis: Basis,
    manner: Manner,  # noqa: ARG001 - the command refuses remedies
) -> list[Row]:
    """Return the rows of a scene."""
    from viewer.report.rows_kept import rows_of

    return rows_of(one, basis)


def ready() -> None:
    """See that it can be written, before the work.

    Raises:
        UnusableError: The extra [parquet] is not installed.
    """
    _arrow()


def write(
    parts: Sequence[list[Row]],
    output: Path | None,
    manner: Manner,  # noqa: ARG001 - it is for programs
) -> None:
    """Write all rows as one table; the same rows give the same bytes."""
    import io

    from viewer.output.outlet import write_whole
    from viewer.report.rows_kept import COLUMNS, COUNT, NUMBERS

    if output is None:
        msg = "standclear: Parquet is written to a file, right is -o FILE"
        raise UnusableError([msg])
    arrow = _arrow()
    import pyarrow.parquet

    kinds = {COUNT: arrow.int64(), **dict.fromkeys(NUMBERS, arrow.float64())}
    schema = arrow.schema([(name, kinds.get(name, arrow.string())) for name in COLUMNS])
    rows = [row for rows in parts for row in rows]
    columns = {name: [row[name] for row in rows] for name in COLUMNS}
    stream = io.BytesIO()
    pyarrow.parquet.write_table(arrow.table(columns, schema), stream)
    write_whole(output, stream.getvalue())


def read(file: Path) -> list[Row]:
    """Return the rows of a file that was written so.

    Raises:
        UnusableError: It is none, or the extra [parquet] is not installed.
        OSError: It cannot be read.
    """
    from viewer.report.rows_kept import COLUMNS, foreign, known_rows

    arrow = _arrow()
    import pyarrow.parquet

    with file.open("rb") as stream:
        try:
            table = pyarrow.parquet.read_table(stream, partitioning=None)
            if tuple(table.column_names) != COLUMNS:
                raise foreign(file, "other columns")
            rows = table.to_pylist()
        except (arrow.ArrowException, OSError, UnicodeDecodeError):
            raise foreign(file, "no Parquet") from None
    return known_rows(rows, file)


def _arrow() -> Any:  # noqa: ANN401 - it brings no types
    try:
        import pyarrow as pa
    except ImportError:
        msg = (
            "standclear: Parquet needs the extra [parquet]: python -m pip install "
            '"standclear[parquet]"; or write the same rows to a .jsonl file'
        )
        raise UnusableError([msg]) from None
    return pa
