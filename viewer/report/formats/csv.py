"""Every judgement is a row, lengths in millimetres: a table for a spreadsheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.output.whole import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report

TELLS_REMEDIES: Final = False
REFUSED: Final = "refused"
"""What stands for a verdict in the row of a scene that cannot be used."""


def write(
    checked: Sequence[Report | Refused],
    output: Path | None,
    *,
    mend: bool,  # noqa: ARG001 - the command refuses it: the columns are fixed
) -> None:
    """Write a row a judgement, below one row of columns (RFC 4180, lines end in LF)."""
    import csv
    import io

    from model3d.judging.rows import COLUMNS

    stream = io.StringIO()
    table = csv.DictWriter(stream, COLUMNS, lineterminator="\n")
    table.writeheader()
    for one in checked:
        if isinstance(one, Refused):
            reason = "; ".join(one.lines)
            table.writerow(
                {"file": one.file.name, "verdict": REFUSED, "reason": reason}
            )
        else:
            table.writerows(one.table())
    emit(stream.getvalue(), output, exact=True)
