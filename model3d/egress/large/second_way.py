"""Ways out at both ends of a working space, or what stands in for the second one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.large.doubled import doubled
from model3d.egress.large.ends import (
    ENDS,
    exits_at,
    room_beyond,
    told_at,
    widest_at,
)
from model3d.egress.large.straight_ways import StraightWays
from model3d.egress.large.wanted import Answer, Wanted
from model3d.egress.route.up_a_stair import ask_deck
from model3d.egress.shut import ask_floor, ask_hanging
from model3d.egress.ways import ways_of
from model3d.wording import sentences
from model3d.wording.said import Named, ids, joined, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.floor import Floor
    from model3d.egress.large.span import End
    from model3d.judging.results import Sizes, Verdict
    from model3d.judging.situation import Situation

_DECIDES: Final = (
    "The authority having jurisdiction decides whether a way along the front of the "
    "gear counts as continuous and unobstructed."
)
_CLIMB: Final = (
    "A way would lead over what is more than a step of {} high: a person must say how "
    "one gets there."
)


def second_way(wanted: Wanted, situation: Situation, by: float = 0.0) -> Answer:
    """Tell whether a way leaves at each end, or an exception holds.

    Args:
        wanted: What is asked.
        situation: The room.
        by: How much larger everything must be, metres.
    """
    return situation.remembered(_second_way, wanted, by)


def is_certain(wanted: Wanted, situation: Situation) -> bool:
    """Tell whether a way at each end or the first exception holds, for certain.

    What takes least time is asked first, and nothing is told of how it is kept. False
    says nothing: ask ``second_way``.
    """
    floor, width = ways_of(situation).floor(wanted.height), wanted.width
    if _ask_floor(wanted, situation):
        return False
    if wanted.unobstructed:
        beyond = room_beyond(wanted.span, floor, width)
        if beyond is not None and beyond >= width - CONTACT:
            straight = StraightWays(wanted, floor, width, 0.0)
            if straight.leads_anywhere():
                return True
    span = wanted.span
    reach = situation.reach_ahead(span.frame, span.left, span.right)
    return all(exits_at(span, floor, width, end, reach) for end in ENDS)


def _ask_floor(wanted: Wanted, situation: Situation) -> str:
    """Ask how one gets down; ways at the ends are looked for on steps alone."""
    asks = (
        ask_floor(one, situation, wanted.height, "step") for one in wanted.span.stands
    )
    return next(filter(None, asks), "")


def verdict_of(wanted: Wanted, situation: Situation) -> Verdict:
    """Return the verdict of ``second_way``, without a measure of how wide the ways are.

    That takes most of the time.
    """
    found, _ = situation.remembered(_decided, wanted, 0.0)
    return found.verdict


def _second_way(wanted: Wanted, by: float, situation: Situation) -> Answer:
    found, exits = situation.remembered(_decided, wanted, by)
    # Of a room in which everything is tried larger nobody asks how wide they are.
    if by or not exits or (found.verdict == "met" and not all(exits.values())):
        return found
    span, floor = wanted.span, ways_of(situation).floor(wanted.height)
    reach = situation.reach_ahead(span.frame, span.left, span.right)
    widest = {
        end: widest_at(span, floor, wanted.width, end, reach, exits[end])
        for end in ENDS
    }
    return replace(found, provided=_sizes(widest), widest=widest)


def _decided(
    wanted: Wanted, by: float, situation: Situation
) -> tuple[Answer, dict[End, tuple[Exit, ...]]]:
    """Return the answer without sizes, and the exits that are reached from each end.

    None are told where it is not asked how wide the ways are.
    """
    if asks := _ask_floor(wanted, situation):
        return Answer("open", "", missing=asks), {}
    floor = ways_of(situation).floor(wanted.height + by)
    exits = _exits_at_ends(wanted, floor, situation, by)
    found = _answer(wanted, floor, exits, situation, by)
    if found.verdict == "not-met":
        found = _as_hoped(found, wanted, floor, situation, by)
    if found.verdict == "not-met":
        found = _if_climbed(found, wanted, situation, by)
    if found.verdict == "not-met" and (asks := ask_deck(situation, wanted.height + by)):
        found = replace(found, verdict="open", missing=asks)
    return found, exits


def _exits_at_ends(
    wanted: Wanted, floor: Floor, situation: Situation, by: float
) -> dict[End, tuple[Exit, ...]]:
    span, width = wanted.span, wanted.width + by
    reach = situation.reach_ahead(span.frame, span.left, span.right)
    return {end: exits_at(span, floor, width, end, reach) for end in ENDS}


def _is_missing(wanted: Wanted, floor: Floor, situation: Situation, by: float) -> bool:
    """Tell whether it is not met on a floor."""
    exits = _exits_at_ends(wanted, floor, situation, by)
    return _answer(wanted, floor, exits, situation, by).verdict == "not-met"


def _if_climbed(
    found: Answer, wanted: Wanted, situation: Situation, by: float
) -> Answer:
    """Leave it open where ways go over what can be climbed, as the entrance is."""
    ground, height = ground_of(situation), wanted.height + by
    if not ground.climbable(height):
        return found
    floor = ways_of(situation).floor(height, gait="climb")
    floors = floor, floor.as_hoped
    if all(_is_missing(wanted, one, situation, by) for one in floors):
        return found
    step = situation.book.entry("entrance").figure("step")
    return replace(found, verdict="open", missing=say(_CLIMB, situation.told(step)))


def _as_hoped(
    found: Answer, wanted: Wanted, floor: Floor, situation: Situation, by: float
) -> Answer:
    """Leave it open where it hangs on how a personnel door does, which nobody says."""
    asks = [ask_hanging(one.id, situation) for one in floor.exits]
    ask = sentences(*dict.fromkeys(asks))
    if not ask or _is_missing(wanted, floor.as_hoped, situation, by):
        return found
    return replace(found, verdict="open", missing=ask)


def _answer(
    wanted: Wanted,
    floor: Floor,
    found: Mapping[End, tuple[Exit, ...]],
    situation: Situation,
    by: float,
) -> Answer:
    if all(found.values()):
        span, width = wanted.span, wanted.width + by
        reach = situation.reach_ahead(span.frame, span.left, span.right)
        told = {
            end: told_at(span, floor, width, end, reach, found[end]) for end in ENDS
        }
        ends = joined(
            ", ",
            (say("{}: {}", end, ids(one.id for one in told[end])) for end in ENDS),
        )
        said = say("A way leaves the working space at each end ({}).", ends)
        return Answer("met", said)
    where = joined(" and ", (f"at the {end} end" for end in ENDS if not found[end]))
    short = say("No way {} leaves the working space {}.", wanted.size, where)
    return _excepted(wanted, floor, situation, by, short)


def _sizes(widest: Mapping[End, float]) -> Sizes:
    """Return the narrower of the ways at both ends; nothing where one has none."""
    narrowest = min(widest.values(), default=0.0)
    return {"width": narrowest} if narrowest else {}


def _excepted(
    wanted: Wanted, floor: Floor, situation: Situation, by: float, short: str
) -> Answer:
    """Answer where one way is left at most: whether that is enough."""
    span, width = wanted.span, wanted.width + by
    beyond = room_beyond(span, floor, width)
    may_be = StraightWays(wanted, floor, width, by) if wanted.unobstructed else None
    outside = None
    if may_be and beyond is not None and beyond >= width - CONTACT:
        outside = may_be.leads_to(barred=True)
    if may_be and outside and may_be.is_in_sight(outside):
        return _straight_away(wanted, outside)
    deep = doubled(wanted, floor, situation, by)
    if deep.verdict == "met":
        return deep
    if outside:
        return _straight_away(wanted, outside)
    short = sentences(short, deep.reason)
    along = may_be.leads_to(barred=False) if may_be else None
    if along is None:
        none = "No way that is continuous and unobstructed leads to an exit."
        return Answer("not-met", sentences(short, none if may_be else ""))
    if beyond is None:
        free = "something in the working space bars the way straight out of it."
    elif beyond == 0:
        free = "nothing is free beyond the working space."
    elif beyond < width - CONTACT:
        free = say("{} is free beyond the working space.", situation.length(beyond))
    else:
        free = "beyond the working space no such way leads on."
    said = sentences(
        short, say("The way to {} leads along the front: {}", Named(along.id), free)
    )
    return Answer("open", said, wanted.unobstructed, _DECIDES)


def _straight_away(wanted: Wanted, way_out: Exit) -> Answer:
    reason = say(
        "One way is enough, for it is continuous and unobstructed ({}): the working "
        "space can be left straight away from the gear, and the way on to {} runs "
        "outside it.",
        wanted.unobstructed,
        Named(way_out.id),
    )
    return Answer("met", reason, wanted.unobstructed)
