"""Judge a way out again with equipment doors open, where the book asks for it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.egress.ground.floor import CONTACT
from model3d.egress.large.gear import is_large
from model3d.egress.opened import least_left
from model3d.egress.route.doorways import stopped_among
from model3d.egress.route.told import neck_words, spot, way_words
from model3d.egress.shut import ask_hanging
from model3d.egress.ways import ways_of
from model3d.geometry.tolerance import TOUCH
from model3d.wording import LEAF_TAKEN, sentences
from model3d.wording.said import ids, lowered, say

if TYPE_CHECKING:
    from model3d.codebook import Entry
    from model3d.egress.judged.asked import WayAsked
    from model3d.egress.opened import Opened
    from model3d.egress.shut import Leaving
    from model3d.egress.ways import Doors
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

_OPEN: Final = "With equipment doors open at 90 degrees"

_NARROW: Final = (
    "With the doors shut there is no more room before that leaf: the reviewer decides."
)


def judged_open(
    asked: WayAsked, found: Leaving, judged: Judgement, entry: Entry
) -> Judgement:
    """Judge the way again with equipment doors open, where the book asks for it."""
    situation, item = asked.situation, asked.item
    applies, missing = doors_count(entry, item, situation)
    if applies is False or found.path is None:
        return judged
    # Where less is there already, the doors must not take any more of it.
    width = min(situation.least(entry.figure("width")), found.path.width)
    height = min(situation.least(entry.figure("height")), found.height)
    tolerance = situation.survey_tolerance

    def left(doors: Doors, by: float = 0.0, *, hopeful: bool = False) -> Opened | None:
        wide, high = width + by, height + by
        return least_left(item, situation, wide, high, doors, hopeful=hopeful)

    def shuts(doors: Doors, by: float = 0.0) -> Opened | None:
        opened = left(doors, by)
        bars = opened is not None and opened.width < width + by - CONTACT
        return opened if bars else None

    if (shut := shuts("stated")) is not None:
        survey = "" if shuts("stated", -tolerance) else situation.survey_doubt
        may_do = False
        if any(len(one.hangings) > 1 for one in shut.exits):
            hoped = left("stated", hopeful=True)
            may_do = hoped is None or hoped.width >= width - CONTACT
        asks = [ask_hanging(one.id, situation) for one in shut.exits] if may_do else []
        doubt = sentences(missing, found.asks, *dict.fromkeys(asks), survey)
        return _shut_by(shut, judged, entry, doubt, situation)
    if judged.verdict == "not-met":
        return judged
    if (shut := shuts("all")) is not None:
        unsaid = ways_of(situation).unsaid
        doubt = sentences(
            say(
                "Nothing is said about the doors of {}: one leaf over the whole front "
                "was taken, hinged either side.",
                ids(unsaid),
            ),
            "Say how they open (door or doors).",
            judged.missing,
        )
        return _shut_by(shut, judged, entry, doubt, situation)
    if judged.verdict == "open":
        return judged
    if tolerance and shuts("all", tolerance):
        doubt = situation.survey_doubt
        close = say("{} the way is only just clear.", _OPEN)
        reason = sentences(judged.reason, close, doubt)
        return replace(judged, verdict="open", reason=reason, missing=doubt)
    return _clear(left("all"), judged, entry, asked)


def _clear(
    opened: Opened | None, judged: Judgement, entry: Entry, asked: WayAsked
) -> Judgement:
    """Return the judgement where open doors leave enough, and say how much.

    A place beside a leaf that nobody has room before in any case is left open.
    """
    situation, item = asked.situation, asked.item
    if opened is not None and opened.narrow is not None:
        return _shut_by(opened.narrow, judged, entry, _NARROW, situation)
    own = item.id in ways_of(situation).unsaid
    judged = replace(judged, assumed=((item.id, LEAF_TAKEN),) if own else ())
    clear = "The way stays clear with equipment doors open"
    if opened is None or opened.width >= judged.provided["width"] - TOUCH:
        return replace(judged, reason=sentences(judged.reason, say("{}.", clear)))
    if opened.path is not None:
        clear = say(
            "{}; it is then {}", clear, neck_words(opened.path, situation, asked.width)
        )
    return replace(
        _narrowed(judged, opened), reason=sentences(judged.reason, say("{}.", clear))
    )


def _narrowed(judged: Judgement, opened: Opened) -> Judgement:
    """Return the judgement with the width that open doors leave, where that is less."""
    if opened.width >= judged.provided["width"]:
        return judged
    sizes = {**judged.provided, "width": opened.width}
    way, shut = judged.way, judged.way
    if opened.path is not None:
        way = opened.path.drawn
    if way is not None and shut is not None:
        # How high it is was measured with the doors shut, and stays what it is.
        way = replace(way, lowest_at=shut.lowest_at)
    return replace(
        judged,
        provided=sizes,
        margin=min(sizes[name] - judged.required[name] for name in sizes),
        way=way,
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
        reason=sentences(_shut_words(shut, situation, judged.required["width"]), doubt),
        missing=doubt,
        short="width",
        unread=tuple(dict.fromkeys((*judged.unread, *unread))),
        margin=min(shut.width, judged.provided["width"]) - judged.required["width"],
    )


def _shut_words(shut: Opened, situation: Situation, width: float) -> str:
    if shut.path is None:
        here = spot(shut.at, situation)
        stopped = stopped_among(shut.exits, situation)
        return sentences(say("{} no way is left from {}.", _OPEN, here), *stopped)
    door = shut.path.way.door
    words = way_words(shut.path, situation, width)
    said = say("{} {}", _OPEN, lowered(words))
    if not {door, f"the leaf of {door}"} & set(shut.path.neck.between):
        return said
    return sentences(said, *stopped_among(shut.exits, situation, door))


def doors_count(
    entry: Entry, item: Placed, situation: Situation
) -> tuple[bool | None, str]:
    """Tell whether open doors count for an item, or what is missing to know it."""
    words = entry.words("applies")
    if not entry.given or "none" in words:
        return False, ""
    return (True, "") if "all" in words else is_large(item, situation)
