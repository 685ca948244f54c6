"""What hangs so high that no way in or out has to do with it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.ground.ground import ground_of
from model3d.egress.ground.levels import CLIMB
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

_ASKED: Final = {
    "entrance": "height",
    "equipment-doors-open": "height",
    "high-voltage-entrance": "height",
    "large-equipment": "entrance_height",
}
"""By table of the rule book, the figure that says how high a way must be."""


def is_overhead(placed: Placed, situation: Situation) -> bool:
    """Tell whether a thing hangs above all that ways in and out are asked about.

    Nobody walks on it, works at it or opens a door of it.

    Args:
        placed: The thing, where it is or where it would be.
        situation: The room.
    """
    walked = _may_be_walked(placed) or placed.of_room or placed.kind.hole
    if walked or _is_used(placed):
        return False
    # What stands on the floor is no higher than a door: nothing else is looked at then.
    above = placed.bottom > max(_needed(situation)) + TOUCH
    return above and placed.bottom > situation.remembered(_highest) + TOUCH


def _highest(situation: Situation) -> float:
    """Return how high anything is that ways are asked about, metres.

    Whoever walks on the highest of what is walked on may need the highest way from
    there. Gear may be higher, and so are its leaves and the space that is left.
    """
    walked = max((one.top for one in situation.items if _may_be_walked(one)), default=0)
    used = max((one.top for one in situation.items if _is_used(one)), default=0)
    return max(walked + max(_needed(situation)), used, 0.0)


def _needed(situation: Situation) -> list[float]:
    """Return how high the ways are that are asked about, metres."""
    needed = [0.0, *(one.sill + one.height for one in ground_of(situation).exits)]
    for table, name in _ASKED.items():
        entry = situation.book.entry(table)
        if entry.given:
            needed.append(situation.most(entry.figure(name)))
    return needed


def _may_be_walked(placed: Placed) -> bool:
    return placed.kind.walked or placed.top <= CLIMB + TOUCH


def _is_used(placed: Placed) -> bool:
    """Tell whether people work at a thing, or open doors of it."""
    item = placed.item
    return placed.live or (item is not None and bool(item.door or item.doors))
