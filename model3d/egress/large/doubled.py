"""Whether the depth before large equipment is doubled, which makes one way enough."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.ground.floor import CONTACT
from model3d.egress.large.ends import clear_depth, spare_apart
from model3d.egress.large.wanted import Answer
from model3d.geometry.tolerance import TOUCH
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from model3d.egress.ground.floor import Floor
    from model3d.egress.large.wanted import Wanted
    from model3d.judging.situation import Situation

_ENDLESS: Final = float("inf")


def doubled(wanted: Wanted, floor: Floor, situation: Situation, by: float) -> Answer:
    """Tell whether the depth is doubled and an entrance keeps the distance."""
    if not wanted.doubled:
        return Answer("not-met", "")
    clear = [
        (clear_depth(stand, situation, twice) - twice, twice)
        for stand in wanted.span.stands
        for twice in [2 * stand.space.depth + by]
    ]
    over, twice = min(clear)
    if over < 0:
        length = situation.length(twice + over, twice)
        return Answer(
            "not-met", say("The depth is not doubled: it is clear to {}.", length)
        )
    found = _entrances(wanted, floor, by)
    if not found:
        none = "The depth is doubled, but no way leads from there to an entrance."
        return Answer("not-met", none)
    spare, away, name = max(found, key=lambda one: one[0])
    if spare >= -TOUCH:
        bounded = away < float("inf")
        where = (
            say("{} from the equipment", situation.length(away, away - spare - by))
            if bounded
            else "all round"
        )
        measured = {"depth": twice + over, "distance": away}
        return Answer(
            "met",
            say(
                "One way is enough, for the depth is doubled ({}): the working space "
                "is clear to twice its depth and {} is {}.",
                wanted.doubled,
                Named(name),
                where,
            ),
            wanted.doubled,
            required={"depth": twice, "distance": away - spare - by},
            provided={one: size for one, size in measured.items() if size < _ENDLESS},
        )
    return Answer(
        "not-met",
        say(
            "The depth is doubled, but {} is only {} from the equipment, less than the "
            "depth.",
            Named(name),
            situation.length(away, away - spare - by),
        ),
    )


def _entrances(
    wanted: Wanted, floor: Floor, by: float
) -> list[tuple[float, float, str]]:
    """Return the entrances that are reached from every section, by name.

    Each with how much further from the gear it is than must be, where that is least,
    and how far it is there, metres.
    """
    clear, span = wanted.width + by - CONTACT, wanted.span
    reached = [
        {
            one
            for _, part in floor.places(stand.standing(floor), clear)
            for one in part.exits
        }
        for stand in span.stands
    ]
    return [
        (spare - by, away, one.id)
        for one in sorted(set.intersection(*reached), key=lambda one: one.id)
        for spare, away in [spare_apart(span, one)]
    ]
