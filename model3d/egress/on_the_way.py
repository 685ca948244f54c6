"""What a person meets on a way: how high it is clear, and what is climbed."""

from __future__ import annotations

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
    from model3d.egress.ground.levels import Gait
    from model3d.judging.results import Way
    from model3d.judging.situation import Situation


def clear_height(
    way: Way, situation: Situation, width: float, height: float, gait: Gait = "step"
) -> float:
    """Return how high a way is clear where a person of a width goes, metres.

    Args:
        way: A way that was found.
        situation: The room.
        width: Metres.
        height: That is clear for certain, metres.
        gait: How somebody goes there.
    """
    if not way.points:
        return height
    floor, ground = ways_of(situation).floor(height, gait=gait), ground_of(situation)
    (exit_,) = (one for one in ground.exits if one.id == way.door)
    walked = ground.walked(height, gait)
    highest = max((one.top for one in walked), default=0.0)
    # What hangs higher than the exit is takes nothing away.
    bottoms, plans, tree = ground.above(height, exit_.height + highest)
    if not plans:
        return float(exit_.height)
    found = [exit_.height]
    # Leg by leg: about a whole way there is very much that is not above it.
    legs, far = flat.legs(_line(way)), min(width, way.narrowest) / 2
    near = np.unique(tree.query(legs, predicate="dwithin", distance=far)[1])
    strip = _strip(way, width)
    flat.prepare(strip)
    near = near[flat.intersects(strip, tree.geometries[near])]
    for number in sorted(near.tolist(), key=lambda one: (bottoms[one], one)):
        if bottoms[number] - highest >= min(found):
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
            found.append(max(bottoms[number] - max(tops, default=0.0), height))
    return float(min(found))


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
