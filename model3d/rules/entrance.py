"""A way in and out of the working space.

Applies to: every item that people work at while it is energised, and each of its sides
that people work at too: what is behind a line-up may have a way of its own, or none.

Measures: the widest way in plan from the working space to a personnel door (outdoors
over an open side or to open ground), searched exactly among everything that stands
higher than a step and lower than the way. A person is a disc as wide as the way.
Platforms are floor. A door is as wide as its own leaf leaves it: width times the sine
of the angle that the leaf reaches, 90 degrees or what is said, less where something in
the room stops it sooner; of a pair the clear widths of both add up. A leaf that opens
into the room stands in the way to its own door; a person holds it at the angle that is
best. Where the rule book asks for it the way is searched again with the equipment doors
of the room open at 90 degrees: more open doors only take floor away, so all open is the
worst. A leaf that something stops sooner is taken both as far as that lets it and at 90
degrees, up to what is straight ahead: what stops a door makes no way. A personnel door
that opens into the room opens no further then than they let it, and its leaf takes
floor together with them. It is searched from both sides of every leaf along the front,
on floor however narrow: past the edges of the leaves on both sides of the aisle. The
pocket between two leaves of one front is no passage, and its width does not count. Gear
that touches with its fronts in one plane is one front: each item gets the narrowest way
that is left anywhere along it.

Breach: no way at all; for large equipment, and above the low-voltage table for every
item, a way narrower or lower than the printed size. At low voltage no size is printed
for ordinary equipment, so that such a way is left open there, with its size. With
equipment doors open: a place beside a leaf, or one in the working space where somebody
can stand, that has no way of the printed size left. A place beside a leaf that had none
with the doors shut either, where something stands near across the front, is left open.

Exceptions: what is no higher than a step is stepped over. What is higher, up to 500 mm
(common practice), can be climbed: that leaves it open, with its height, for kerbs,
bunds, thresholds and platforms alike, and so does an open pit more than a step deep; a
person must say how one gets over it. What is higher still is in the way. A riser counts
from the level before it: two steps are a stair. A stair is a way up where something as
high as its top adjoins it, from the opposite side. Where a working space lies on a
platform with no way down, on a gallery under which one walks, or off the floor of the
room, its way out is left open: one level is searched at each place of the plan. Where
it is not said how a door hangs and it matters, it is asked. A door whose size is said
to be over its frame is narrower than that: nothing is met through it until it is
measured. Less than 200 mm wide or 500 mm high nobody gets through (common practice):
that is no way at all.

Source: NEC 110.26(C)(1), 110.26(A), 110.33(A); 29 CFR 1910.303(g)(1)(iii), (h)(4)(i);
29 CFR 1926.403(i)(1)(iii), (j)(4)(i). The height of a step is that of a stair's riser,
IBC 1011.5.2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.egress.close_look import as_wide_as_before
from model3d.egress.doors.exits import BODY
from model3d.egress.doors.known_openings import by_measured_doors
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.judged.asked import WayAsked
from model3d.egress.judged.doors_open import doors_count, judged_open
from model3d.egress.judged.doors_shut import judged_shut
from model3d.egress.large.gear import is_large
from model3d.egress.opened import least_left, leave_enough
from model3d.egress.route.doorways import passes_out, unmeasured
from model3d.egress.route.search import passes
from model3d.egress.shut import ask_floor, leave
from model3d.egress.ways import ways_of
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.wording import ASK_DOORS, headed, sentences
from model3d.working import is_high_voltage
from model3d.working.front import is_relieved
from model3d.working.sides import TITLES, WORKED_AT, reached, turned

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.egress.ways import Doors
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("entrance", "equipment-doors-open", "high-voltage-entrance")
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the way out of each working space of one item."""
    yield from by_measured_doors(_of_all_sides, item, situation)


def _of_all_sides(item: Placed, situation: Situation) -> Iterator[Judgement]:
    if not item.live or item.front is None:
        return
    yield from _claims(item, situation)
    for side, word in reached(item):
        if word == WORKED_AT:
            for judged in _claims(turned(item, side), situation):
                reason = headed(TITLES[side], judged.reason)
                yield replace(judged, side=side, reason=reason)


def _claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the way out of the working space in front of an item, as it is turned."""
    over = is_high_voltage(item, situation)
    entry = situation.book.entry(TABLES[2] if over else TABLES[0])
    if not entry.given:
        return
    asked = WayAsked(
        REQUIREMENT, item, situation, entry, printed=over or entry.flag("printed")
    )
    if not ground_of(situation).exits:
        if is_relieved(situation):
            # The opening to a place of limited access is judged by its own rule.
            return
        ask = ASK_DOORS
        yield replace(asked.judgement, verdict="open", reason=ask, missing=ask)
        return
    stand = ways_of(situation).stand(item)
    found = leave(stand, situation, asked.width, asked.height)
    judged = judged_shut(asked, found)
    if found.path is not None and not over:
        entry = situation.book.entry(TABLES[1])
        judged = judged_open(asked, found, judged, entry)
    if judged.verdict == "met" and (doubt := unmeasured(situation)):
        reason = sentences(judged.reason, doubt)
        judged = replace(judged, verdict="open", reason=reason, missing=doubt)
    yield replace(judged, firm=_is_firm(asked, judged))


def is_met(item: Placed, situation: Situation) -> bool:
    """Tell whether all that ``claims`` judges of an item is met for certain.

    It looks for no widest way and draws none, so that it takes a part of the time.
    False says nothing: ask ``claims``.
    """
    if not item.live or item.front is None:
        return True
    entry = situation.book.entry(TABLES[0])
    ways = ways_of(situation)
    worked_at = any(word == WORKED_AT for _, word in reached(item))
    if worked_at or is_high_voltage(item, situation) or situation.survey_tolerance:
        return False
    if not entry.given or not ways.ground.exits:
        return not entry.given
    if unmeasured(situation):
        return False
    asked = WayAsked(REQUIREMENT, item, situation, entry, printed=entry.flag("printed"))
    opened = situation.book.entry(TABLES[1])
    applies = doors_count(opened, item, situation)[0] is not False
    width, height = asked.width, asked.height
    if applies:
        # Doors must leave what is printed for them, or what there is with doors shut.
        width = max(width, situation.least(opened.figure("width")))
        height = max(height, situation.least(opened.figure("height")))
    if (width, height) != (asked.width, asked.height):
        return False
    if _stands_as_before(item, situation) and item.id in as_wide_as_before(
        width, height, situation
    ):
        return True
    floor, stand = ways.floor(height), ways.stand(item)
    if ask_floor(stand, situation, height) or not passes_out(
        floor, ways.standing(stand, floor), width + CONTACT
    ):
        return False
    return not applies or all(
        leave_enough(item, situation, width, height, doors)
        or _leave_as_much(item, situation, width, height, doors)
        for doors in _DOORS
    )


def _stands_as_before(item: Placed, situation: Situation) -> bool:
    earlier = situation.earlier
    return earlier is not None and earlier.situation.has(item)


def _leave_as_much(
    item: Placed, situation: Situation, width: float, height: float, doors: Doors
) -> bool:
    left = least_left(item, situation, width, height, doors)
    return left is None or (left.narrow is None and left.width >= width - CONTACT)


def is_no_breach(item: Placed, situation: Situation) -> bool:
    """Tell whether nothing that ``claims`` judges of an item is not met, for certain.

    Where no size holds, a way for the most slender is enough for that, as high as asked
    for. False says nothing: ask ``claims``.
    """
    if not item.live or item.front is None:
        return True
    entry = situation.book.entry(TABLES[0])
    ways = ways_of(situation)
    worked_at = any(word == WORKED_AT for _, word in reached(item))
    if worked_at or is_high_voltage(item, situation) or not entry.given:
        return False
    if not ways.ground.exits or entry.flag("printed"):
        return False
    if is_large(item, situation)[0] is not False:
        return False
    if doors_count(situation.book.entry(TABLES[1]), item, situation)[0] is not False:
        return False
    height = situation.least(entry.figure("height"))
    floor, stand = ways.floor(height), ways.stand(item)
    if floor.swinging or ask_floor(stand, situation, height):
        return False
    return passes(floor, ways.standing(stand, floor), BODY + CONTACT)


_DOORS: Final[tuple[Doors, ...]] = ("stated", "all")


def _is_firm(asked: WayAsked, judged: Judgement) -> bool:
    """Tell whether the lesser of each system's figures would change nothing.

    The two widths and heights lie close together: they part where a width falls between
    them, or something ends at a height between them.
    """
    ways, entry = ways_of(asked.situation), asked.entry
    low = entry.figure("height").at_least("either")
    if low < asked.height:
        ends = ways.undersides
        between = any(low - TOUCH <= end <= asked.height + TOUCH for end in ends)
        if between or ways.ground.heights(
            asked.height + 2 * TOUCH, low - TOUCH, "anyhow"
        ):
            return False
    narrow = entry.figure("width").at_least("either") - CONTACT
    width = judged.provided.get("width", 0.0)
    return not narrow - TOUCH <= width < asked.width
