"""What is in straight reach of a front: along it, and from there on without a bend.

It is found exactly for the middle of a person: all that stands on the floor is cut into
convex pieces and grown by half the way's width. What such a piece hides, seen from a
point or along a direction, is the hull of the piece and its own image far away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ground.floor import CONTACT
from model3d.geometry.intervals import merged
from model3d.geometry.plan import flat
from model3d.geometry.plan.union import joined, less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.large.span import Span

    Pieces = NDArray[np.object_]

_ROUND: Final = 64
"""Sides of a quarter of a round: at 0.3 m they stay within a quarter of the contact."""

_ABOUT: Final = 0.1
"""Metres from the place that is nearest in which a spot is looked for."""

_BROAD: Final = 1e-3
"""Metres. Half the breadth of a look that sees more than a spot."""

_SPOT: Final = 1e-9
"""Square metres. A place that is smaller is rounding."""


@dataclass(frozen=True, eq=False)
class Sight:
    """What is seen from the lane along a front; shapes are in the front's frame.

    Attributes:
        span: The working space. Who comes along just outside it still goes along it.
        floor: The floor. Where the working space is barred, the way runs outside it.
        width: Of the way, metres.
    """

    span: Span
    floor: Floor
    width: float

    @cached_property
    def far(self) -> float:
        """Further than anything is, metres."""
        left, low, right, high = self.floor.region.bounds
        return 2 * math.hypot(right - left, high - low)

    @cached_property
    def region(self) -> flat.Geometry:
        """The room with what is beyond its exits."""
        return self.span.local(self.floor.region)

    @cached_property
    def pieces(self) -> Pieces:
        """What the person's middle keeps off, each piece convex."""
        radius = (self.width - CONTACT) / 2
        found = flat.buffer(self.floor.features[1], radius, quad_segs=_ROUND)
        return np.asarray(self.span.local(found))

    @cached_property
    def lane(self) -> flat.Geometry:
        """Where the person's middle comes by going straight along the front."""
        half, far = self.width / 2, self.far
        aside = min(half, (self.span.right - self.span.left) / 2)
        left, right = self.span.left + aside, self.span.right - aside
        front, region = flat.box(left, 0.0, right, far), self.region
        outside = flat.get_parts(front.difference(region))
        before = _within(front, np.concatenate([self.pieces, outside]))
        shut = merged((low, high) for _, low, _, high in flat.bounds(before))
        lows = [0.0, *(high for _, high in shut)]
        highs = [*(low for low, _ in shut), far]
        found = []
        for low, high in zip(lows, highs, strict=True):
            if low < high and low <= self.span.depth + half:
                ends = (
                    flat.box(right, low, far, high),
                    flat.box(-far, low, left, high),
                )
                found += [
                    flat.box(left, low, right, high),
                    self._seen_along(ends[0], ends[0], (far, 0.0)),
                    self._seen_along(ends[1], ends[1], (-far, 0.0)),
                ]
        return region.intersection(joined(found))

    def reaches(self, way_out: Exit) -> bool:
        """Tell whether a way leads along the front and then without a bend to an exit.

        The person goes along the front from end to end, straight on beyond its ends as
        far as may be, and from somewhere there in one straight line through the exit.
        """
        if self.lane.is_empty:
            return False
        if (opening := way_out.opening) is None:
            # Further along the front, or straight away from it.
            ahead = flat.box(self.span.left, 0.0, self.span.right, self.far)
            away = self._seen_along(self.lane, ahead, (0.0, -self.far))
            goal = self.span.local(way_out.goal)
            return bool(away.area > _SPOT or self.lane.intersects(goal))
        if way_out.width < self.width - CONTACT:
            return False
        # Through the opening at a right angle, anywhere; or from askew to its middle
        # or to one of its ends.
        outside, before, inside = (
            self._spots(way_out, opening, by)
            for by in (-self.width, self.width / 2, self.far)
        )
        strip = flat.MultiPoint([*outside, *inside]).convex_hull
        shift = (inside[0].x - before[0].x, inside[0].y - before[0].y)
        ahead = self._seen_along(self.lane.intersection(strip), strip, shift)
        return ahead.area > _SPOT or any(
            self._is_seen(at, beyond)
            for at, beyond in zip(before, outside, strict=True)
        )

    def _spots(
        self, way_out: Exit, opening: flat.LineString, by: float
    ) -> list[flat.Point]:
        """Return where one stands some way inside of an exit: at ends and middle."""
        share = min(self.width / 2 / opening.length, 0.5)
        x, y = way_out.inside
        spots = (
            opening.interpolate(at, normalized=True) for at in (share, 0.5, 1 - share)
        )
        moved = (flat.translate(spot, x * by, y * by) for spot in spots)
        return [self.span.local(spot) for spot in moved]

    def _is_seen(self, at: flat.Point, beyond: flat.Point) -> bool:
        """Tell whether the lane is seen from before an exit, and the exit is clear."""
        if flat.intersects(self.pieces, flat.LineString([at, beyond])).any():
            return False
        if self._nearest_is_seen(at):
            return True
        view = flat.convex_hull(flat.GeometryCollection([self.lane, at]))
        near = self.pieces[flat.intersects(self.pieces, view)]
        away = np.maximum(flat.distance(near, at), TOUCH)
        images = _scaled(near, 1 + self.far / away, at)
        return bool(less(self.lane, _hidden(near, images)).area > _SPOT)

    def _nearest_is_seen(self, at: flat.Point) -> bool:
        """Tell whether a spot of the lane is seen that is about the nearest one.

        That is quick, and mostly so where any of the lane is seen.
        """
        x, y = flat.get_coordinates(flat.shortest_line(at, self.lane))[1]
        about = flat.box(x - _ABOUT, y - _ABOUT, x + _ABOUT, y + _ABOUT)
        spot = flat.point_on_surface(self.lane.intersection(about))
        if not self.lane.contains(spot.buffer(_BROAD)):
            return False
        # All that is so near to the spot is seen too, which is more than a spot.
        look = flat.LineString([at, spot])
        return not flat.dwithin(self.pieces, look, 2 * _BROAD).any()

    def _seen_along(
        self, area: flat.Geometry, view: flat.Geometry, shift: tuple[float, float]
    ) -> flat.Geometry:
        """Return what of an area is seen by looking along a direction.

        Args:
            area: In question.
            view: What is in the way outside of this does not hide it.
            shift: Along the direction, further than anything is.
        """
        near = _within(view, self.pieces)
        images = flat.transform(near, lambda corners: corners + shift)
        return less(area, _hidden(near, images))


def _within(view: flat.Geometry, pieces: Pieces) -> Pieces:
    """Return what of some pieces is within a view."""
    parts = flat.intersection(pieces, view)
    found: Pieces = parts[flat.area(parts) > 0]
    return found


def _scaled(
    pieces: Pieces, by: NDArray[np.float64], about: flat.Point
) -> NDArray[np.object_]:
    """Return pieces, each made larger about a point by a factor of its own."""
    _, owner = flat.get_coordinates(pieces, return_index=True)
    middle, factors = np.array([about.x, about.y]), by[owner, None]
    return np.asarray(
        flat.transform(pieces, lambda at: middle + (at - middle) * factors)
    )


def _hidden(pieces: Pieces, images: Pieces) -> list[flat.Geometry]:
    """Return what convex pieces hide, by their images far away."""
    if not len(pieces):
        return []
    pairs = flat.geometrycollections(np.stack([pieces, images], axis=1))
    hulls: list[flat.Geometry] = flat.convex_hull(pairs).tolist()
    return hulls
