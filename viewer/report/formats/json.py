"""Every scene is one object on a line of its own, lengths in millimetres."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.output.whole import emit

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report


def write(reports: Sequence[Report], output: Path | None) -> None:
    """Write reports for programs."""
    emit("".join(f"{report.json()}\n" for report in reports), output, exact=True)
