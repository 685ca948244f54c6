"""Leave a working space while all equipment doors are shut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.on_the_way import climbed
from model3d.egress.route.doorways import widest_of
from model3d.egress.route.up_a_stair import ask_deck, is_raised
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import SLACK, TOUCH
from model3d.wording import ASK_HINGE, ASK_OPENS, sentences
from model3d.wording.said import Named, joined, say

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.levels import Gait
    from model3d.egress.ground.stand import Stand
    from model3d.egress.route.path import Path
    from model3d.judging.situation import Situation

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
    """Find the widest way out with all equipment doors shut.

    One that is as high as asked for and wide enough is looked for first without and
    then with climbing. Else it is the widest of the full height or the highest of the
    full width, whichever lacks less; where there is neither, the highest of any width.
    Where it is not said how a door hangs the way must be there whichever way it does;
    where that is worse than the best of them, it is asked.
    """
    if asks := ask_floor(stand, situation, height):
        return Leaving(None, 0.0, enough=False, asks=asks)
    search = _Search(stand, situation, width, height)
    found = search.best()
    if _rank(found) < _BEST and any(
        len(e.hangings) > 1 for e in ground_of(situation).exits
    ):
        hoped = replace(search, hopeful=True).best()
        if _rank(hoped) > _rank(found):
            name = hoped.path.way.door if hoped.path is not None else ""
            asks = sentences(ask_hanging(name, situation), hoped.asks)
            return replace(hoped, asks=asks)
    if found.path is None:
        return replace(found, asks=ask_deck(situation, height))
    return found


def ask_floor(
    stand: Stand, situation: Situation, height: float, gait: Gait = "anyhow"
) -> str:
    """Ask where a person stands whose ways are not looked for; "" where they are.

    Args:
        stand: The working space.
        situation: The room.
        height: Of the way, metres.
        gait: How somebody goes who leaves it.
    """
    if not _is_in(stand, ways_of(situation).floor(height).region):
        return say(
            "The working space of {} lies off the floor of the room: say where one "
            "stands.",
            Named(stand.item.id),
        )
    if _is_on_what_is_walked(stand, situation, height, gait):
        return ""
    name, up = Named(stand.item.id), stand.figures.floor
    if up <= ground_of(situation).step + TOUCH:
        return say("At {} one stands under what is walked on: {}", name, _SAY)
    up_there = situation.length(up)
    return say("At {} one stands {} above the floor: {}", name, up_there, _SAY)


def _is_in(stand: Stand, region: flat.Geometry) -> bool:
    """Tell whether a person who stands right before the item stands in the room.

    Where a wall is drawn before any of the front nobody can say where one stands.
    """
    strip = stand.strip(0.0, stand.front_width, 2 * SLACK)
    flat.prepare(region)
    return bool(flat.covers(region, strip)) or _is_covered(stand, strip, region)


def _is_covered(stand: Stand, strip: flat.Polygon, plan: flat.Geometry) -> bool:
    before = strip.difference(stand.strip(0.0, stand.front_width, SLACK))
    return bool(before.difference(plan).area <= SLACK * SLACK)


def _is_on_what_is_walked(
    stand: Stand, situation: Situation, height: float, gait: Gait
) -> bool:
    """Tell whether somebody before the item is on the one level that is walked there.

    The floor is searched in plan: above or below what is walked there is no other.
    """
    ground, floor = ground_of(situation), stand.figures.floor
    if stand.figures.limited:
        return True
    strip = stand.strip(0.0, stand.front_width, 2 * SLACK)
    if floor > ground.step + TOUCH:
        walked = ground.walked(height, gait)
        # What stands on it and may be climbed counts as a part of it.
        plans = [
            one.plan
            for one in walked
            if one.top >= floor - TOUCH and one.bottom <= floor + TOUCH
        ]
        is_there = any(abs(one.top - floor) <= TOUCH for one in walked)
        return is_there and _is_covered(stand, strip, flat.union_all(plans))
    return not any(
        one.plan.intersects(strip)
        and is_raised(one, strip, floor + ground.step, situation)
        for one in ground.walked(height, "climb")
    )


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
                return say(ASK_OPENS, Named(name))
            if door.hinge is None:
                return say(ASK_HINGE, Named(name))
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
        gaits, narrow = list(self._gaits()), []
        for gait in gaits:
            path = self._widest(self.height, gait)
            if path is not None and path.width >= self.width - CONTACT:
                return self._leaving(path, self.height, gait, enough=True)
            narrow.append(path)
        smaller = [
            found
            for gait, path in zip(gaits, narrow, strict=True)
            if (found := self._smaller(gait, path))
        ]
        none = (0.0, Leaving(None, 0.0, enough=False))
        return max(smaller, key=lambda one: round(one[0], 6), default=none)[1]

    def _gaits(self) -> Iterator[Gait]:
        """Yield how somebody may go, the easiest way first."""
        yield "step"
        if ground_of(self.situation).climbable(self.height):
            yield "climb"
        if self.stand.figures.floor > ground_of(self.situation).step + TOUCH:
            yield "anyhow"

    def _smaller(self, gait: Gait, narrow: Path | None) -> tuple[float, Leaving] | None:
        """Return the way that lacks least, with the share that it has; None if none.

        The widest of the full height or the highest of the full width; where there is
        neither, the highest of any width.

        Args:
            gait: How somebody goes.
            narrow: The widest way of the full height.
        """
        heights = ground_of(self.situation).heights(self.height, LOWEST, gait)
        share = 0.0 if narrow is None else narrow.width / self.width
        high = _highest(heights, lambda lower: self._is_passed(lower, gait, self.width))
        if narrow is not None and share >= high / self.height:
            return share, self._leaving(narrow, self.height, gait, enough=False)
        share = high / self.height
        high = high or _highest(heights, lambda low: self._is_passed(low, gait, BODY))
        path = self._widest(high, gait) if high else None
        if path is None:
            return None
        return share, self._leaving(path, high, gait, enough=False)

    def _widest(self, height: float, gait: Gait) -> Path | None:
        floor = self._floor(height, gait)
        ways, stand = ways_of(self.situation), self.stand
        if not floor.swinging:
            return ways.widest(stand, floor, self.width)
        start = ways.standing(stand, floor)
        return widest_of(floor, start, stand.middle, self.width)

    def _is_passed(self, height: float, gait: Gait, width: float) -> bool:
        floor = self._floor(height, gait)
        if not floor.swinging:
            return ways_of(self.situation).passes(self.stand, floor, width)
        # Past a leaf somebody may come at one angle alone, which must be looked for.
        path = self._widest(height, gait)
        return path is not None and path.width >= width - CONTACT

    def _floor(self, height: float, gait: Gait) -> Floor:
        floor = ways_of(self.situation).floor(height, gait=gait)
        return floor.as_hoped if self.hopeful else floor

    def _leaving(
        self, path: Path, height: float, gait: Gait, *, enough: bool
    ) -> Leaving:
        asks = ""
        if gait != "step":
            over = climbed(path.way, self.situation, self.width, height, gait)
            asks = _ask_climb(over, self.situation)
            if enough and not asks:
                asks = say("It goes up or down by more than a step: {}", _SAY)
        return Leaving(path, height, enough, gait, asks)


_SAY: Final = "a person must say how one gets there."


def _ask_climb(over: dict[str, float], situation: Situation) -> str:
    """Ask how one gets over what is more than a step high; "" where nothing is."""
    if not over:
        return ""
    items = situation.arrangement.items
    step = situation.book.entry("entrance").figure("step")
    parts = []
    for name, riser in sorted(over.items()):
        size = situation.length(riser, situation.most(step))
        if name not in items:
            parts.append(say("the threshold of {}, {} high", Named(name), size))
        elif items[name].kind.hole:
            parts.append(say("{}, an open pit {} deep", Named(name), size))
        else:
            parts.append(say("{}, {} high", Named(name), size))
    more = say("more than a step of {}", situation.told(step))
    return say("The way leads over {}, {}: {}", joined("; ", parts), more, _SAY)


def _highest(heights: Sequence[float], passes_at: Callable[[float], bool]) -> float:
    """Return the greatest height with a way; at every lower one there is a way too.

    0 where there is none.
    """
    # What leads nowhere at the lowest height leads nowhere at all: that is common.
    if not heights or not passes_at(heights[0]):
        return 0.0
    low, high = 1, len(heights)
    while low < high:
        middle = (low + high) // 2
        if passes_at(heights[middle]):
            low = middle + 1
        else:
            high = middle
    return heights[low - 1]
