"""Remarks that travel with a figure of the rule book."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.codebook import Entry, Figure, Measures


def from_memory(figures: Iterable[Figure], measures: Measures) -> str:
    """Return the warning for figures that were not read in any source, or ""."""
    if any(figure.checked(measures) == "memory" for figure in figures):
        return "Verify against the adopted code: this figure is from memory."
    return ""


def rule_from_memory(entry: Entry, *keys: str) -> str:
    """Return the warning for sentences that were not read in any source, or ""."""
    if any(entry.mark(key) == "memory" for key in keys):
        return "Verify against the adopted code: this rule is from memory."
    return ""
