"""Every scene is one object on a line of its own, lengths in millimetres."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.output.whole import emit
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report


def write(
    checked: Sequence[Report | Refused], output: Path | None, *, mend: bool
) -> None:
    """Write reports for programs; with remedies only where they are asked for."""
    lines = (_line(one, mend=mend) for one in checked)
    emit("".join(f"{line}\n" for line in lines), output, exact=True)


def _line(one: Report | Refused, *, mend: bool) -> str:
    if isinstance(one, Refused):
        import json

        return json.dumps(one.document(), ensure_ascii=False)
    return _with_remedies(one) if mend else one.json()


def _with_remedies(report: Report) -> str:
    import json

    from model3d.mending.remedies import bench_of_report, mends, with_remedies

    if report.arrangement is None:
        return report.json()
    found = mends(bench_of_report(report))
    return json.dumps(with_remedies(report, found), ensure_ascii=False)
