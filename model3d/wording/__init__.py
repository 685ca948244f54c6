"""Sentences that several rules say, and lengths as all faces print them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.units import METRES, feet_inches, millimetres
from model3d.wording.said import (
    GAP,
    Amount,
    Named,
    Other,
    Said,
    joined,
    lowered,
    parts_of,
    say,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from model3d.units import Rounding

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
NOT_LISTED: Final = "has no listed panic or fire exit hardware"
NO_LISTED_HARDWARE: Final = f"{{}} {NOT_LISTED}."
NOTHING_THERE: Final = "Nothing is in the way."
NOTHING_ELSE: Final = "Nothing else is in the way."
_UP_TO: Final = "up to "
SURVEY: Final = "survey tolerance"
"""How a difference that may be an error of the survey is called."""
CAUTION: Final = (
    "Energised equipment can kill: distances alone do not make work on it safe.",
    "The authority having jurisdiction decides by local code; a licensed person signs.",
)
"""What a reader must know of every result."""
_PARTED: Final = {False: (1.5e-4, 0.1), True: (1.5e-4, 0.01)}
"""Metres. By how much an inch is missed at least, for round bodies are so exact, and
how near the figure beside is at most, of what falls short of it and of what passes it:
two figures of one limit are so near to one another."""
_NOISE: Final = 1e-6
"""Metres. Less is nothing; from there on a length is never written as none."""


def lengths(metres: float, units: str, beside: float | None = None) -> tuple[str, str]:
    """Write a length in the system of ``units``, and in the other one.

    Args:
        metres: The length.
        units: The unit of the scene.
        beside: A length that it is compared with, metres. What differs from it is not
            written as if it were the same: 609 mm beside 24 in are no 2 ft. Nor as a
            whole inch that it misses, for books print those: 1981 mm beside 2.0 m are
            no 6 1/2 ft.

    >>> lengths(0.762, "m"), lengths(0.762, "ft")
    (('762 mm', '2 ft 6 in'), ('2 ft 6 in', '762 mm'))
    >>> lengths(0.00001, "in"), lengths(0.0, "in")
    (('under 1/16 in', 'under 0.1 mm'), ('0 in', '0 mm'))
    >>> lengths(0.609, "mm"), lengths(0.609, "mm", 0.6096), lengths(0.61, "in", 0.6096)
    (('609 mm', '2 ft'), ('609 mm', '1 ft 11 15/16 in'), ('2 ft 1/16 in', '610 mm'))
    >>> lengths(1.981, "mm"), lengths(1.981, "mm", 2.0)
    (('1981 mm', '6 ft 6 in'), ('1981 mm', '6 ft 5 15/16 in'))
    """
    metric, inches = (
        _beside(write, metres, beside) for write in (millimetres, feet_inches)
    )
    if metres > _NOISE:
        # What is short by too little to be written is short all the same.
        metric = "under 0.1 mm" if metric == "0 mm" else metric
        inches = "under 1/16 in" if inches == "0 in" else inches
    return (inches, metric) if units in INCH_POUND else (metric, inches)


def _beside(
    write: Callable[[float, Rounding], str], metres: float, beside: float | None
) -> str:
    nearest = write(metres, round)
    if beside is None or abs(metres - beside) <= _NOISE:
        return nearest
    by_inches = write is feet_inches and _misses_an_inch(metres, beside)
    if nearest != write(beside, round) and not by_inches:
        return nearest
    return write(metres, math.floor if metres < beside else math.ceil)


def _misses_an_inch(metres: float, beside: float) -> bool:
    """Tell whether a length misses an inch that it would be written as.

    It may be the figure of the other system, which is near to the one beside.
    """
    inch = round(metres / METRES["in"]) * METRES["in"]
    least, most = _PARTED[metres > beside]
    missed = (inch - metres) * (1 if metres < beside else -1)
    return abs(metres - beside) < most and least < missed < METRES["in"] / 32


def length(metres: float, units: str, beside: float | None = None) -> Said:
    """Write a length in the system of ``units``, the other one in brackets.

    Args:
        metres: The length.
        units: The unit of the scene.
        beside: A length that it is compared with, as ``lengths`` takes it.

    >>> length(0.762, "m"), length(0.762, "in")
    ('762 mm (2 ft 6 in)', '2 ft 6 in (762 mm)')
    """
    return bracketed(lengths(metres, units, beside))


def bracketed(texts: Iterable[str]) -> Said:
    """Write one size given in two systems, the second in brackets.

    >>> bracketed(("1.0 m", "3 ft 6 in")), bracketed(("36 in", ""))
    ('1.0 m (3 ft 6 in)', '36 in')
    >>> bracketed((up_to("1.8 m", above="LP1"), up_to("6 ft", above="LP1")))
    'up to 1.8 m (6 ft) above LP1'
    """
    own, other = (*texts, "", "")[:2]
    if not other:
        return Said(own if isinstance(own, Said) else Amount(own))
    beside = parts_of(other)
    return Said(
        *(
            Said(Amount(part), " ", Other(f"({beside[at]})"))
            if part != beside[at] or len(beside) == 1
            else part
            for at, part in enumerate(parts_of(own))
        )
    )


def up_to(end: str, above: str = "") -> Said:
    """Write a size of which the book prints where it ends, not how long it is.

    >>> up_to("the ceiling"), up_to("6 ft", above="LP1")
    ('up to the ceiling', 'up to 6 ft above LP1')
    """
    if not above:
        return Said(_UP_TO, end)
    return Said(_UP_TO, Amount(end), " above ", Named(above))


def is_up_to(size: str) -> bool:
    """Tell whether a size is one that says where it ends."""
    return parts_of(size)[0] == _UP_TO


def end_of(size: str) -> str:
    """Return where such a size ends; of any other the size itself.

    >>> end_of(up_to("6 ft", above="LP1")), end_of("3 ft")
    ('6 ft above LP1', '3 ft')
    """
    return Said(*parts_of(size)[1:]) if is_up_to(size) else Amount(size)


def within_survey(tolerance: float, units: str) -> Said:
    """Say that a difference is too small to be sure of.

    >>> within_survey(0.01, "mm")
    'The difference is within the survey tolerance of 10 mm (3/8 in): measure again.'
    """
    told = length(tolerance, units)
    words = "The difference is within the {} of {}: measure again."
    return say(words, SURVEY, told)


def sentences(*parts: str) -> Said:
    """Put sentences together and leave out what is empty."""
    return joined(GAP, filter(None, parts))


def nothing_else(reason: str) -> Said:
    """Say that nothing else is in the way, where a sentence tells what stands there.

    >>> nothing_else(sentences(NOTHING_THERE, "Condition 1: nothing live is opposite."))
    'Nothing else is in the way. Condition 1: nothing live is opposite.'
    """
    parts = parts_of(reason)
    return Said(*(NOTHING_ELSE if one == NOTHING_THERE else one for one in parts))


def headed(title: str, reason: str) -> Said:
    """Put words before a reason, which goes on in lower case unless an id begins it.

    A reason that says where it is already stays as it is.

    >>> headed("Behind it", "The way leads to D1."), headed("Above it", Named("D1"))
    ('Behind it: the way leads to D1.', 'Above it: D1')
    >>> headed("On its left", say("D1 is right at {}.", "its left side"))
    'D1 is right at its left side.'
    """
    parts = parts_of(reason)
    if _SAID.get(title, title) in parts:
        return Said(reason)
    goes_on = parts[0].startswith(_GO_ON) and not isinstance(parts[0], Named)
    return Said(title, ": ", lowered(reason) if goes_on else reason)


_GO_ON: Final = ("No ", "Nothing ", "The ", "With ")
"""How the reasons begin that go on so; a question stays one of its own."""
_SAID: Final = {
    "Behind it": "its back",
    "On its left": "its left side",
    "On its right": "its right side",
    "Ahead of it": "the front",
    "Above it": "above it",
}
"""The part of a reason that says the same as what would be put before it."""


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
