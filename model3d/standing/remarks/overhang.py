"""What of a drawn mesh or scan sticks out of the box that is judged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed

_SIDES: Final = ("left", "right", "back", "front", "bottom", "top")


def overhang(placed: Placed) -> dict[str, float]:
    """Return how far an item's mesh or scan stands out of its box, metres, by side.

    Sides are as a person in front sees them; those that it stays behind are left out.
    """
    # Of a scan few points are drawn, and of a large mesh some of it: all are asked.
    front, drawn = placed.front, placed.surveyed or placed.looks
    if front is None or drawn is None:
        return {}
    points = front.frame.local(drawn.mesh[0])
    (x0, y0, z0), (x1, y1, z1) = points.min(axis=0), points.max(axis=0)
    out = (-x0, x1 - front.width, -front.depth - y0, y1, front.bottom - z0)
    beyond = zip(_SIDES, (*out, z1 - front.top), strict=True)
    return {side: float(by) for side, by in beyond if by > TOUCH}


def overhangs_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each item whose mesh or scan stands out of its box, and by how much."""
    units = arrangement.scene.units
    for placed in arrangement.items.values():
        if beyond := overhang(placed):
            told = ", ".join(
                f"{length(by, units)} at the {side}" for side, by in beyond.items()
            )
            what = "mesh" if placed.surveyed is None else "scan"
            said = f"Its box is judged; its {what} stands out of it by {told}"
            yield placed.id, f"{said}, and what stands out is in nobody's way."
