"""Where a person stands who works at an item."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.ground.many import free_each
from model3d.geometry.plan import flat
from model3d.geometry.plan.union import joined_each
from model3d.working.tested import tested

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.egress.ground.floor import Floor
    from model3d.geometry.frame import Corner, Frame
    from model3d.judging.measured.fit import Fit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.standing.placed import Placed
    from model3d.working import Needs


@dataclass(frozen=True, eq=False, slots=True)
class Stand:
    """The working space of one item in plan, where it was tested.

    Attributes:
        item: The item.
        space: The space that was tested, with the depth of its own condition.
        found: How it fits.
        figures: What the rule book prints for it.
    """

    item: Placed
    space: Space
    found: Fit
    figures: Needs

    @property
    def place(self) -> float:
        """Where its left side is in the item's frame, metres."""
        return self.found.place

    @property
    def frame(self) -> Frame:
        """The item's frame: its origin is the left end of the front."""
        return self.space.frame

    @property
    def front_width(self) -> float:
        """How wide the item's front is, metres."""
        return self.item.front.width if self.item.front else self.space.width

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the working space in plan."""
        across = self.place + self.space.width / 2
        return self.frame.to_plan(across, self.space.depth / 2)

    @property
    def plan(self) -> flat.Polygon:
        """The working space in plan."""
        return self._ahead(self.space.depth)

    @property
    def ahead(self) -> flat.Polygon:
        """Where a person may stand in front, in plan.

        Where the depth begins behind the front, at live parts, a person needs as much
        floor as ever.
        """
        return self._ahead(self.space.depth + self.figures.behind)

    def _ahead(self, far: float) -> flat.Polygon:
        return self.strip(self.place, self.place + self.space.width, far)

    @property
    def before(self) -> flat.Polygon:
        """What of ``ahead`` lies before the front itself, in plan."""
        return self.strip(0.0, self.front_width, self.space.depth + self.figures.behind)

    @property
    def edge(self) -> tuple[Corner, Corner]:
        """Both ends of the working space at the front, in plan."""
        width = self.place + self.space.width
        return self.frame.to_plan(self.place, 0.0), self.frame.to_plan(width, 0.0)

    def strip(self, left: float, right: float, far: float) -> flat.Polygon:
        """Return what lies ahead of the front between two sides, in plan."""
        corners = ((left, 0.0), (right, 0.0), (right, far), (left, far))
        return flat.Polygon([self.frame.to_plan(u, v) for u, v in corners])

    def standing(self, floor: Floor) -> flat.Geometry:
        """Return the free floor in front of the item, within its working space."""
        return standing_each([self], floor)[0]


_NEAR = 1e-3
"""Metres. Parts that begin equally far from the front, up to rounding."""


def standing_each(stands: Sequence[Stand], floor: Floor) -> list[flat.Geometry]:
    """Return the free floor in front of each of some items, within its working space.

    What is cut off from the front, by a wall say, is another place.
    """
    ahead = np.array([one.ahead for one in stands], dtype=object)
    parts, of = flat.get_parts(free_each(floor, ahead), return_index=True)
    parts, of = parts[flat.area(parts) > 0], of[flat.area(parts) > 0]
    found: list[flat.Geometry] = [flat.Polygon()] * len(stands)
    if not len(parts):
        return found
    away = flat.distance(parts, flat.linestrings([one.edge for one in stands])[of])
    least = np.full(len(stands), np.inf)
    np.minimum.at(least, of, away)
    kept = away <= least[of] + _NEAR
    free, group = np.unique(of[kept], return_inverse=True)
    for number, one in zip(free.tolist(), joined_each(parts[kept], group), strict=True):
        found[number] = one
    return found


def stand_at(item: Placed, situation: Situation) -> Stand:
    """Return where a person stands who works at an item."""
    it = tested(item, situation)
    return Stand(item, replace(it.space, depth=it.depth), it.found, it.figures)
