"""Low headroom in existing dwellings: what of it small service equipment may keep."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from model3d.codebook.unread import unread_rules
from model3d.geometry.bodies.extents import reaching
from model3d.geometry.tolerance import TOUCH
from model3d.judging.space import Excuse, Stretch
from model3d.wording.said import Named, say
from model3d.working.footing import PASSED_UNDER
from model3d.working.front import front_of, slide

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed
    from model3d.working.needs import Needs


@dataclass(frozen=True, slots=True)
class Headroom:
    """What is overhead in front of one item, and what of it counts.

    Attributes:
        top: Of the item itself, metres.
        excuse: The exception, where the item may have it.
        missing: What is missing to know whether it may.
        low: Structure overhead makes the space low already.
        tolerance: How well heights are known, metres.
        doubt: What to say where a height is nearer to the item's top than that.
    """

    top: float
    excuse: Excuse | None = None
    missing: str = ""
    low: bool = False
    tolerance: float = 0.0
    doubt: str = ""

    def judged(self, placed: Placed, ordinary: Stretch) -> Stretch:
        """Return what something overhead must keep out of.

        Structure no lower than the item's top is excepted; how low is too low below
        that is for the authority. What else hangs where structure makes the space low
        is left open down to the item's top.
        """
        if self.excuse is None and not self.missing:
            return ordinary
        above = placed.bottom >= self.top - TOUCH
        unsure = abs(placed.bottom - self.top) < self.tolerance - TOUCH
        start, end = ordinary.start, max(ordinary.end, ordinary.possible)
        if placed.kind.structure:
            if self.missing:
                return Stretch(start, start, end, self.missing)
            if above and unsure:
                return Stretch(start, start, end, self.doubt)
            if above:
                return Stretch(start, start, excused=end, excuse=self.excuse)
            return Stretch(start, start, end, _too_low(placed, self.excuse))
        if self.low and (above or unsure):
            # Where nobody says whether the item has the exception, that comes first.
            asked = self.missing or _hangs(placed, self.excuse)
            return replace(ordinary, end=start, possible=end, missing=asked, unknown=())
        return ordinary


def _too_low(placed: Placed, excuse: Excuse | None) -> str:
    return say(
        "{} is lower than the top of the equipment: {} prints no lower limit, so the "
        "authority having jurisdiction decides whether it may be.",
        Named(placed.id),
        str(excuse),
    )


def _hangs(placed: Placed, excuse: Excuse | None) -> str:
    return say(
        "{} hangs where structure makes the headroom low by {}: the authority having "
        "jurisdiction decides whether it may.",
        Named(placed.id),
        str(excuse),
    )


def headroom_of(item: Placed, situation: Situation, figures: Needs) -> Headroom:
    """Return what of the headroom in front of an item is excepted."""
    front = front_of(item)
    entry = situation.book.entry("existing-dwelling")
    if situation.scene.premises != "existing-dwelling" or not entry.given:
        return Headroom(front.top)
    service = None if item.item is None else item.item.service
    listed = item.kind.name in entry.words("kinds")
    if item.amps is not None and item.amps > entry.number("amps"):
        return Headroom(front.top)
    if not listed and service is False:
        return Headroom(front.top)
    missing, excuse = "", None
    if not listed and service is None:
        missing = say("Say whether {} is service equipment.", Named(item.id))
    elif item.amps is None:
        missing = say("Say how many amperes {} is rated for.", Named(item.id))
    else:
        words = f"existing dwellings, up to {entry.number('amps'):g} A"
        excuse = Excuse(words, entry.citation, unread_rules(entry, "amps"))
    return Headroom(
        front.top,
        excuse,
        missing,
        low=_is_low(item, situation, figures),
        tolerance=situation.survey_tolerance,
        doubt=situation.survey_doubt,
    )


def _is_low(item: Placed, situation: Situation, figures: Needs) -> bool:
    """Tell whether structure overhead is lower than the ordinary height."""
    front = front_of(item)
    first, last = slide(front.width, figures.width)
    tall = front.top - figures.floor if figures.height is None else figures.height
    low = (first, 0.0, figures.floor)
    high = (last + figures.width, max(figures.depths), figures.floor + tall)
    over = figures.floor + PASSED_UNDER
    for placed in situation.near(front.frame, low, high):
        overhead = placed.kind.structure and placed.bottom >= over
        if overhead and reaching(placed.solid.seen_from(front.frame), low, high):
            return True
    return False
