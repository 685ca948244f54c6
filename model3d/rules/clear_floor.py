"""Floor of the working space, level and clear.

Applies to: every item that needs a working space of the low-voltage tables, except in
places of limited access.

Measures: the floor under the working space in front, at the place where it was tested,
to the nearest edge: the end of the platform that one stands on, or a pit.

Breach: a floor that drops within the depth. The rule prints no figure. What stands on
the floor and breaks the working space is told there, and not a second time here.

Exceptions: what may be inside the working space, such as a pad a little way past the
front. Where a smaller working space may be permitted, its floor is open too. How flat
the floor itself is no scene says, and it is not judged.

Source: NEC 110.26(A)(6) since 2023.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.tolerance import TOUCH
from model3d.judging.limit import at_least
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Intrusion, Judgement
from model3d.judging.verdict import clear_box
from model3d.wording import sentences
from model3d.working.footing import ask_pit
from model3d.working.front import is_limited
from model3d.working.tested import deepest, floor_beside, tested

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed
    from model3d.working.tested import Tested

TABLES: Final = ("clear-floor",)
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the floor of the working space of an item."""
    entry = situation.book.entry(TABLES[0])
    if not item.live or not entry.given:
        return
    it = tested(item, situation)
    if it.figures.high_voltage or is_limited(situation):
        return
    judged = Judgement(
        REQUIREMENT,
        item.id,
        "met",
        entry.cite("clear"),
        "The floor of the working space is clear and does not drop.",
        unread=unread_rules(entry, "clear"),
    )
    if told := ask_pit(item, situation):
        yield replace(judged, verdict="open", reason=told, missing=told)
    elif it.edge is not None:
        yield _dropping(judged, it, situation)
    elif told := floor_beside(it, situation):
        yield replace(judged, verdict="open", reason=told, missing=told)
    elif it.found.hits and it.space.permission:
        told = it.space.permission
        yield replace(judged, verdict="open", reason=told, missing=told)
    elif any(hit.extents[0][2] <= it.space.bottom + TOUCH for hit in it.found.all):
        told = "Nothing breaks the floor but what the working space tells of already."
        yield replace(judged, reason=told)
    else:
        yield judged


def _dropping(judged: Judgement, it: Tested, situation: Situation) -> Judgement:
    """Judge a floor that drops: not met within the depth that is asked for."""
    edge = it.edge
    if edge is None:
        return judged
    behind = it.figures.behind
    depth, found = it.depth + behind, edge.distance + behind
    figures = it.figures.printed_depths
    printed = {"depth": figures[it.opposite.condition - 1]} if figures else {}
    verdict, why = at_least(found, depth, situation)
    missing = why
    unknown: tuple[str, ...] = ()
    if verdict == "met" and it.figures.missing:
        # Further than the least depth there is, and the depth is not known.
        verdict, missing, unknown = "open", it.figures.missing, ("depth",)
    elif verdict == "not-met" and it.space.permission:
        verdict, missing = "open", it.space.permission
    said = (edge.words(situation, depth), missing)
    pits = edge.names if edge.is_pit else ()
    return replace(
        judged,
        verdict=verdict,
        reason=sentences(*said),
        missing=missing,
        unknown=unknown,
        short="depth",
        required={"depth": depth},
        printed=printed,
        provided={"depth": found} if found > TOUCH else {},
        margin=found - depth,
        intrusions=tuple(_pit(name, it, situation) for name in pits),
        shapes=(clear_box(replace(it.space, depth=it.depth), it.found),),
    )


def _pit(name: str, it: Tested, situation: Situation) -> Intrusion:
    """Return what of the working space's floor a pit takes."""
    pit = situation.arrangement.items[name]
    # As deep as its edge was looked for.
    deep = deepest(situation) if it.figures.missing else it.depth
    low = (it.found.place, 0.0, pit.bottom)
    high = (
        it.found.place + it.space.width,
        deep + situation.survey_tolerance,
        pit.top,
    )
    body = situation.shared(pit, it.space.frame, low, high)
    return Intrusion(name, body)
