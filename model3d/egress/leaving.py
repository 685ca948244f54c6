"""Leave a working space: with equipment doors shut, and with all of them open."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.egress.doorways import way_of, widest_of
from model3d.egress.floor import CONTACT
from model3d.egress.overlay import joined
from model3d.egress.search import widest_way
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d.egress.floor import Floor
    from model3d.egress.levels import Gait
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
        gait: Whether it goes up and down by more than steps.
        asks: What must be said, or decided, before it is known to be a way.
    """

    path: Path | None
    height: float
    enough: bool
    gait: Gait = "step"
    asks: str = ""


def leave(stand: Stand, situation: Situation, width: float, height: float) -> Leaving:
    """Find a way out with all equipment doors shut, or else the best that there is.

    A way as wide and as high as asked for is found first without and then with
    climbing. Else it is the widest of the full height or the highest of the full width,
    whichever lacks less; where there is neither, the highest of any width. Where it is
    not said how a door hangs the way must be there whichever way it does; where that is
    worse than the best of them, it is asked.
    """
    region = situation.ways.floor(height).region
    if region.intersection(stand.ahead).area <= TOUCH * stand.space.width:
        where = f"The working space of {stand.item.id} lies off the floor of the room"
        return Leaving(None, 0.0, enough=False, asks=f"{where}: say where one stands.")
    search = _Search(stand, situation, width, height)
    found = search.best()
    if _rank(found) < _BEST and any(len(e.hangings) > 1 for e in situation.ways.exits):
        hoped = replace(search, hopeful=True).best()
        if _rank(hoped) > _rank(found):
            name = hoped.path.way.door if hoped.path is not None else ""
            asks = f"{ask_hanging(name, situation)} {hoped.asks}".strip()
            return replace(hoped, asks=asks)
    return found


def _rank(found: Leaving) -> int:
    """Return how good a way is: none, too small, over what is climbed, a way."""
    if found.path is None:
        return 0
    return 1 if not found.enough else 2 if found.asks else _BEST


_BEST: Final = 3


def ask_hanging(name: str, situation: Situation) -> str:
    """Ask what is not said of how a door hangs; "" where all is."""
    room = situation.scene.room
    for door in room.doors if room else ():
        if door.id == name:
            if door.opens is None:
                return f"Say whether {name} opens in or out (opens)."
            if door.hinge is None:
                return f"Say where {name} is hinged (hinge)."
    return ""


@dataclass(frozen=True, slots=True)
class _Search:
    """What is asked of a way out.

    Attributes:
        stand: The working space.
        situation: The room.
        width, height: Of the way, metres.
        hopeful: Doors hang in the best way that is possible.
    """

    stand: Stand
    situation: Situation
    width: float
    height: float
    hopeful: bool = False

    def best(self) -> Leaving:
        """Return the best way that there is, the easiest of equally good ones."""
        gaits = list(self._gaits())
        for gait in gaits:
            path = self._as_wide(self.height, gait)
            if path is not None:
                return self._leaving(path, self.height, gait, enough=True)
        smaller = [found for gait in gaits if (found := self._smaller(gait))]
        none = (0.0, Leaving(None, 0.0, enough=False))
        return max(smaller, key=lambda one: round(one[0], 6), default=none)[1]

    def _gaits(self) -> Iterator[Gait]:
        """Yield how somebody may go, the easiest way first."""
        yield "step"
        if self.situation.ways.climbable(self.height):
            yield "climb"
        if self.stand.figures.floor > self.situation.ways.step + TOUCH:
            yield "anyhow"

    def _smaller(self, gait: Gait) -> tuple[float, Leaving] | None:
        """Return the way that lacks least, with the share that it has; None if none."""
        found = []
        narrow = self._any_width(self.height, gait)
        if narrow is not None:
            found.append((narrow.way.narrowest / self.width, self.height, narrow))
        heights = self.situation.ways.heights(self.height, LOWEST, gait)
        low = _highest(heights, lambda lower: self._as_wide(lower, gait))
        if low is not None:
            found.append((low[0] / self.height, *low))
        if not found:
            both = _highest(heights, lambda lower: self._any_width(lower, gait))
            if both is None:
                return None
            found.append((0.0, *both))
        share, high, path = max(found, key=lambda one: one[0])
        return share, self._leaving(path, high, gait, enough=False)

    def _as_wide(self, height: float, gait: Gait) -> Path | None:
        floor = self._floor(height, gait)
        start = self.stand.standing(floor)
        return way_of(floor, start, self.stand.middle, self.width)

    def _any_width(self, height: float, gait: Gait) -> Path | None:
        floor = self._floor(height, gait)
        return widest_of(floor, self.stand.standing(floor), self.stand.middle)

    def _floor(self, height: float, gait: Gait) -> Floor:
        floor = self.situation.ways.floor(height, gait=gait)
        return floor.as_hoped if self.hopeful else floor

    def _leaving(
        self, path: Path, height: float, gait: Gait, *, enough: bool
    ) -> Leaving:
        asks = ""
        if gait != "step":
            ways = self.situation.ways
            climbed = ways.climbed(path.way, self.width, height, gait)
            asks = _ask_climb(climbed, self.situation)
            if enough and not asks:
                asks = f"It goes up or down by more than a step: {_SAY}"
        return Leaving(path, height, enough, gait, asks)


_SAY: Final = "a person must say how one gets there."


def _ask_climb(climbed: dict[str, float], situation: Situation) -> str:
    """Ask how one gets over what is more than a step high; "" where nothing is."""
    if not climbed:
        return ""
    items = situation.arrangement.items
    parts = []
    for name, riser in sorted(climbed.items()):
        size = situation.length(riser)
        if name not in items:
            parts.append(f"the threshold of {name}, {size} high")
        elif items[name].kind.hole:
            parts.append(f"{name}, an open pit {size} deep")
        else:
            parts.append(f"{name}, {size} high")
    step = situation.book.entry("entrance").figure("step")
    more = f"more than a step ({situation.told(step)})"
    return f"The way leads over {'; '.join(parts)}, {more}: {_SAY}"


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
