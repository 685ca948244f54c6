"""What every face says in the same words: verdicts, sizes, requirements, caution."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ANGLE
from model3d.wording import bracketed, lengths

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.judging.results import Report, Verdict

WORDS: Final[dict[Verdict, str]] = {
    "not-met": "not met",
    "open": "open",
    "met": "met",
}
"""The verdicts as people say them, the worst first."""
SENTENCE: Final = re.compile(r"(?<=\.) +(?=[A-Z])")
"""Between two sentences; not after "No." before a number."""
CAUTION: Final = (
    "Energised equipment can kill: distances alone do not make work on it safe.",
    "The authority having jurisdiction decides by local code; a licensed person signs.",
)
"""What a reader must know of every result."""


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


def amounts(name: str, value: float, units: str) -> tuple[str, str]:
    """Write a size in the scene's own system, and in the other one or "".

    >>> amounts("depth", 0.9, "in"), amounts("angle", 90.0, "in")
    (('2 ft 11 7/16 in', '900 mm'), ('90°', ''))
    """
    if name == ANGLE:
        return f"{value:.1f}°".replace(".0°", "°"), ""
    if not math.isfinite(value):
        return "no limit", ""
    return lengths(value, units)


def requirement_words(slug: str) -> str:
    """Return the name of a rule as words.

    >>> requirement_words("battery-top-clearance")
    'Battery top clearance'
    """
    return slug.replace("-", " ").capitalize()


def part_words(leaf: int | None, tier: int | None, side: str | None) -> str:
    """Return which leaf, tier or side is meant; the first two are counted from 1.

    >>> part_words(0, None, None), part_words(None, 1, None)
    ('leaf 1', 'tier 2')
    >>> part_words(None, None, "rear"), part_words(None, None, None)
    ('rear', '')
    """
    leaves = "" if leaf is None else f"leaf {leaf + 1}"
    tiers = "" if tier is None else f"tier {tier + 1}"
    return ", ".join(filter(None, (leaves, tiers, side)))


def first_sentence(text: str) -> str:
    """Return the first sentence of a text.

    >>> first_sentence("Exception No. 2 holds. A duct is lower.")
    'Exception No. 2 holds.'
    """
    return SENTENCE.split(text)[0]


def from_memory(unread: Sequence[str]) -> str:
    """Say once what was not read in any source and must be verified; "" if all was.

    >>> from_memory(["NEC 2023 110.26(A)(1)", "NEC 2023 110.26(C)(1)"])
    'verify against the adopted code: NEC 2023 110.26(A)(1), NEC 2023 110.26(C)(1)'
    """
    return f"verify against the adopted code: {', '.join(unread)}" if unread else ""
