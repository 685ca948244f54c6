"""How wide the widest way is, and where it is narrowest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.exits import WIDEST
from model3d.egress.floor import CONTACT

if TYPE_CHECKING:
    from collections.abc import Callable

    import shapely

    from model3d.egress.exits import Exit
    from model3d.egress.floor import Floor

BODY: Final = 0.2
"""Metres. Nobody comes through less, not even sideways (common practice: a slender
adult's chest is about that deep); less is no way at all."""

_FINE: Final = 1e-4
"""Metres. How closely a width is searched: no drawing is finer than that."""


@dataclass(frozen=True, slots=True)
class Width:
    """A width that lets through, and the next that does not.

    Attributes:
        passes: Metres; 0 where nobody comes through.
        fails: A little more, or infinite where nothing more was looked into.
    """

    passes: float
    fails: float


def widest(floor: Floor, area: shapely.Geometry, way_out: Exit | None = None) -> Width:
    """Search the width of the widest way from an area to an exit, by halving.

    Args:
        floor: The free floor.
        area: Where the way begins.
        way_out: The only exit asked for; any one if None.
    """

    def passes(width: float) -> bool:
        return any(
            way_out is None or way_out in part.exits
            for part in floor.reaching(area, width)
        )

    asked = floor.exits if way_out is None else (way_out,)
    openings = sorted({min(one.width, WIDEST) for one in asked}, reverse=True)
    fails = float("inf")
    for opening in openings:
        if passes(opening - CONTACT):
            if fails == float("inf"):
                return Width(opening, fails)
            return _halved(passes, opening - CONTACT, fails)
        fails = opening
    if not openings or openings[-1] <= BODY or not passes(BODY):
        return Width(0.0, BODY)
    return _halved(passes, BODY, fails)


def _halved(passes: Callable[[float], bool], low: float, high: float) -> Width:
    while high - low > _FINE:
        middle = (low + high) / 2
        if passes(middle):
            low = middle
        else:
            high = middle
    return Width(low, high)
