"""The working space of a piece of gear from end to end, also where it has sections."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.plan.union import joined

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d.egress.ground.stand import Stand
    from model3d.geometry.frame import Frame
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

End: TypeAlias = Literal["left", "right"]


@dataclass(frozen=True, eq=False)
class Span:
    """The working spaces of a piece of gear, side by side.

    Attributes:
        stands: Of its sections, from left to right.
        frame: Of the leftmost front.
        edges: Where each section's share begins, and where the last one ends, metres in
            the frame.
    """

    stands: tuple[Stand, ...]
    frame: Frame
    edges: tuple[float, ...]

    @property
    def left(self) -> float:
        """Where it begins in the frame, metres."""
        return self.edges[0]

    @property
    def right(self) -> float:
        """Where it ends in the frame, metres."""
        return self.edges[-1]

    @cached_property
    def depth(self) -> float:
        """The greatest depth of any section, metres."""
        return max(stand.space.depth for stand in self.stands)

    def depth_at(self, end: End) -> float:
        """Return the depth of the section at one end, metres."""
        return self.stands[0 if end == "left" else -1].space.depth

    @cached_property
    def plan(self) -> flat.Geometry:
        """The working spaces in plan."""
        return self.ahead(lambda depth: depth)

    @cached_property
    def whole(self) -> flat.Polygon:
        """All of it in plan, everywhere as deep as the deepest section's."""
        return self.strip(self.left, self.right, self.depth)

    def ahead(self, far: Callable[[float], float]) -> flat.Geometry:
        """Return what lies ahead, in plan, as far as follows from each depth."""
        shares = zip(self.stands, self.edges, self.edges[1:], strict=False)
        return joined(
            self.strip(left, right, far(stand.space.depth))
            for stand, left, right in shares
        )

    def strip(self, left: float, right: float, far: float) -> flat.Polygon:
        """Return what lies ahead of the front between two sides, in plan."""
        corners = ((left, 0.0), (right, 0.0), (right, far), (left, far))
        return flat.Polygon([self.frame.to_plan(u, v) for u, v in corners])

    def local(self, plan: flat.Geometry) -> flat.Geometry:
        """Return a shape of the plan in the frame: right and out."""
        frame = self.frame
        axes = np.array([frame.right, frame.out]).T
        return flat.transform(plan, lambda at: (at - (frame.x, frame.y)) @ axes)


def span_of(sections: tuple[Placed, ...], situation: Situation) -> Span:
    """Return the working space of a piece of gear.

    It begins and ends where the gear does; that of a single item also where its own
    space reaches further. A section that nobody works at lends its width to the one on
    its left.

    Args:
        sections: What the gear is made of, from left to right; one at least is live.
        situation: The room.
    """
    return situation.remembered(_span_of, sections)


def _span_of(sections: tuple[Placed, ...], situation: Situation) -> Span:
    stands = tuple(ways_of(situation).stand(one) for one in sections if one.live)
    frame = stands[0].frame
    fronts = [stand.item.front for stand in stands]
    ends = [
        (left, left + front.width)
        for front in fronts
        if front is not None
        for left, _ in [frame.to_frame(front.frame.x, front.frame.y)]
    ]
    if len(stands) == 1:
        place, width = stands[0].place, stands[0].space.width
        ends = [(min(0.0, place), max(ends[0][1], place + width))]
    return Span(stands, frame, (*(left for left, _ in ends), ends[-1][1]))
