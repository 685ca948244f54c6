"""How much is tried for the remedies of a room: a count, and so always the same."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from model3d.geometry.solid import Mesh

if TYPE_CHECKING:
    from model3d.standing.arrangement import Arrangement

_MOST: Final = 1500
"""So many changes are tried in a small room at most."""
_LEAST: Final = 60
"""So many are tried in any."""
_WORK: Final = 80_000
"""Changes times things in the room: to judge a change takes as long as there is much
that it may touch."""
_TRIANGLES: Final = 10
"""So many triangles of a mesh are as much as one thing."""


@dataclass(slots=True)
class Effort:
    """How many changes may still be tried.

    Attributes:
        total: In all.
    """

    total: int
    _left: int = field(init=False)
    _now: int = field(init=False)

    def __post_init__(self) -> None:
        """Begin with all of it."""
        self._left = self._now = self.total

    def begin(self, parts: int) -> None:
        """Allow an equal share of what is left to the next of some breaches."""
        self._now = self._left // parts

    def take(self) -> bool:
        """Count a change that is tried; False where no more may be."""
        if self._now <= 0:
            return False
        self._now -= 1
        self._left -= 1
        return True

    @property
    def spent(self) -> bool:
        """Whether nothing more may be tried for this breach."""
        return self._now <= 0


def effort_for(arrangement: Arrangement) -> Effort:
    """Return how much is tried in a room, by how much stands in it."""
    solids = [placed.solid for placed in arrangement.items.values()]
    triangles = sum(len(one.faces) for one in solids if isinstance(one, Mesh))
    much = len(solids) + triangles // _TRIANGLES
    return Effort(max(_LEAST, min(_MOST, _WORK // max(much, 1))))
