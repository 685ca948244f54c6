"""How shapes answer to light, and what lies in front of what: for all that draws."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

NEAR: Final = 0.3
"""Share of the distance to the target within which nothing is drawn.

Ground that runs out of the picture towards the viewer would else take all precision of
depth, and hidden edges would show."""
THROUGH: Final = -66_000
"""Depth units that bring a line in front of everything."""
LIFT: Final = -4
"""Depth units a step of lift is worth."""
SHINING: Final = 0.4
"""Opacity of what is in the way where other things hide it; the page has the same."""
LINE_LIFT: Final = -6
"""Depth units that keep an edge in front of the faces it belongs to."""

LAMPS: Final = (((-0.7, 1.6, 1.1), 0.62), ((1.4, 0.2, 1.4), 0.3))
"""Place and strength of lights that move with the camera, so that every view of a room
is lit alike."""
HEADLIGHT: Final = 0.16
"""Strength of the light at the camera."""


@dataclass(frozen=True, slots=True)
class Light:
    """How a surface answers to light: from all around, and from the lamps."""

    ambient: float
    diffuse: float
    lit: bool = True


SOLID: Final = Light(0.62, 0.56)
_FLAT: Final = Light(1.0, 0.0, lit=False)
LIGHT: Final = {
    "surface": Light(0.9, 0.14),
    "intrusion": Light(0.8, 0.3),
    "space": _FLAT,
    "footprint": _FLAT,
    "cut": _FLAT,
}
"""By role; walls answer little, so that they stay light and calm."""
