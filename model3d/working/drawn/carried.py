"""Gear that stands on the floor, and what may carry it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.extents import reaching
from model3d.wording.said import say
from model3d.working.drawn.contradiction import Contradiction, slack
from model3d.working.drawn.runs import is_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Triple
    from model3d.judging.situation import Situation
    from model3d.scene.kinds import Kind
    from model3d.standing.placed import Front, Placed

_HANGS: Final = 1.5
"""Cubic metres. A dry transformer of 75 kVA, which does hang, has half a cubic metre;
one of 300 kVA, which stands, has two."""


def hanging(item: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield how far gear that stands on the floor hangs in the air."""
    tolerance, front = slack(situation), item.front
    if front is None or not _stands(item.kind, front) or item.bottom <= tolerance:
        return
    (a, b, c), (d, e, f) = item.solid.bounds
    low: Triple = (a - tolerance, b - tolerance, c - tolerance)
    high: Triple = (d + tolerance, e + tolerance, f + tolerance)
    near = (situation.items[place] for place in situation.index.touching(low, high))
    if any(_carries(other, front, tolerance) for other in near if other is not item):
        return
    above = situation.length(item.bottom)
    words = say("hangs {} above the floor, with nothing drawn that carries it", above)
    yield Contradiction(words, "gap", item.bottom)


def _stands(kind: Kind, front: Front) -> bool:
    size = front.width * front.depth * (front.top - front.bottom)
    return kind.stands or (kind.stands_large and size > _HANGS)


def _carries(other: Placed, front: Front, tolerance: float) -> bool:
    """Tell whether an item is below the gear behind a front, or a frame around it."""
    kind = other.kind
    if other.of_room or kind.hole or is_run(other) or kind.carries_nothing:
        return False
    inside, high = tolerance, front.bottom + tolerance
    if kind.frame:
        # A frame carries from beside and from above as well.
        inside, high = -tolerance, front.top + tolerance
    low = (inside, inside - front.depth, front.bottom - 2 * tolerance)
    far = (front.width - inside, -inside, high)
    return reaching(other.solid.seen_from(front.frame), low, far) is not None
