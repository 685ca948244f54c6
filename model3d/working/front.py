"""Small questions about an item that needs a working space."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.scene.parts.site import LIMITED
from model3d.working.sides import WORKED_AT, reached, side_front

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front, Placed


def front_of(item: Placed) -> Front:
    """Return the front of an item that needs a working space."""
    if item.front is None:
        msg = f"{item.id} has no front"
        raise ValueError(msg)
    return item.front


def slide(own: float, width: float) -> tuple[float, float]:
    """Return between where the left side of a space may lie, to cover the item.

    A space narrower than the item stays within the item's width.

    >>> slide(0.5, 0.75), slide(1.0, 0.75)
    ((-0.25, 0.0), (0.0, 0.25))
    """
    first, last = sorted((own - width, 0.0))
    return first, last


def under_rack(item: Placed, scene: Scene) -> float:
    """Return the height below which something is below an item, metres.

    Of a battery rack that is the underside of its lowest shelf.
    """
    front, written = front_of(item), item.item
    if written is None or not written.tiers:
        return front.bottom
    thick = 0.0 if written.shelf_thickness is None else written.shelf_thickness
    shelf = front.bottom + scene.metres(written.tiers[0].shelf) - scene.metres(thick)
    return max(shelf, front.bottom)


def is_high_voltage(item: Placed, situation: Situation) -> bool:
    """Tell whether an item's voltage is beyond the low-voltage table."""
    entry = situation.book.entry("working-space-depth")
    supply = item.item.supply if item.item else None
    direct = supply is not None and supply.direct_current
    return item.volts is not None and item.volts > entry.up_to(direct_current=direct)


def is_limited(situation: Situation) -> bool:
    """Tell whether the place is one of limited access, of which the book says more."""
    entry = situation.book.entry("limited-access")
    return situation.scene.use in LIMITED and entry.given


def is_relieved(situation: Situation) -> bool:
    """Tell whether the space needs be no higher than the item.

    That is so in a place of limited access whose opening is stated; until then the
    ordinary height is asked for, lest a fact that is missing makes a space met.
    """
    stated = situation.scene.stated
    return stated.access_opening is not None and is_limited(situation)


def faces(other: Placed, item: Placed) -> bool:
    """Tell whether a live item's working space opens towards another item.

    A side that people work at as they do in front has such a space as well.
    """
    if not other.live or other.front is None:
        return False
    fronts = [other.front]
    fronts += [
        side_front(other.front, side)
        for side, word in reached(other)
        if word == WORKED_AT
    ]
    return any(_opens_towards(front, front_of(item)) for front in fronts)


def _opens_towards(two: Front, one: Front) -> bool:
    (ax, ay), (bx, by) = one.frame.out, two.frame.out
    if ax * bx + ay * by > -_ACROSS:
        return False
    ends = (one.frame.to_plan(0.0, 0.0), one.frame.to_plan(one.width, 0.0))
    return any(two.frame.to_frame(x, y)[1] > TOUCH for x, y in ends)


_ACROSS: Final = 1e-9
"""Cosine below which two fronts count as at right angles: rounding of a turn."""
