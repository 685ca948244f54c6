"""Which rule books there are: the one place that names an edition."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Mapping

NAMES: Final[Mapping[str, str]] = {
    "nec-2014": "NEC 2014",
    "nec-2017": "NEC 2017",
    "nec-2020": "NEC 2020",
    "nec-2023": "NEC 2023",
    "nec-2026": "NEC 2026",
    "osha-1910": "29 CFR 1910.303",
    "osha-1926": "29 CFR 1926.403",
}
"""Every rule book by its id, with the name that opens its citations."""

BOOKS: Final[tuple[str, ...]] = tuple(NAMES)
"""The ids of the rule books, in order."""
