"""The floor in front of an item: whether it is the room's own, or in doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.tolerance import TOUCH
from model3d.mending.provisional.tenths import all_tenths, tenths
from model3d.working.footing import edge_of_floor
from model3d.working.front import front_of

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.standing.placed import Placed
    from model3d.working.needs import Needs

FOOTHOLD: Final = 0.2
"""Metres. Nobody stands on less (common practice)."""


def floor_of(
    there: Placed, situation: Situation, figures: Needs, space: Space
) -> dict[str, Any]:
    """Tell of the floor in front.

    Returns:
        ``at``: its height. ``even``: it drops nowhere in the space. ``zone``: left,
        right and depth, within which platforms, pads and pits matter. ``near``: what
        of it, from the front on, some of them must carry to be the floor.
    """
    front, depth = front_of(there), max(figures.depths)
    left = min(space.first, 0.0)
    right = max(space.last + space.width, front.width)
    tolerance = situation.survey_tolerance
    box = (left, right, depth + tolerance)
    even = edge_of_floor(there, situation, figures.floor, box) is None
    near = min(FOOTHOLD, *figures.depths)
    return {
        "at": tenths(figures.floor),
        "even": int(even),
        "zone": all_tenths((left - TOUCH, right + TOUCH, depth + tolerance + TOUCH)),
        "near": all_tenths((front.width, near)),
    }
