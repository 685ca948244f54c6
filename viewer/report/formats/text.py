"""What is not met, open and met stands in tables for people."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from viewer.output.whole import emit

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report


def write(reports: Sequence[Report], output: Path | None) -> None:
    """Write reports for people, as wide as the terminal."""
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text import reports_text

    stream = None if output else sys.stdout
    width, colour = width_of(stream), wants_colour(stream)
    emit(reports_text(reports, width=width, colour=colour), output)
