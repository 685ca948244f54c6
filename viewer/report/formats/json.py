"""Every scene is one object on a line of its own, lengths in millimetres."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner

ENDING: Final = ".json"


def part(
    one: Report | Refused,
    basis: Basis,  # noqa: ARG001 - a report says what it is of
    manner: Manner,
) -> str:
    """Return a report for programs; with remedies only where they are asked for."""
    if isinstance(one, Refused):
        import json

        return json.dumps(one.document(), ensure_ascii=False)
    return _with_remedies(one) if manner.mend else one.json()


def write(
    parts: Sequence[str],
    output: Path | None,
    manner: Manner,  # noqa: ARG001 - it is for programs
) -> None:
    """Write a line a scene."""
    emit("".join(f"{line}\n" for line in parts), output, exact=True)


def _with_remedies(report: Report) -> str:
    import json

    from model3d.mending.remedies import bench_of_report, mends, with_remedies

    if report.arrangement is None:
        return report.json()
    found = mends(bench_of_report(report))
    return json.dumps(with_remedies(report, found), ensure_ascii=False)
