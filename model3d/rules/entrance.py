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
lets them: more open doors only take floor away, so all open is the worst.

Breach: no way at all; at low voltage no size is printed for ordinary equipment, so a
way narrower or lower than the size printed for large equipment is left open, with its
size. Above the low-voltage table the printed size holds for every item. With equipment
doors open: a place in the working space where somebody can stand but has no way of the
printed size left.

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

from model3d.egress.doorways import stopped_leaves
from model3d.egress.exits import BODY
from model3d.egress.floor import CONTACT
from model3d.egress.large import is_large
from model3d.egress.leaving import LOWEST, leave, shut_in
from model3d.egress.words import (
    WIDTH_AND_HEIGHT,
    joined,
    measure_again,
    size,
    spot,
    way_words,
)
from model3d.notes import rule_from_memory, unread_figures
from model3d.results import Judgement
from model3d.working import is_high_voltage
from model3d.working.front import is_relieved
from model3d.working.sides import TITLES, WORKED_AT, reached, turned

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.egress.leaving import Leaving, Shut
    from model3d.egress.stand import Stand
    from model3d.egress.ways import Doors
    from model3d.results import Verdict
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

TABLES: Final = ("entrance", "equipment-doors-open", "high-voltage-entrance")
REQUIREMENT: Final = "entrance"
_ASK_DOORS: Final = "Say where the personnel doors are (room.doors)."
_TAKEN: Final = "Nothing is said about doors: one leaf over the whole front was tested."
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
    if not situation.ways.exits:
        if is_relieved(situation):
            # The opening to a place of limited access is judged by its own rule.
            return
        ask = _ASK_DOORS
        yield replace(asked.judgement, verdict="open", reason=ask, missing=ask)
        return
    stand = situation.ways.stand(item)
    found = leave(stand, situation, asked.width, asked.height)
    judged = _shut(asked, found)
    if found.path is not None and not over:
        judged = _opened(asked, stand, found, judged)
    yield judged


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
                key: self.situation.printed(self.entry.figure(key))
                for key in WIDTH_AND_HEIGHT
            },
            unread=self.unread,
        )

    @property
    def unread(self) -> tuple[str, ...]:
        figures = [self.entry.figure(key) for key in WIDTH_AND_HEIGHT]
        return unread_figures(self.entry, figures, self.situation.measures)

    @property
    def told(self) -> str:
        wide, high = (
            self.situation.told(self.entry.figure(key)) for key in WIDTH_AND_HEIGHT
        )
        return f"{wide} wide and {high} high"


def _shut(asked: _Asked, found: Leaving) -> Judgement:
    """Judge the way with all equipment doors shut."""
    judged, situation = asked.judgement, asked.situation
    if found.path is None:
        least = size(BODY, LOWEST, situation)
        why = f"No way leads out of the working space, not even one {least}."
        reason = joined(found.asks or why, *stopped_leaves(situation))
        verdict: Verdict = "open" if found.asks else "not-met"
        return replace(judged, verdict=verdict, reason=reason, missing=found.asks)
    path = found.path
    high = situation.ways.clear_height(path.way, asked.width, found.height, found.gait)
    sizes = {"width": path.way.narrowest, "height": high}
    judged = replace(
        judged,
        provided={name: one for name, one in sizes.items() if one < float("inf")},
        margin=min(sizes[name] - judged.required[name] for name in sizes),
        way=path.drawn,
    )
    words = way_words(path, situation)
    if found.height < asked.height:
        words = joined(words, f"It is {situation.length(found.height)} high.")
    if found.enough:
        words = joined(words, *stopped_leaves(situation, path.way.door))
        doubt = found.asks or _survey(asked, found, larger=True)
        verdict = "open" if doubt else "met"
        reason = joined(words, doubt)
        return replace(judged, verdict=verdict, reason=reason, missing=doubt)
    words = joined(words, *stopped_leaves(situation))
    narrow = path.way.narrowest < asked.width - CONTACT
    judged = replace(judged, short="width" if narrow else "height")
    if not asked.printed:
        doubt = joined(
            f"The rule book prints {asked.told} for large equipment only, and no size "
            "for other equipment: the reviewer decides.",
            found.asks,
        )
        return replace(
            judged,
            verdict="open",
            citation=asked.entry.cite(judged.short),
            reason=joined(words, doubt),
            missing=doubt,
        )
    doubt = _survey(asked, found, larger=False)
    verdict = "open" if doubt else "not-met"
    reason = joined(words, f"Required is {asked.told}.", doubt)
    return replace(judged, verdict=verdict, reason=reason, missing=doubt)


def _survey(asked: _Asked, found: Leaving, *, larger: bool) -> str:
    """Say so where the survey tolerance decides."""
    situation = asked.situation
    tolerance = situation.survey_tolerance
    if not tolerance:
        return ""
    by = tolerance if larger else -tolerance
    stand = situation.ways.stand(asked.item)
    again = leave(stand, situation, asked.width + by, asked.height + by)
    if again.enough == found.enough:
        return ""
    return measure_again(situation)


def _opened(
    asked: _Asked, stand: Stand, found: Leaving, judged: Judgement
) -> Judgement:
    """Judge the way again with equipment doors open, where the book asks for it."""
    situation, item = asked.situation, asked.item
    entry = situation.book.entry(TABLES[1])
    applies, question = _applies(entry, item, situation)
    if applies is False or found.path is None:
        return judged
    width, height = (situation.least(entry.figure(key)) for key in WIDTH_AND_HEIGHT)
    # Where less is there already, the doors must not take any more of it.
    width, height = min(width, found.path.way.narrowest), min(height, found.height)
    tolerance = situation.survey_tolerance

    def shuts(doors: Doors, by: float = 0.0) -> Shut | None:
        return shut_in(stand, situation, width + by, height + by, doors)

    if (shut := shuts("stated")) is not None:
        survey = "" if shuts("stated", -tolerance) else measure_again(situation)
        doubt = joined(question, found.asks, survey)
        return _shut_by(shut, judged, entry, doubt, situation)
    shut = shuts("all")
    if shut is not None and judged.verdict != "not-met":
        unsaid = sorted({leaf.item for leaf in situation.ways.leaves if leaf.assumed})
        doubt = (
            f"Nothing is said about the doors of {', '.join(unsaid)}: one leaf over "
            "the whole front was taken, hinged either side. Say how they open (door or "
            "doors)."
        )
        reason = joined(judged.reason, _shut_words(shut, situation), doubt)
        citation = entry.citation
        return replace(
            judged, verdict="open", citation=citation, reason=reason, missing=doubt
        )
    if shut is not None or judged.verdict != "met":
        return judged
    if tolerance and shuts("all", tolerance):
        doubt = measure_again(situation)
        reason = joined(judged.reason, f"{_OPEN} the way is only just clear.", doubt)
        return replace(judged, verdict="open", reason=reason, missing=doubt)
    clear = "The way stays clear with equipment doors open."
    leaves = situation.ways.leaves
    own = any(leaf.assumed and leaf.item == item.id for leaf in leaves)
    return replace(
        judged,
        reason=joined(judged.reason, clear),
        assumed=((item.id, _TAKEN),) if own else (),
    )


def _shut_by(
    shut: Shut, judged: Judgement, entry: Entry, doubt: str, situation: Situation
) -> Judgement:
    """Return the judgement where open doors shut somebody in; open where in doubt."""
    left = 0.0 if shut.path is None else shut.path.way.narrowest
    return replace(
        judged,
        verdict="open" if doubt else "not-met",
        citation=entry.citation,
        reason=joined(
            _shut_words(shut, situation), doubt, rule_from_memory(entry, "measured_at")
        ),
        missing=doubt,
        short="width",
        provided={**judged.provided, "width": left},
        margin=left - judged.required["width"],
        way=judged.way if shut.path is None else shut.path.drawn,
    )


def _applies(
    entry: Entry, item: Placed, situation: Situation
) -> tuple[bool | None, str]:
    """Tell whether open doors count for an item, or what is missing to know it."""
    words = entry.words("applies")
    if not entry.given or "none" in words:
        return False, ""
    return (True, "") if "all" in words else is_large(item, situation)


def _shut_words(shut: Shut, situation: Situation) -> str:
    if shut.path is None:
        here = spot(shut.at, situation)
        return f"{_OPEN} no way is left from {here}."
    return f"{_OPEN}: {way_words(shut.path, situation)}"
