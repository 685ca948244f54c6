"""Leave a working space: with equipment doors shut, and with all of them open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.floor import CONTACT
from model3d.egress.overlay import joined
from model3d.egress.search import way_out, widest_way

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.egress.floor import Floor
    from model3d.egress.search import Path
    from model3d.egress.stand import Stand
    from model3d.egress.ways import Doors
    from model3d.situation import Situation

LOWEST: Final = 0.5
"""Metres. Nobody gets through below less, not even on hands and knees (common
practice); less is no way at all."""


@dataclass(frozen=True, slots=True)
class Leaving:
    """How a working space is left.

    Attributes:
        path: The way; None where there is none at all.
        height: The height it has for certain, metres.
        enough: Whether it is as wide and as high as was asked for.
        climbs: Whether it goes up or down by more than a step, or over a pit.
    """

    path: Path | None
    height: float
    enough: bool
    climbs: bool = False


def leave(stand: Stand, situation: Situation, width: float, height: float) -> Leaving:
    """Find a way out with all equipment doors shut, or else the best that there is.

    A way as wide and as high as asked for is found first without and then with
    climbing. Else it is the widest of the full height or the highest of the full width,
    whichever lacks less; where there is neither, the highest of any width.
    """
    ways = situation.ways
    for climbing in (False, True) if ways.climbable else (False,):
        floor = ways.floor(height, climbing=climbing)
        path = _out(stand, floor, width)
        if path is not None:
            return Leaving(path, height, enough=True, climbs=climbing)
    climbing = ways.climbable
    heights = ways.heights(height, LOWEST)

    def as_wide(lower: float) -> Path | None:
        return _out(stand, ways.floor(lower, climbing=climbing), width)

    def any_width(lower: float) -> Path | None:
        return _widest(stand, ways.floor(lower, climbing=climbing))

    found = []
    narrow = any_width(height)
    if narrow is not None:
        found.append((narrow.way.narrowest / width, height, narrow))
    low = _highest(heights, as_wide)
    if low is not None:
        found.append((low[0] / height, *low))
    if not found:
        both = _highest(heights, any_width)
        if both is None:
            return Leaving(None, 0.0, enough=False)
        found.append((0.0, *both))
    _, high, path = max(found, key=lambda one: one[0])
    return Leaving(path, high, enough=False, climbs=climbing)


def _highest(
    heights: Sequence[float], search: Callable[[float], Path | None]
) -> tuple[float, Path] | None:
    """Return the greatest height with a way; at every lower one there is a way too."""
    # What leads nowhere at the lowest height leads nowhere at all: that is common.
    path = search(heights[0]) if heights else None
    if path is None:
        return None
    found = (heights[0], path)
    low, high = 1, len(heights)
    while low < high:
        middle = (low + high) // 2
        path = search(heights[middle])
        if path is None:
            high = middle
        else:
            found, low = (heights[middle], path), middle + 1
    return found


def _out(stand: Stand, floor: Floor, width: float) -> Path | None:
    return way_out(floor, stand.standing(floor), stand.middle, width)


def _widest(stand: Stand, floor: Floor) -> Path | None:
    return widest_way(floor, stand.standing(floor), stand.middle)


@dataclass(frozen=True, slots=True)
class Shut:
    """Somebody whom open equipment doors shut in.

    Attributes:
        at: Where, in plan.
        path: The widest way that is left to there; None where there is none.
    """

    at: tuple[float, float]
    path: Path | None


def shut_in(
    stand: Stand, situation: Situation, width: float, height: float, doors: Doors
) -> Shut | None:
    """Return where open equipment doors leave somebody no way out; None if nowhere.

    Asked is every place of the working space where a person can stand with the doors
    open and had a way out with the doors shut.

    Args:
        stand: The working space.
        situation: The room.
        width: Of the way, metres.
        height: Of the way, metres.
        doors: Which equipment doors are open.
    """
    clear = width - CONTACT
    shut, opened = situation.ways.floor(height), situation.ways.floor(height, doors)
    had = [
        place for place, part in shut.places(stand.standing(shut), clear) if part.exits
    ]
    left = [
        found
        for place in had
        for found in opened.places(place, clear)
        if found[0].area > _SPOT
    ]
    lost = [place for place, part in left if not part.exits]
    if not had or (left and not lost):
        return None
    area = joined(lost or had)
    spot = area.representative_point()
    at = (float(spot.x), float(spot.y))
    return Shut(at, widest_way(opened, area, at, _CHINK))


_CHINK: Final = 0.01
"""Metres. What open doors leave is told down to this, though nobody comes through."""

_SPOT: Final = 1e-9
"""Square metres. A place that is smaller is rounding."""
