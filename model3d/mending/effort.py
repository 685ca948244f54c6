"""How much is tried for the remedies of a room: a count, and so always the same."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh

if TYPE_CHECKING:
    from model3d.standing.arrangement import Arrangement

WHOLE: Final = 16
"""What a check of the whole room counts: it takes about as long as so many questions to
one rule, measured in rooms without meshes and with large ones."""
_MOST: Final = 3000
"""What is spent on a small room at most, in questions to one rule."""
_LEAST: Final = 4 * WHOLE
"""What is spent on any: something is proved in every room but of a large scan."""
_WORK: Final = 80_000
"""Questions times things in the room: one takes as long as there is much that it may
touch."""
_TRIANGLES: Final = 10
"""So many triangles of a mesh are as much as one thing."""
_MANY: Final = 500_000
"""Triangles in a room from where a search without an end takes very long."""
_SCANNED: Final = 32_000_000
"""Questions times triangles that any room may take: about half a minute."""


_PROOF: Final = WHOLE * 3 // 2
"""What is enough for one breach: a third of it to look, the rest to prove."""
_SHARES: Final = 4
"""For so many breaches something is proved in any room; more share that."""


@dataclass(slots=True)
class Effort:
    """How much may still be tried, in questions to one rule.

    Of what one breach may take two thirds are kept for checks of the whole room: what
    seems to cure it is no remedy before it is proved.

    Attributes:
        total: In all.
        is_short: Something was not tried for the breach that is looked at now.
    """

    total: int
    is_short: bool = field(init=False, default=False)
    _left: int = field(init=False)
    _now: int = field(init=False)
    _kept: int = field(init=False)

    def __post_init__(self) -> None:
        """Begin with all of it, for one breach."""
        self._left = self.total
        self.begin(1)

    def begin(self, parts: int) -> None:
        """Allow an equal share of what is left to the next of some breaches.

        With less than a check of the whole room takes nothing could be proved: rather
        than to ask in vain of each, the first ones are allowed enough for that.
        """
        share = self._left // parts
        self._now = share if share >= WHOLE else min(self._left, _PROOF)
        self._kept = self._now * 2 // 3
        self.is_short = False

    def take(self, count: int = 1) -> bool:
        """Count what is tried; False where so much may not be.

        Args:
            count: ``WHOLE`` for a check of the whole room.
        """
        if self._now - count < (0 if count == WHOLE else self._kept):
            self.is_short = True
            return False
        self._now -= count
        self._left -= count
        return True

    def give_back(self, count: int) -> None:
        """Take back what was counted and not spent."""
        self._now += count
        self._left += count

    @property
    def spent(self) -> int:
        """What was tried."""
        return self.total - self._left

    @property
    def may_ask(self) -> bool:
        """Whether one more question may be asked for this breach."""
        return self._now > self._kept


def effort_beside_scan(arrangement: Arrangement, breaches: int) -> Effort | None:
    """Return how much is tried where somebody waits for all that cures a room.

    None where there is no end to it; in a room with a large scan, in which all would
    take hours, twice as much as else: about a minute.

    Args:
        arrangement: What stands in it.
        breaches: How much of it is not met.
    """
    if not is_beyond_search(arrangement):
        return None
    return Effort(2 * effort_for(arrangement, breaches).total)


def is_beyond_search(arrangement: Arrangement) -> bool:
    """Tell whether a search for remedies takes many times what the check has taken.

    So it is beside a large scan, of which each question asks all anew: who waits for a
    report or a page does not wait for that.
    """
    return _triangles_in(arrangement) > _MANY


def effort_for(arrangement: Arrangement, breaches: int) -> Effort:
    """Return how much is tried in a room.

    Args:
        arrangement: What stands in it: the more there is, the less is tried.
        breaches: How much of it is not met.
    """
    solids = arrangement.items.values()
    triangles = _triangles_in(arrangement)
    much = len(solids) + triangles // _TRIANGLES
    least = _LEAST * min(max(breaches, 1), _SHARES)
    # Of a scan even that would take minutes: each question asks all of it anew.
    least = min(least, max(WHOLE, _SCANNED // max(triangles, 1)))
    return Effort(max(least, min(_MOST, _WORK // max(much, 1))))


def _triangles_in(arrangement: Arrangement) -> int:
    solids = (placed.solid for placed in arrangement.items.values())
    return sum(len(one.faces) for one in solids if isinstance(one, Mesh))
