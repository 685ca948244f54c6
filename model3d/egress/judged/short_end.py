"""The way out from the end of a piece of gear that lacks one: to be drawn."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.egress.judged.dead_end import dead_end
from model3d.egress.large.ends import ENDS
from model3d.egress.route.doorways import widest_of
from model3d.egress.route.path import length_of
from model3d.egress.ways import ways_of
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.egress.ground.floor import Floor
    from model3d.egress.large.span import End
    from model3d.egress.large.wanted import Answer, Wanted
    from model3d.egress.route.path import Path
    from model3d.judging.results import Judgement, Way
    from model3d.judging.situation import Situation

_ALIKE: Final = 1e-4
"""Metres to which two widths are one: nothing is measured finer."""


def shown(
    judged: Judgement, wanted: Wanted, found: Answer, situation: Situation
) -> Judgement:
    """Return a judgement with the way out from the end whose own way is the narrower.

    It is the way that leaves there, too narrow as it is. Where none does it is how
    somebody who stands there gets out at all: along the front, mostly; and where no way
    leads out, how far they get. Of two ends without a way of their own it is the one
    with the longer way out.

    Args:
        judged: What is not met or open.
        wanted: What was asked.
        found: What was answered.
        situation: The room.
    """
    if not found.reason:
        # Nobody says how one gets down from there.
        return judged
    widest = tuple(found.widest.items())
    way, end = situation.remembered(_worse_end, wanted, widest)
    return replace(judged, way=way, dead_end=end)


def _worse_end(
    wanted: Wanted, widest: tuple[tuple[End, float], ...], situation: Situation
) -> tuple[Way | None, Way | None]:
    """Return the way out from there, or where none leads out, how far one gets."""
    least = min((width for _, width in widest), default=0.0)
    ends = [end for end, width in widest if width <= least + _ALIKE] or ENDS
    floor = ways_of(situation).floor(wanted.height)
    found = [(end, _way(wanted, end, least, floor, situation)) for end in ends]
    for end, path in found:
        if path is None or path.drawn is None:
            stand = wanted.span.stands[0 if end == "left" else -1]
            return None, dead_end(stand, situation)
    ways = [path.way for _, path in found if path is not None]
    return max(ways, key=lambda way: length_of(way.points)), None


def _way(
    wanted: Wanted, end: End, own: float, floor: Floor, situation: Situation
) -> Path | None:
    """Return the way out of somebody who stands at one end.

    Args:
        wanted: What is asked.
        end: Where they stand.
        own: How wide the widest way is that leaves there, metres; 0 where none does.
        floor: The floor.
        situation: The room.
    """
    span, wide = wanted.span, wanted.width
    depth = span.depth_at(end)
    left = span.left if end == "left" else max(span.right - wide, span.left)
    right = min(span.left + wide, span.right) if end == "left" else span.right
    here = span.strip(left, right, depth)
    hint = span.frame.to_plan((left + right) / 2, depth / 2)
    area = floor.free(here)
    if own:
        # Whoever passes in front of the gear leaves at the other end.
        reach = situation.reach_ahead(span.frame, span.left, span.right)
        ahead = span.ahead(lambda deep: min(2 * deep, max(reach, deep)))
        # A thread that rounding leaves between the two would bar what lies before it.
        with_edge = here.buffer(TOUCH, join_style="mitre")
        barred = floor.with_obstacles([("the front", ahead.difference(with_edge))])
        path = widest_of(barred, area, hint, wide)
        if path is not None and abs(path.width - min(own, wide)) <= _ALIKE:
            return path
    return widest_of(floor, area, hint, wide)
