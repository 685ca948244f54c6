"""What every face says in the same words: verdicts, sizes, requirements, caution."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ANGLE
from model3d.wording import CAUTION, bracketed, lengths, part_words, sentences
from model3d.wording.said import parts_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict

__all__ = [
    "CAUTION",
    "WORDS",
    "amount",
    "amounts",
    "from_memory",
    "no_place",
    "no_place_words",
    "part_words",
    "requirement_words",
    "units_of",
    "why_open",
]

WORDS: Final[dict[Verdict, str]] = {
    "not-met": "not met",
    "open": "open",
    "met": "met",
}
"""The verdicts as people say them, the worst first."""
_FEW_NAMES: Final = 3


def units_of(report: Report) -> str:
    """Return the unit that a report's scene is written in."""
    return report.arrangement.scene.units if report.arrangement else "mm"


def amount(name: str, value: float | None, units: str) -> str:
    """Write a size: in the scene's own system, the other one in brackets.

    >>> amount("depth", 0.9, "mm"), amount("angle", 63.44, "mm")
    ('900 mm (2 ft 11 7/16 in)', '63.4°')
    >>> amount("width", 0.762, "in")
    '2 ft 6 in (762 mm)'
    """
    return "" if value is None else bracketed(amounts(name, value, units))


def amounts(
    name: str, value: float, units: str, beside: float | None = None
) -> tuple[str, str]:
    """Write a size in the scene's own system, and in the other one or "".

    Args:
        name: Of the size.
        value: Metres; of an angle degrees.
        units: The unit of the scene.
        beside: What it is compared with: what differs is not written the same.

    >>> amounts("depth", 0.9, "in"), amounts("angle", 90.0, "in")
    (('2 ft 11 7/16 in', '900 mm'), ('90°', ''))
    """
    if name == ANGLE:
        return f"{round(value, 1):g}°", ""
    if not math.isfinite(value):
        return "no limit", ""
    return lengths(value, units, beside)


def requirement_words(slug: str) -> str:
    """Return the name of a rule as words.

    >>> requirement_words("battery-top-clearance")
    'Battery top clearance'
    """
    return slug.replace("-", " ").capitalize()


def no_place(many: int) -> str:
    """Say of so many items that nothing says where they stand.

    >>> no_place(1)
    "has no place yet, is not judged and is in nobody's way."
    """
    has, is_ = ("has", "is") if many == 1 else ("have", "are")
    return f"{has} no place yet, {is_} not judged and {is_} in nobody's way."


def no_place_words(items: Sequence[str]) -> str:
    """Say what is not judged, for it is not said where it stands; "" if all is.

    >>> no_place_words(["A", "B", "C", "D", "E"])
    "A, B, C and 2 more: have no place yet, are not judged and are in nobody's way."
    """
    few, more = items[:_FEW_NAMES], len(items) - _FEW_NAMES
    names = ", ".join(few) + (f" and {more} more" if more > 0 else "")
    return f"{names}: {no_place(len(items))}" if items else ""


def why_open(judgement: Judgement) -> str:
    """Say what is missing of something open, with why where that does not say it."""
    missing, reason = judgement.missing, judgement.reason
    is_told = set(parts_of(missing)) <= set(parts_of(reason))
    return reason if is_told or not missing else sentences(missing, reason)


def from_memory(unread: Sequence[str]) -> str:
    """Say once what was not read in any source and must be verified; "" if all was.

    >>> from_memory(["NEC 2023 110.26(A)(1)", "NEC 2023 110.26(C)(1)"])
    'verify against the adopted code: NEC 2023 110.26(A)(1), NEC 2023 110.26(C)(1)'
    """
    return f"verify against the adopted code: {', '.join(unread)}" if unread else ""
