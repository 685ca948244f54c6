"""What a person meets on a way: how high it is clear, and what is climbed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.ground.levels import risers
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.levels import Gait
    from model3d.geometry.frame import Corner, Triple
    from model3d.judging.results import Way
    from model3d.judging.situation import Situation


@dataclass(frozen=True, slots=True)
class LowPlace:
    """Where a way is lowest.

    Attributes:
        height: How high it is clear there, metres.
        at: A spot on what one goes on there; None where no points of the way are known.
    """

    height: float
    at: Triple | None


def lowest_place(
    way: Way, situation: Situation, width: float, height: float, gait: Gait = "step"
) -> LowPlace:
    """Return where a way is lowest where a person of a width goes, and how high.

    Args:
        way: A way that was found.
        situation: The room.
        width: Metres.
        height: That is clear for certain, metres.
        gait: How somebody goes there.
    """
    if not way.points:
        return LowPlace(height, None)
    floor, ground = ways_of(situation).floor(height, gait=gait), ground_of(situation)
    (exit_,) = (one for one in ground.exits if one.id == way.door)
    walked = ground.walked(height, gait)
    highest = max((one.top for one in walked), default=0.0)
    # What hangs higher than the exit is takes nothing away.
    bottoms, plans, tree = ground.above(height, exit_.height + highest)
    low, at = float(exit_.height), (*_opening(exit_, way), 0.0)
    if not plans:
        return LowPlace(low, at)
    line = _line(way)
    # Leg by leg: about a whole way there is very much that is not above it.
    legs, far = flat.legs(line), min(width, way.narrowest) / 2
    near = np.unique(tree.query(legs, predicate="dwithin", distance=far)[1])
    strip = _strip(way, width)
    flat.prepare(strip)
    near = near[flat.intersects(strip, tree.geometries[near])]
    for number in sorted(near.tolist(), key=lambda one: (bottoms[one], one)):
        if bottoms[number] - highest >= low:
            break
        under = flat.intersection(plans[number], strip)
        if under.area <= TOUCH**2:
            continue
        # A way may be drawn nearer to what it passes than the person is wide.
        below = floor.free(under).buffer(-TOUCH)
        if below.area > TOUCH**2:
            tops = [
                one.top
                for one in walked
                if one.plan.intersection(below).area > TOUCH**2
            ]
            level = max(tops, default=0.0)
            here = float(max(bottoms[number] - level, height))
            if here < low:
                # On the line that is drawn, where what hangs over it leaves that be.
                over = below.intersection(line)
                spot = flat.point_on_surface(below if over.is_empty else over)
                low, at = here, (float(spot.x), float(spot.y), float(level))
    return LowPlace(low, at)


def _opening(exit_: Exit, way: Way) -> Corner:
    """Return the middle of an exit's opening; where it has none, the way's end."""
    if exit_.opening is None:
        return way.points[-1]
    middle = exit_.opening.interpolate(0.5, normalized=True)
    return float(middle.x), float(middle.y)


def climbed(
    way: Way, situation: Situation, width: float, height: float, gait: Gait
) -> dict[str, float]:
    """Return what a way goes up or down by more than a step, by id.

    Each with the height of its riser, metres; a pit with its depth.
    """
    if not way.points:
        return {}
    ground = ground_of(situation)
    walked = ground.walked(height, gait)
    line = _line(way)
    strip = _strip(way, width)
    found = {
        name: riser
        for name, riser in risers(line, walked, ground.outside).items()
        if riser > ground.step + TOUCH
    }
    for placed in situation.items:
        if placed.id in ground.pits:
            hole = footprint(placed.solid, placed.bottom, placed.top)
            bare = less(hole, [one.plan for one in walked])
            if bare.intersection(strip).area > TOUCH**2:
                found[placed.id] = placed.top - placed.bottom
    return found


def _strip(way: Way, width: float) -> flat.Geometry:
    """Return where a person of a width goes, who takes no more room than there is."""
    return _line(way).buffer(min(width, way.narrowest) / 2 - CONTACT)


def _line(way: Way) -> flat.LineString:
    return flat.linestrings(np.array([*way.points, way.points[-1]]))
