"""What is so near to the edge of a zone that a survey cannot tell on which side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import fit
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from model3d.judging.measured.fit import Hit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space


@dataclass(frozen=True, slots=True, order=True)
class AtTheEdge:
    """A body near the edge of a zone.

    Attributes:
        apart: How far it is from the zone, metres; negative where it reaches in.
        name: Id of the body.
        overhead: It is nearest to the upper end, not to a side.
    """

    apart: float
    name: str
    overhead: bool

    def words(self, situation: Situation) -> str:
        """Say how far it is beside the zone, or in it."""
        there = "above" if self.overhead else "beside"
        if abs(self.apart) <= TOUCH:
            return say("{} is right {} the space.", Named(self.name), there)
        far = situation.length(abs(self.apart))
        if self.apart > 0:
            return say("{} is {} {} the space.", Named(self.name), far, there)
        return say("{} reaches {} into the space.", Named(self.name), far)


def at_the_edge(space: Space, situation: Situation) -> tuple[AtTheEdge, ...]:
    """Return what a space would meet that is larger by the survey tolerance.

    The one that reaches in furthest, or is nearest, comes first.
    """
    tolerance = situation.survey_tolerance
    near = fit(space.resized(tolerance), situation)
    return tuple(sorted(_from_the_edge(hit, space, tolerance) for hit in near.all))


def _from_the_edge(hit: Hit, space: Space, tolerance: float) -> AtTheEdge:
    """Measure from the sides of a space, in the frame of the one that is larger."""
    (left, back, low), (right, front, _) = hit.extents
    aside = max(
        tolerance - right,
        left - space.width - tolerance,
        tolerance - front,
        back - space.depth - tolerance,
    )
    above = low - space.top
    return AtTheEdge(max(aside, above), hit.placed.id, above > aside)
