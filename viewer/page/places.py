"""Where items stand, as people read and type it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.units import from_metres

if TYPE_CHECKING:
    from model3d.standing.placed import Placed

Whereabouts = tuple[float, float, float]
"""East and north of the middle of an item, and the height of its underside."""

DIGITS: Final = {"mm": 1, "m": 4, "in": 3, "ft": 4}
"""Decimals of a place that is shown."""
STEP: Final = {"mm": 10.0, "m": 0.01, "in": 0.5, "ft": 1 / 24}
"""What a dragged item snaps to, in the scene's units: 10 mm, or half an inch."""


def middle(placed: Placed) -> Whereabouts:
    """Return where an item stands, metres."""
    low, high = placed.solid.bounds
    return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]


def shown(place: Whereabouts, unit: str) -> Whereabouts:
    """Return a place in metres in a unit, rounded as it is shown."""
    east, north, up = (round(from_metres(value, unit), DIGITS[unit]) for value in place)
    return east, north, up
