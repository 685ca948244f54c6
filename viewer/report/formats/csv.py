"""Every judgement is a row, lengths in millimetres: a table for a spreadsheet."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner

TELLS_REMEDIES: Final = False
ENDING: Final = ".csv"
_FORMULA: Final = ("=", "+", "-", "@", "\t")
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
"""Where readers end a text, or a terminal obeys; line feeds and tabs are plain."""
REFUSED: Final = "refused"
"""What stands for a verdict in the row of a scene that cannot be used."""


def part(
    one: Report | Refused,
    basis: Basis,  # noqa: ARG001 - the columns are fixed
    manner: Manner,  # noqa: ARG001 - the command refuses remedies
) -> str:
    """Return a row a judgement (RFC 4180, lines end in LF)."""
    if isinstance(one, Refused):
        reason = "; ".join(one.lines)
        return _text([{"file": one.file.name, "verdict": REFUSED, "reason": reason}])
    return _text(one.table())


def write(
    parts: Sequence[str],
    output: Path | None,
    manner: Manner,  # noqa: ARG001 - it is for programs
) -> None:
    """Write the rows of all scenes below one row of columns."""
    from model3d.judging.written.rows import COLUMNS

    head = _text([dict(zip(COLUMNS, COLUMNS, strict=True))])
    emit("".join((head, *parts)), output, exact=True)


def _text(rows: Iterable[Mapping[str, object]]) -> str:
    import csv
    import io

    from model3d.judging.written.rows import COLUMNS

    stream = io.StringIO()
    plain = ({key: _plain(value) for key, value in row.items()} for row in rows)
    csv.DictWriter(stream, COLUMNS, lineterminator="\n").writerows(plain)
    return stream.getvalue()


def _plain(value: object) -> object:
    """Return text that a spreadsheet takes for text, not for a formula or a new row."""
    if not isinstance(value, str):
        return value
    text = _CONTROL.sub(" ", value)
    return f"'{text}" if text.startswith(_FORMULA) else text
