"""Ways out of large equipment that may be continuous and unobstructed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.large.ends import is_in_sight, spare_apart
from model3d.egress.large.straight import Sight
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.large.span import Span
    from model3d.egress.large.wanted import Wanted

_ASIDE: Final = 1e-9
"""Cosine below which two directions count as at right angles: rounding of a turn."""


@dataclass(frozen=True, slots=True)
class StraightWays:
    """Ways that may be continuous and unobstructed."""

    wanted: Wanted
    floor: Floor
    width: float
    by: float

    def leads_to(self, *, barred: bool) -> Exit | None:
        """Return an exit that such a way leads to, one in sight if there is one.

        One beside the gear, that is left in the direction opposite to the front's,
        counts only in sight or as far from the gear as the depth: else the way leads
        back to the gear.

        Args:
            barred: Whether the way must run outside the working space.
        """
        found = list(self._reached(barred=barred))
        seen = filter(self.is_in_sight, found)
        return next(seen, None) or next(filter(self._leads_on, found), None)

    def leads_anywhere(self) -> bool:
        """Tell whether such a way leads to an exit outside the working space."""
        return any(
            self._leads_on(one) or self.is_in_sight(one)
            for one in self._reached(barred=True)
        )

    def _reached(self, *, barred: bool) -> Iterator[Exit]:
        span, floor = self.wanted.span, self.floor
        if barred:
            floor = floor.with_obstacles([("the working space", span.whole)])
        sight = Sight(span, floor, self.width)
        return filter(sight.reaches, floor.exits)

    def _leads_on(self, way_out: Exit) -> bool:
        span = self.wanted.span
        if not _leads_back(span, way_out):
            return True
        return spare_apart(span, way_out)[0] >= self.by - TOUCH

    def is_in_sight(self, way_out: Exit) -> bool:
        """Tell whether an exit is in sight from all along the front."""
        return is_in_sight(self.wanted.span, self.floor, self.width, way_out)


def _leads_back(span: Span, way_out: Exit) -> bool:
    """Tell whether leaving by an exit is going back towards the plane of the gear."""
    (ax, ay), (bx, by) = way_out.inside, span.frame.out
    return ax * bx + ay * by > _ASIDE
