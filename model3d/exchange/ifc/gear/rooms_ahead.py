"""Whether a person stands in a room of the model who works at a side of some gear."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan.lines.ring import holds, ring_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.exchange.ifc.element import Element
    from model3d.exchange.ifc.gear.likely_front import FrontedBox
    from model3d.geometry.frame import Corner

_HEAD: Final = 2.0
"""Metres of a space from its floor that its outline is taken of."""
_STEP: Final = 0.05
"""Metres by which gear may end below the floor of a space, and be of it."""


def floor_outline(space: Element) -> tuple[Corner, ...]:
    """Return the outline of a space near its floor; empty where it has none."""
    low, high = space.points[:, 2].min(), space.points[:, 2].max()
    return ring_of(Mesh(space.points, space.faces), low, min(high, low + _HEAD))


class ModelledRoom:
    """A space of a model, as the place where a person stands."""

    def __init__(self, space: Element) -> None:
        """Take a space that has a shape."""
        self._space = space
        self._low, self._high = space.points.min(axis=0), space.points.max(axis=0)

    @cached_property
    def _outline(self) -> tuple[Corner, ...]:
        return floor_outline(self._space)

    def serves(self, stand: FrontedBox) -> bool:
        """Tell whether whoever works at that front stands in the room."""
        x, y = stand.ahead
        if not (
            self._low[0] <= x <= self._high[0] and self._low[1] <= y <= self._high[1]
        ):
            return False
        top = stand.bottom + stand.size[2]
        level = self._low[2] - _STEP <= top and stand.bottom <= self._high[2]
        return bool(level and holds(self._outline, (x, y)))


def rooms_of(spaces: Iterable[Element]) -> tuple[ModelledRoom, ...]:
    """Return the spaces of a model that have a shape."""
    return tuple(ModelledRoom(one) for one in spaces if one.meshed)
