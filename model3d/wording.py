"""Sentences that several rules say, and lengths as all faces print them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.units import feet_inches, millimetres

if TYPE_CHECKING:
    from collections.abc import Iterable

INCH_POUND: Final = frozenset({"in", "ft"})
"""The units of scenes whose lengths are written in feet and inches."""
LEAF_TAKEN: Final = (
    "Nothing is said about doors: one leaf over the whole front was tested."
)
ASK_DOORS: Final = "Say where the personnel doors are (room.doors)."
ASK_LEAVES: Final = "Say how {} opens (door or doors)."
ASK_OPENS: Final = "Say whether {} opens in or out (opens)."
ASK_HINGE: Final = "Say where {} is hinged (hinge)."
ASK_HARDWARE: Final = "Say what hardware {} has (hardware)."
NO_LISTED_HARDWARE: Final = "{} has no listed panic or fire exit hardware."
NOTHING_THERE: Final = "Nothing is in the way."
UP_TO: Final = "up to "
"""How a required size begins of which the book prints where it ends, not how long."""
ABOVE: Final = " above "
"""What stands in such a size between a length and the item that it is measured from."""
SURVEY: Final = "survey tolerance"
"""How a difference that may be an error of the survey is called."""
CAUTION: Final = (
    "Energised equipment can kill: distances alone do not make work on it safe.",
    "The authority having jurisdiction decides by local code; a licensed person signs.",
)
"""What a reader must know of every result."""
_NOISE: Final = 1e-6
"""Metres. Less is nothing; from there on a length is never written as none."""


def lengths(metres: float, units: str) -> tuple[str, str]:
    """Write a length in the system of ``units``, and in the other one.

    >>> lengths(0.762, "m"), lengths(0.762, "ft")
    (('762 mm', '2 ft 6 in'), ('2 ft 6 in', '762 mm'))
    >>> lengths(0.00001, "in"), lengths(0.0, "in")
    (('under 1/16 in', 'under 0.1 mm'), ('0 in', '0 mm'))
    """
    metric, inches = millimetres(metres), feet_inches(metres)
    if metres > _NOISE:
        # What is short by too little to be written is short all the same.
        metric = "under 0.1 mm" if metric == "0 mm" else metric
        inches = "under 1/16 in" if inches == "0 in" else inches
    return (inches, metric) if units in INCH_POUND else (metric, inches)


def length(metres: float, units: str) -> str:
    """Write a length in the system of ``units``, the other one in brackets.

    >>> length(0.762, "m"), length(0.762, "in")
    ('762 mm (2 ft 6 in)', '2 ft 6 in (762 mm)')
    """
    return bracketed(lengths(metres, units))


def bracketed(texts: Iterable[str]) -> str:
    """Write one size given in two systems, the second in brackets.

    >>> bracketed(("1.0 m", "3 ft 6 in")), bracketed(("36 in", ""))
    ('1.0 m (3 ft 6 in)', '36 in')
    >>> bracketed(("up to 1.8 m above LP1", "up to 6 ft above LP1"))
    'up to 1.8 m (6 ft) above LP1'
    """
    first, *others = texts
    other = others[0] if others else ""
    if not other:
        return first
    if not first.startswith(UP_TO):
        return f"{first} ({other})"
    own, above, what = first.partition(ABOVE)
    return f"{own} ({other.partition(ABOVE)[0].removeprefix(UP_TO)}){above}{what}"


def within_survey(tolerance: float, units: str) -> str:
    """Say that a difference is too small to be sure of.

    >>> within_survey(0.01, "mm")
    'The difference is within the survey tolerance of 10 mm (3/8 in): measure again.'
    """
    told = length(tolerance, units)
    return f"The difference is within the {SURVEY} of {told}: measure again."


def sentences(*parts: str) -> str:
    """Put sentences together and leave out what is empty."""
    return " ".join(part for part in parts if part)


def nothing_else(reason: str) -> str:
    """Say that nothing else is in the way, where a sentence tells what stands there.

    >>> nothing_else("Nothing is in the way. Condition 1: nothing live is opposite.")
    'Nothing else is in the way. Condition 1: nothing live is opposite.'
    """
    return reason.replace(NOTHING_THERE, NOTHING_THERE.replace(" is", " else is"), 1)


def headed(title: str, reason: str) -> str:
    """Put words before a reason, which goes on in lower case unless an id begins it.

    A reason that says where it is already stays as it is.

    >>> headed("Behind it", "The way leads to D1."), headed("Above it", "D1 is near.")
    ('Behind it: the way leads to D1.', 'Above it: D1 is near.')
    >>> headed("On its left", "D1 is right at its left side.")
    'D1 is right at its left side.'
    """
    if _SAID.get(title, title) in reason:
        return reason
    first, space, rest = reason.partition(" ")
    low = first.lower() if first in _BEGINNINGS else first
    return f"{title}: {low}{space}{rest}"


_BEGINNINGS: Final = frozenset({"No", "Nothing", "The", "With"})
"""Words of the reasons' own that begin one."""
_SAID: Final = {
    "Behind it": "its back",
    "On its left": "its left side",
    "On its right": "its right side",
    "Ahead of it": "the front",
    "Above it": "above it",
}
"""Words of a reason that say the same as what would be put before it."""


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
