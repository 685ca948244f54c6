"""The smallest changes of some families that cure a breach, each proved in turn."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from model3d.mending.proof.remedy import Remedy

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.lesson import Change


@dataclass(frozen=True, slots=True)
class Family:
    """Changes of one kind that differ in an amount alone.

    Attributes:
        do: The changes for an amount in metres; None where there is no such change.
        clause: What is done, in words, for an amount.
        least: The amount that is tried first, metres.
        most: No greater amount is tried.
        moves: The amount is the length of a move.
        fixed: The amount is not rounded: it is a place that was worked out.
    """

    do: Callable[[float], tuple[Change, ...] | None]
    clause: Callable[[float], str]
    least: float
    most: float
    moves: bool = True
    fixed: bool = False


MORE: Final = (1, 3, 9)
"""Steps by which an amount is raised that cures the breach and breaks something else.
"""
_MOST_PROOFS: Final = 16
"""So many whole checks are made for one breach."""
_SLIP: Final = 1e-6
"""Of a step: rounding."""
_SAME: Final = 1e-6
"""Metres. Remedies whose sizes differ by less are of one size."""


@dataclass(frozen=True, slots=True)
class Enough:
    """How many remedies are looked for.

    Attributes:
        smallest: So many of the smallest are enough, whatever else there is of a size.
        most: Of all; those of one size come in no order of their own.
    """

    smallest: int
    most: int

    def is_found(self, found: Collection[Remedy], least: float) -> bool:
        """Tell whether nothing is asked for of a size and more.

        Args:
            found: What was found so far.
            least: The size, metres.
        """
        if len(found) < min(self.smallest, self.most):
            return False
        sizes = sorted(one.size for one in found)
        return len(found) >= self.most or least > sizes[self.smallest - 1] + _SAME


def offered(
    families: Iterable[Family], judged: Judgement, bench: Bench, enough: Enough
) -> list[Remedy]:
    """Return the smallest proved remedies of some families, the smallest first.

    A family waits with the least that it may come to, and its amount is looked for when
    nothing smaller is left.

    Args:
        families: Changes that may cure the breach.
        judged: The breach.
        bench: The scene.
        enough: How many are looked for.
    """
    waiting = [
        _Candidate(family.least if family.moves else 0.0, number, family)
        for number, family in enumerate(families)
    ]
    heapq.heapify(waiting)
    found: dict[str, Remedy] = {}
    proofs = 0
    while waiting and proofs < _MOST_PROOFS:
        if enough.is_found(found.values(), waiting[0].size):
            break
        one = heapq.heappop(waiting)
        if one.amount is None:
            amount = first_amount(one.family, judged, bench)
            if amount is not None:
                heapq.heappush(waiting, one.of(amount))
            continue
        do, clause = one.family.do(one.amount), one.family.clause(one.amount)
        if do is None or clause in found:
            continue
        proofs += 1
        if bench.proves(judged, do):
            least = _least_proved(one, one.amount, judged, bench)
            if least < one.amount:
                do, clause = one.family.do(least) or do, one.family.clause(least)
            size = least if one.family.moves else 0.0
            found[clause] = Remedy(do, size, clause)
        elif one.tries < len(MORE) and not one.family.fixed:
            more = one.amount + MORE[one.tries] * bench.step
            if more <= one.family.most:
                heapq.heappush(waiting, one.of(more, one.tries + 1))
    return list(found.values())


def _least_proved(
    one: _Candidate, amount: float, judged: Judgement, bench: Bench
) -> float:
    """Return the least amount that is proved between one and that before it was raised.

    By halving: what was raised by several steps may have gone too far.
    """
    bad, good = 0, MORE[one.tries - 1] if one.tries else 0
    start = amount - good * bench.step
    while good - bad > 1:
        middle = (bad + good) // 2
        do = one.family.do(start + middle * bench.step)
        if do is not None and bench.proves(judged, do):
            good = middle
        else:
            bad = middle
    return start + good * bench.step if good else amount


@dataclass(frozen=True, slots=True, order=True)
class _Candidate:
    """A family that waits for its turn.

    Attributes:
        size: What it comes to at the least, metres; what moves nothing goes first.
        number: Of the family.
        family: The family itself.
        amount: What is to be proved; None: not looked for yet.
        tries: How often it was raised.
    """

    size: float
    number: int
    family: Family = field(compare=False)
    amount: float | None = field(default=None, compare=False)
    tries: int = field(default=0, compare=False)

    def of(self, amount: float, tries: int = 0) -> _Candidate:
        """Return it with an amount to be proved."""
        size = round(amount, 6) if self.family.moves else 0.0
        return replace(self, size=size, amount=amount, tries=tries)


def first_amount(family: Family, judged: Judgement, bench: Bench) -> float | None:
    """Return the smallest amount of a family by which the rule itself is met.

    By doubling and halving, as for what only gets better with more; then downwards as
    long as less does it too. None: no amount does it.
    """
    if family.fixed:
        # Where no question is left, what was worked out is proved without one.
        seems = not bench.may_ask or _seems(family, family.least, judged, bench)
        return family.least if seems else None
    step = bench.step
    count, last = max(_up(family.least / step), 1), int(family.most / step + _SLIP)
    if count > last:
        return None

    def cures(number: int) -> bool:
        return _seems(family, number * step, judged, bench)

    low, high = count - 1, count
    while not cures(high):
        if high >= last:
            return None
        low, high = high, min(2 * high - count + 1, last)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if cures(middle) else (middle, high)
    while high > 1 and high <= count and cures(high - 1):
        high -= 1
    return high * step


def _up(count: float) -> int:
    whole = int(count)
    return whole if count - whole <= _SLIP else whole + 1


def _seems(family: Family, amount: float, judged: Judgement, bench: Bench) -> bool:
    do = family.do(amount)
    return do is not None and bench.seems_cured(judged, do)
