"""Judge a way out with all equipment doors shut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.judged.dead_end import dead_end
from model3d.egress.on_the_way import lowest_place
from model3d.egress.route.doorways import stopped_leaves
from model3d.egress.route.told import low_words, size, way_words
from model3d.egress.shut import LOWEST, leave
from model3d.egress.ways import ways_of
from model3d.wording import sentences
from model3d.wording.said import say

if TYPE_CHECKING:
    from model3d.egress.judged.asked import WayAsked
    from model3d.egress.shut import Leaving
    from model3d.judging.results import Judgement, Verdict


def judged_shut(asked: WayAsked, found: Leaving) -> Judgement:
    """Judge the way with all equipment doors shut."""
    judged, situation = asked.judgement, asked.situation
    if found.path is None:
        least = size(BODY, LOWEST, situation)
        why = say("No way leads out of the working space, not even one {}.", least)
        reason = sentences(found.asks or why, *stopped_leaves(situation))
        verdict: Verdict = "open" if found.asks else "not-met"
        stand = ways_of(situation).stand(asked.item)
        end = None if found.asks else dead_end(stand, situation)
        return replace(
            judged, verdict=verdict, reason=reason, missing=found.asks, dead_end=end
        )
    path = found.path
    low = lowest_place(path.way, situation, asked.width, found.height, found.gait)
    sizes = {"width": path.way.narrowest, "height": low.height}
    judged = replace(
        judged,
        provided={name: one for name, one in sizes.items() if one < float("inf")},
        margin=min(sizes[name] - judged.required[name] for name in sizes),
        way=path.drawn and replace(path.drawn, lowest_at=low.at),
    )
    words = way_words(path, situation, asked.width)
    narrow = path.way.narrowest < asked.width - CONTACT
    if found.height < asked.height:
        high_told = situation.length(found.height, asked.height)
        words = (
            sentences(words, say("It is {} high.", high_told))
            if narrow
            else low_words(path, high_told, situation)
        )
    if found.enough:
        words = sentences(words, *stopped_leaves(situation, path.way.door))
        doubt = found.asks or _survey(asked, found, larger=True)
        verdict = "open" if doubt else "met"
        reason = sentences(words, doubt)
        return replace(judged, verdict=verdict, reason=reason, missing=doubt)
    words = sentences(words, *stopped_leaves(situation))
    judged = replace(judged, short="width" if narrow else "height")
    holds, unsaid = asked.holds
    if not holds:
        doubt = sentences(
            unsaid,
            say(
                "The rule book prints {} for {} only ({}), and no size for other "
                "equipment: the reviewer decides.",
                asked.size,
                asked.printed_for,
                asked.entry.cite(judged.short),
            ),
            found.asks,
        )
        reason = sentences(words, doubt)
        return replace(judged, verdict="open", reason=reason, missing=doubt)
    doubt = _survey(asked, found, larger=False)
    verdict = "open" if doubt else "not-met"
    reason = sentences(words, say("Required is {}.", asked.size), doubt)
    cited = judged.citation if asked.printed else asked.entry.cite(judged.short)
    return replace(
        judged, verdict=verdict, citation=cited, reason=reason, missing=doubt
    )


def _survey(asked: WayAsked, found: Leaving, *, larger: bool) -> str:
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
