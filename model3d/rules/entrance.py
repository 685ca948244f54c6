"""A way in and out of the working space.

Applies to: every item that people work at while it is energised, and each of its sides
that people work at too: what is behind a line-up may have a way of its own, or none.

Measures: the widest way in plan from the working space to a personnel door (outdoors
over an open side or to open ground), searched exactly among everything that stands
higher than a step and lower than the way. A person is a disc as wide as the way.
Platforms are floor. A door is as wide as its own leaf leaves it: width times the sine
of the angle that the leaf reaches, 90 degrees or what is said, less where something in
the room stops it sooner; of a pair both together, but no more than is between the two
leaves. A leaf that opens into the room stands in the way to its own door; a person
holds it at the angle that is best. Where the rule book asks for it the way is searched
again with the equipment doors of the room open at 90 degrees, or as far as something
lets them: more open doors only take floor away, so all open is the worst. It is
searched from both sides of every leaf along the front, on floor however narrow: past
the edges of the leaves on both sides of the aisle. The pocket between two leaves of one
front is no passage, and its width does not count. Gear that touches with its fronts in
one plane is one front: each item gets the narrowest way that is left anywhere along it.

Breach: no way at all; at low voltage no size is printed for ordinary equipment, so a
way narrower or lower than the size printed for large equipment is left open, with its
size. Above the low-voltage table the printed size holds for every item. With equipment
doors open: a place beside a leaf, or one in the working space where somebody can stand,
that has no way of the printed size left.

Exceptions: what is no higher than a step is stepped over. What is higher, up to 500 mm
(common practice), can be climbed: that leaves it open, with its height, for kerbs,
bunds, thresholds and platforms alike, and so does an open pit more than a step deep; a
person must say how one gets over it. What is higher still is in the way. A riser counts
from the level before it: two steps are a stair. A stair is a way up where something as
high as its top adjoins it, from the opposite side. Where a working space lies on a
platform with no way down, or off the floor of the room, its way out is left open. Where
it is not said how a door hangs and it matters, it is asked. Less than 200 mm wide or
500 mm high nobody gets through (common practice): that is no way at all.

Source: NEC 110.26(C)(1), 110.26(A), 110.33(A); 29 CFR 1910.303(g)(1)(iii), (h)(4)(i);
29 CFR 1926.403(i)(1)(iii), (j)(4)(i). The height of a step is that of a stair's riser,
IBC 1011.5.2.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.egress.doorways import stopped_leaves
from model3d.egress.exits import BODY
from model3d.egress.floor import CONTACT
from model3d.egress.ground import ground_of
from model3d.egress.large import is_large
from model3d.egress.opened import least_left
from model3d.egress.search import passes
from model3d.egress.shut import LOWEST, is_on_floor, leave
from model3d.egress.told import (
    WIDTH_AND_HEIGHT,
    neck_words,
    size,
    size_told,
    spot,
    way_words,
)
from model3d.egress.ways import ways_of
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.wording import ASK_DOORS, LEAF_TAKEN, sentences
from model3d.working import is_high_voltage
from model3d.working.front import is_relieved
from model3d.working.sides import TITLES, WORKED_AT, reached, turned

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.egress.opened import Opened
    from model3d.egress.shut import Leaving
    from model3d.egress.ways import Doors
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("entrance", "equipment-doors-open", "high-voltage-entrance")
REQUIREMENT: Final = requirement_of(__name__)
_OPEN: Final = "With equipment doors open at 90 degrees"


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the way out of each working space of one item."""
    if not item.live or item.front is None:
        return
    yield from _claims(item, situation)
    for side, word in reached(item):
        if word == WORKED_AT:
            for judged in _claims(turned(item, side), situation):
                reason = f"{TITLES[side]}: {judged.reason}"
                yield replace(judged, side=side, reason=reason)


def _claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the way out of the working space in front of an item, as it is turned."""
    over = is_high_voltage(item, situation)
    entry = situation.book.entry(TABLES[2] if over else TABLES[0])
    if not entry.given:
        return
    asked = _Asked(item, situation, entry, printed=over or entry.flag("printed"))
    if not ground_of(situation).exits:
        if is_relieved(situation):
            # The opening to a place of limited access is judged by its own rule.
            return
        ask = ASK_DOORS
        yield replace(asked.judgement, verdict="open", reason=ask, missing=ask)
        return
    stand = ways_of(situation).stand(item)
    found = leave(stand, situation, asked.width, asked.height)
    judged = _shut(asked, found)
    if found.path is not None and not over:
        judged = _opened(asked, found, judged)
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
    asked = _Asked(item, situation, entry, printed=entry.flag("printed"))
    opened = situation.book.entry(TABLES[1])
    applies = _applies(opened, item, situation)[0] is not False
    width, height = asked.width, asked.height
    if applies:
        # Doors must leave what is printed for them, or what there is with doors shut.
        width = max(width, situation.least(opened.figure("width")))
        height = max(height, situation.least(opened.figure("height")))
    if (width, height) != (asked.width, asked.height):
        return False
    floor, stand = ways.floor(height), ways.stand(item)
    if floor.swinging or not is_on_floor(stand, floor.region):
        return False
    if not passes(floor, ways.standing(stand, floor), width + CONTACT):
        return False
    return not applies or not any(
        left.width < width - CONTACT
        for doors in _DOORS
        if (left := least_left(item, situation, width, height, doors)) is not None
    )


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
    if _applies(situation.book.entry(TABLES[1]), item, situation)[0] is not False:
        return False
    floor = ways.floor(situation.least(entry.figure("height")))
    stand = ways.stand(item)
    if floor.swinging or not is_on_floor(stand, floor.region):
        return False
    return passes(floor, ways.standing(stand, floor), BODY + CONTACT)


_DOORS: Final[tuple[Doors, ...]] = ("stated", "all")


def _is_firm(asked: _Asked, judged: Judgement) -> bool:
    """Tell whether the lesser of each system's figures would change nothing.

    The two widths and heights lie close together: they part where a width falls between
    them, or something ends at a height between them.
    """
    ways, entry = ways_of(asked.situation), asked.entry
    low = entry.figure("height").at_least("either")
    if low < asked.height:
        ends = (leaf.bottom for leaf in ways.leaves)
        between = any(low - TOUCH <= end <= asked.height + TOUCH for end in ends)
        if between or ways.ground.heights(
            asked.height + 2 * TOUCH, low - TOUCH, "anyhow"
        ):
            return False
    narrow = entry.figure("width").at_least("either") - CONTACT
    width = judged.provided.get("width", 0.0)
    return not narrow - TOUCH <= width < asked.width


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one item's way out must be.

    Attributes:
        item: The item.
        situation: The room.
        entry: What the rule book says.
        printed: The size holds for the item; else it is a measure only.
    """

    item: Placed
    situation: Situation
    entry: Entry
    printed: bool

    @property
    def width(self) -> float:
        return self.situation.least(self.entry.figure("width"))

    @property
    def height(self) -> float:
        return self.situation.least(self.entry.figure("height"))

    @property
    def judgement(self) -> Judgement:
        """What every judgement of the item begins with."""
        return Judgement(
            requirement=REQUIREMENT,
            subject=self.item.id,
            verdict="met",
            citation=self.entry.citation,
            reason="",
            required={"width": self.width, "height": self.height},
            printed={
                name: self.situation.printed(self.entry.figure(name))
                for name in WIDTH_AND_HEIGHT
            },
            unread=self.unread,
        )

    @property
    def unread(self) -> tuple[str, ...]:
        figures = [self.entry.figure(name) for name in WIDTH_AND_HEIGHT]
        return unread_figures(self.entry, figures, self.situation.measures)

    @property
    def size(self) -> str:
        """The size that is asked for, as the rule book prints it."""
        width, height = (self.entry.figure(name) for name in WIDTH_AND_HEIGHT)
        return size_told(width, height, self.situation)


def _shut(asked: _Asked, found: Leaving) -> Judgement:
    """Judge the way with all equipment doors shut."""
    judged, situation = asked.judgement, asked.situation
    if found.path is None:
        least = size(BODY, LOWEST, situation)
        why = f"No way leads out of the working space, not even one {least}."
        reason = sentences(found.asks or why, *stopped_leaves(situation))
        verdict: Verdict = "open" if found.asks else "not-met"
        return replace(judged, verdict=verdict, reason=reason, missing=found.asks)
    path = found.path
    ways = ways_of(situation)
    high = ways.clear_height(path.way, asked.width, found.height, found.gait)
    sizes = {"width": path.way.narrowest, "height": high}
    judged = replace(
        judged,
        provided={name: one for name, one in sizes.items() if one < float("inf")},
        margin=min(sizes[name] - judged.required[name] for name in sizes),
        way=path.drawn,
    )
    words = way_words(path, situation)
    if found.height < asked.height:
        words = sentences(words, f"It is {situation.length(found.height)} high.")
    if found.enough:
        words = sentences(words, *stopped_leaves(situation, path.way.door))
        doubt = found.asks or _survey(asked, found, larger=True)
        verdict = "open" if doubt else "met"
        reason = sentences(words, doubt)
        return replace(judged, verdict=verdict, reason=reason, missing=doubt)
    words = sentences(words, *stopped_leaves(situation))
    narrow = path.way.narrowest < asked.width - CONTACT
    judged = replace(judged, short="width" if narrow else "height")
    if not asked.printed:
        doubt = sentences(
            f"The rule book prints {asked.size} for large equipment only "
            f"({asked.entry.cite(judged.short)}), and no size for other equipment: the "
            "reviewer decides.",
            found.asks,
        )
        reason = sentences(words, doubt)
        return replace(judged, verdict="open", reason=reason, missing=doubt)
    doubt = _survey(asked, found, larger=False)
    verdict = "open" if doubt else "not-met"
    reason = sentences(words, f"Required is {asked.size}.", doubt)
    return replace(judged, verdict=verdict, reason=reason, missing=doubt)


def _survey(asked: _Asked, found: Leaving, *, larger: bool) -> str:
    """Say so where the survey tolerance decides."""
    situation = asked.situation
    tolerance = situation.survey_tolerance
    if not tolerance:
        return ""
    by = tolerance if larger else -tolerance
    stand = ways_of(situation).stand(asked.item)
    again = leave(stand, situation, asked.width + by, asked.height + by)
    if again.enough == found.enough:
        return ""
    return situation.survey_doubt


def _opened(asked: _Asked, found: Leaving, judged: Judgement) -> Judgement:
    """Judge the way again with equipment doors open, where the book asks for it."""
    situation, item = asked.situation, asked.item
    entry = situation.book.entry(TABLES[1])
    applies, missing = _applies(entry, item, situation)
    if applies is False or found.path is None:
        return judged
    # Where less is there already, the doors must not take any more of it.
    width = min(situation.least(entry.figure("width")), found.path.way.narrowest)
    height = min(situation.least(entry.figure("height")), found.height)
    tolerance = situation.survey_tolerance

    def left(doors: Doors, by: float = 0.0) -> Opened | None:
        return least_left(item, situation, width + by, height + by, doors)

    def shuts(doors: Doors, by: float = 0.0) -> Opened | None:
        opened = left(doors, by)
        bars = opened is not None and opened.width < width + by - CONTACT
        return opened if bars else None

    if (shut := shuts("stated")) is not None:
        survey = "" if shuts("stated", -tolerance) else situation.survey_doubt
        doubt = sentences(missing, found.asks, survey)
        return _shut_by(shut, judged, entry, doubt, situation)
    if judged.verdict == "not-met":
        return judged
    if (shut := shuts("all")) is not None:
        leaves = ways_of(situation).leaves
        unsaid = sorted({leaf.item for leaf in leaves if leaf.assumed})
        doubt = (
            f"Nothing is said about the doors of {', '.join(unsaid)}: one leaf over "
            "the whole front was taken, hinged either side. Say how they open (door or "
            "doors)."
        )
        doubt = sentences(doubt, judged.missing)
        return _shut_by(shut, judged, entry, doubt, situation)
    if judged.verdict == "open":
        return judged
    if tolerance and shuts("all", tolerance):
        doubt = situation.survey_doubt
        reason = sentences(judged.reason, f"{_OPEN} the way is only just clear.", doubt)
        return replace(judged, verdict="open", reason=reason, missing=doubt)
    return _clear(left("all"), judged, item, situation)


def _clear(
    opened: Opened | None, judged: Judgement, item: Placed, situation: Situation
) -> Judgement:
    """Return the judgement where open doors leave enough, and say how much."""
    leaves = ways_of(situation).leaves
    own = any(leaf.assumed and leaf.item == item.id for leaf in leaves)
    judged = replace(judged, assumed=((item.id, LEAF_TAKEN),) if own else ())
    clear = "The way stays clear with equipment doors open"
    if opened is None or opened.width >= judged.provided["width"] - TOUCH:
        return replace(judged, reason=sentences(judged.reason, f"{clear}."))
    if opened.path is not None:
        clear = f"{clear}; it is then {neck_words(opened.path, situation)}"
    return replace(
        _narrowed(judged, opened), reason=sentences(judged.reason, f"{clear}.")
    )


def _narrowed(judged: Judgement, opened: Opened) -> Judgement:
    """Return the judgement with the width that open doors leave, where that is less."""
    if opened.width >= judged.provided["width"]:
        return judged
    sizes = {**judged.provided, "width": opened.width}
    return replace(
        judged,
        provided=sizes,
        margin=min(sizes[name] - judged.required[name] for name in sizes),
        way=judged.way if opened.path is None else opened.path.drawn,
    )


def _shut_by(
    shut: Opened, judged: Judgement, entry: Entry, doubt: str, situation: Situation
) -> Judgement:
    """Return the judgement where open doors shut somebody in; open where in doubt."""
    unread = unread_rules(entry, "measured_at")
    return replace(
        _narrowed(judged, shut),
        verdict="open" if doubt else "not-met",
        citation=entry.citation,
        reason=sentences(_shut_words(shut, situation), doubt),
        missing=doubt,
        short="width",
        unread=tuple(dict.fromkeys((*judged.unread, *unread))),
        margin=min(shut.width, judged.provided["width"]) - judged.required["width"],
    )


def _applies(
    entry: Entry, item: Placed, situation: Situation
) -> tuple[bool | None, str]:
    """Tell whether open doors count for an item, or what is missing to know it."""
    words = entry.words("applies")
    if not entry.given or "none" in words:
        return False, ""
    return (True, "") if "all" in words else is_large(item, situation)


def _shut_words(shut: Opened, situation: Situation) -> str:
    if shut.path is None:
        here = spot(shut.at, situation)
        return f"{_OPEN} no way is left from {here}."
    return f"{_OPEN}: {way_words(shut.path, situation)}"
