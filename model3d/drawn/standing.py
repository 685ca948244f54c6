"""Gear that stands on the floor, and what may carry it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.drawn.contradiction import Contradiction, slack
from model3d.drawn.runs import is_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Triple
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

_ON_FLOORS: Final = {
    *("switchboard", "switchgear", "motor-control-center", "battery-rack"),
    "generator",
}
"""Kinds that are made to stand: common practice."""
_HEAVY: Final = {"transformer", "ups", "battery-cabinet", "energy-storage-unit"}
"""Kinds of which small ones hang on walls or from ceilings."""
_HANGS: Final = 1.5
"""Cubic metres. A dry transformer of 75 kVA, which does hang, has half a cubic metre;
one of 300 kVA, which stands, has two."""
_CARRIES_NOTHING: Final = {"luminaire", "sprinkler", "meter", "leak-guard"}


def hanging(item: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield how far gear that stands on the floor hangs in the air."""
    tolerance = slack(situation)
    if not _stands(item) or item.bottom <= tolerance:
        return
    (a, b, c), (d, e, f) = item.solid.bounds
    low: Triple = (a - tolerance, b - tolerance, c - tolerance)
    high: Triple = (d + tolerance, e + tolerance, f + tolerance)
    near = (situation.items[place] for place in situation.index.touching(low, high))
    if any(_carries(other, item, tolerance) for other in near if other is not item):
        return
    above = situation.length(item.bottom)
    words = f"hangs {above} above the floor, with nothing drawn that carries it"
    yield Contradiction(words, "gap", item.bottom)


def _stands(item: Placed) -> bool:
    name, front = item.kind.name, item.front
    if name in _ON_FLOORS or front is None:
        return name in _ON_FLOORS
    size = front.width * front.depth * (front.top - front.bottom)
    return name in _HEAVY and size > _HANGS


def _carries(other: Placed, item: Placed, tolerance: float) -> bool:
    kind = other.kind
    if other.of_room or kind.hole or is_run(other) or kind.name in _CARRIES_NOTHING:
        return False
    (a, b, low), (c, d, high) = other.solid.bounds
    (e, f, bottom), (g, h, _) = item.solid.bounds
    if kind.name == "support":
        # A frame carries from beside and from above as well.
        return True
    is_below = min(c, g) - max(a, e) > tolerance and min(d, h) - max(b, f) > tolerance
    return is_below and low < bottom and high >= bottom - tolerance
