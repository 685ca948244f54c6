"""Working space behind and beside equipment.

Applies to: every item of which is said (rear, sides) that something is reached from
behind or from a side.

Measures: where renewable or adjustable parts or connections are reached from there,
the whole working space on that side as from a front, by what lies opposite there.
Where only non-electrical parts are, the one figure horizontally, as wide as the item
is there and as high as the working space.

Breach: any solid in that space, by more than contact.

Exceptions: a bolted side needs no space. Where nothing is said of a side, none is
asked for. At very low voltage a smaller space may be permitted.

Source: NEC 110.26(A)(1)(a), Table 110.34(A); 29 CFR 1910.303 Tables S-1, S-2; 29 CFR
1926.403 Tables K-1, K-2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Space
from model3d.judging.verdict import judge
from model3d.wording import headed
from model3d.working import needs
from model3d.working.box import permission_of
from model3d.working.footing import floor_in_front
from model3d.working.front import front_of
from model3d.working.judged import judge_working_space
from model3d.working.sides import PASSIVE, TITLES, WORKED_AT, reached, turned
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.judging.space import Along
    from model3d.standing.placed import Placed
    from model3d.working.sides import AccessSide

TABLES: Final = (
    "rear-access",
    "low-voltage-permission",
    "working-space-depth",
    "working-space-width",
    "working-space-height",
    "high-voltage-depth",
    "high-voltage-width",
    "high-voltage-height",
)
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the space at every side of an item from which something is reached."""
    if not item.live:
        return
    for side, word in reached(item):
        there = turned(item, side)
        if word == WORKED_AT:
            judged = judge_working_space(there, situation, _words(side))
            reason = headed(TITLES[side], judged.reason)
            yield replace(judged, requirement=REQUIREMENT, side=side, reason=reason)
        elif word == PASSIVE:
            yield from _horizontal(there, side, situation)


def _words(side: AccessSide) -> dict[Along, str]:
    return {"out": "its back" if side == "rear" else f"its {side} side"}


def _horizontal(
    there: Placed, side: AccessSide, situation: Situation
) -> Iterator[Judgement]:
    """Judge the space at a side where only non-electrical parts are reached."""
    entry = situation.book.entry(TABLES[0])
    figures = needs(there, situation, situation.measures)
    key = "high_voltage_nonelectrical" if figures.high_voltage else "nonelectrical"
    if not entry.has(key):
        return
    figure, front = entry.figure(key), front_of(there)
    depth = situation.least(figure)
    floor = floor_in_front(there, situation, front.width, depth)
    top = front.top if figures.height is None else floor + figures.height
    space = Space(
        requirement=REQUIREMENT,
        subject=there.id,
        frame=front.frame,
        width=front.width,
        depth=depth,
        bottom=floor,
        top=top,
        limit=Allowance(there, situation, (depth,) * 3, figures),
        required={"depth": depth},
        measures={"depth": "out"},
        citations={ANY: entry.cite(key)},
        permission=permission_of(there, situation),
        words=_words(side),
        printed={"depth": situation.printed(figure)},
        unread={ANY: unread_figures(entry, (figure,), situation.measures, key)},
        reach=figures.reach or None,
        reach_printed=figures.printed.get("reach", ()),
    )
    judged = judge(space, situation)
    yield replace(judged, side=side, reason=headed(TITLES[side], judged.reason))
