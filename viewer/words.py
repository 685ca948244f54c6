"""What every face says in the same words: verdicts, sizes, requirements, caution."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.results import ANGLE
from viewer.lengths import both

if TYPE_CHECKING:
    from model3d.results import Verdict

WORDS: Final[dict[Verdict, str]] = {
    "not-met": "not met",
    "open": "open",
    "met": "met",
}
"""The verdicts as people say them, the worst first."""
CAUTION: Final = (
    "Energised equipment can kill: distances alone do not make work on it safe.",
    "The authority having jurisdiction decides by local code; a licensed person signs.",
)
"""What a reader must know of every result."""


def amount(name: str, value: float | None, units: str) -> str:
    """Write a size: in the scene's own system, the other one in brackets.

    >>> amount("depth", 0.9, "mm"), amount("angle", 63.44, "mm")
    ('900 mm (2 ft 11 7/16 in)', '63.4°')
    >>> amount("width", 0.762, "in")
    '2 ft 6 in (762 mm)'
    """
    if value is None:
        return ""
    if name == ANGLE:
        return f"{value:.1f}°".replace(".0°", "°")
    if not math.isfinite(value):
        return "no limit"
    return both(value, units)


def requirement_words(slug: str) -> str:
    """Return the name of a rule as words.

    >>> requirement_words("battery-top-clearance")
    'Battery top clearance'
    """
    return slug.replace("-", " ").capitalize()


def part_words(leaf: int | None, tier: int | None) -> str:
    """Return which leaf or tier is meant; both are counted from 1 for people.

    >>> part_words(0, None), part_words(None, 1), part_words(None, None)
    ('leaf 1', 'tier 2', '')
    """
    if leaf is not None:
        return f"leaf {leaf + 1}"
    return "" if tier is None else f"tier {tier + 1}"
