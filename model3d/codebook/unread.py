"""What decides and was not read in any source: listed once a report, to be verified."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.codebook import Entry, Measures, PrintedFigure


def unread_figures(
    entry: Entry, figures: Iterable[PrintedFigure], measures: Measures, key: str = ""
) -> tuple[str, ...]:
    """Return the citation of figures that were not read in any source, or nothing.

    Args:
        entry: The table that the figures are from.
        figures: Those that decide.
        measures: The system that counts.
        key: The value that the figures are, where it has a section of its own.
    """
    if any(figure.checked(measures) == "memory" for figure in figures):
        return (entry.cite(key) if key else entry.citation,)
    return ()


def unread_rules(entry: Entry, *keys: str) -> tuple[str, ...]:
    """Return the citations of sentences that were not read in any source."""
    found = (entry.cite(key) for key in keys if entry.mark(key) == "memory")
    return tuple(dict.fromkeys(found))
