"""Where the camera of the window goes to see something."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.drawn import Point, View
from viewer.stage.looking.cameras import framed, suited
from viewer.stage.looking.views import held, view_of_place

if TYPE_CHECKING:
    from viewer.stage.parts import Stage

Aim = Callable[[float, Point], View]
"""Returns the camera for a picture's width by height, and the unit vector towards the
eye as it is now."""

_ROUND_ITEM: Final = 0.3
"""Share of the picture kept free on each side of an item."""
_THINGS: Final = frozenset({"solid", "leaf", "surface"})


def at_view(view: View) -> Aim:
    """Aim as the stage says, which is made for a picture of the usual shape."""
    return lambda aspect, _: suited(view, aspect)


def at_room(stage: Stage, side: str | None = None) -> Aim:
    """Aim at the whole place, from a side or where little of what matters is hidden."""
    return lambda aspect, _: view_of_place(stage, aspect, looking_from=side)


def at_all(stage: Stage) -> Aim:
    """Aim at the whole place from the side the camera is on."""
    return lambda aspect, now: framed(held(stage, now), now, aspect=aspect)


def at_item(stage: Stage, item: str) -> Aim | None:
    """Aim at an item from the side the camera is on, if it is there."""
    found = [one for one in stage.shapes if one.item == item and one.role in _THINGS]
    points = [one.vertices for one in found if len(one.vertices)]
    if not points:
        return None
    of = np.concatenate(points)
    return lambda aspect, now: framed(of, now, aspect=aspect, margin=_ROUND_ITEM)
