"""A length in two lines beside its dimension line: one system above the other."""

from __future__ import annotations

from model3d.wording import lengths


def two_lines(metres: float, units: str, after: str = "") -> tuple[str, str]:
    """Return a length in the system of ``units``, and in the other one below it.

    >>> two_lines(0.762, "mm", "short")
    ('762 mm short', '(2 ft 6 in)')
    """
    own, other = lengths(metres, units)
    return f"{own} {after}".rstrip(), f"({other})"
