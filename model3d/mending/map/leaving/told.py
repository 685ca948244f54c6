"""What is told of the ways out at a place, and how much may be asked for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.mending.map.probe import key_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from model3d.judging.results import Judgement
    from model3d.mending.map.probe import Key


@dataclass(frozen=True, slots=True)
class Told:
    """What comes of the ways out at one place of an item.

    Attributes:
        broken: Requirement and subject of what is not met there and counts.
        open: The same of what is open there, and is not so without the item.
    """

    broken: frozenset[tuple[str, str]] = frozenset()
    open: frozenset[tuple[str, str]] = frozenset()

    @property
    def met(self) -> bool:
        """Whether nothing is told against the place."""
        return not (self.broken or self.open)

    @property
    def badness(self) -> int:
        """How bad it is: met, open or not met."""
        return 2 if self.broken else int(bool(self.open))

    def with_others(self, others: Told) -> Told:
        """Return what is told of the item and of others at the same place."""
        return Told(self.broken | others.broken, self.open | others.open)


def told_of(
    judgements: Iterable[Judgement], before: Mapping[str, Collection[Key]]
) -> Told:
    """Return what comes of some judgements at a place.

    Args:
        judgements: With the item there.
        before: By verdict, what is told so without it: that does not count.
    """
    broken: set[tuple[str, str]] = set()
    unsure: set[tuple[str, str]] = set()
    for judged in judgements:
        key = key_of(judged)
        if judged.verdict == "met" or key in before[judged.verdict]:
            continue
        (broken if judged.verdict == "not-met" else unsure).add(key[:2])
    return Told(frozenset(broken), frozenset(unsure))


@dataclass
class Purse:
    """How many questions may still be asked: a count, and so always the same."""

    left: int

    @property
    def empty(self) -> bool:
        """Whether no more may be asked."""
        return self.left <= 0
