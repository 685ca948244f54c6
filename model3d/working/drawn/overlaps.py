"""Items that lie in one another, though neither is made to pass through the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.bodies.solid import Box
from model3d.geometry.overlap.depth import depth
from model3d.judging.results import Intrusion
from model3d.wording.said import Named, say
from model3d.working.drawn.bounds import odd_size
from model3d.working.drawn.contradiction import Contradiction, slack
from model3d.working.drawn.passages import may_share
from model3d.working.drawn.runs import crossing, is_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.overlap.shared import Body
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


def overlaps(item: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield every other item that an item lies in, and how deep."""
    tolerance = slack(situation)
    for other in situation.beside(item):
        if other.of_room or other.uncertain or _apart(item, other, tolerance):
            continue
        if may_share(item, other, situation.scene, tolerance):
            continue
        deep = _depth(item, other, situation)
        if deep > tolerance and odd_size(other, situation) is None:
            words = say("lies {} inside {}", situation.length(deep), Named(other.id))
            yield Contradiction(words, "overlap", deep, other)


def _apart(item: Placed, other: Placed, tolerance: float) -> bool:
    """Tell whether a move of no more than the tolerance parts two items' bounds."""
    (a, b, c), (d, e, f) = item.solid.bounds
    (g, h, i), (j, k, m) = other.solid.bounds
    return min(d - g, j - a, e - h, k - b, f - i, m - c) <= tolerance


def _depth(item: Placed, other: Placed, situation: Situation) -> float:
    # In one order, so that both items are told the same to the last digit.
    first, second = sorted((item, other), key=lambda one: one.id)
    if is_run(first) and is_run(second):
        deep = crossing(first, second, situation.scene)
        if deep is not None:
            return deep
    return depth(first.solid, second.solid)


def shared_with(item: Placed, other: Placed, situation: Situation) -> Intrusion | None:
    """Return what two items share, to be drawn; None where neither is a box."""
    body: Body
    for box, in_it in ((item, other), (other, item)):
        solid = box.solid
        if isinstance(solid, Box):
            low, high = (0.0, 0.0, solid.bottom), (solid.width, solid.depth, solid.top)
            body = situation.shared(in_it, solid.frame, low, high)
            return Intrusion(other.id, body)
    return None
