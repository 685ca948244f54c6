"""Decks under which one walks, and exits to which a stair leads up over them.

The ways out are searched on one level at each place of the plan: below such a deck that
is the floor, so that nothing is found over it. That is no proof that nobody gets there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.egress.ground.ground import ground_of
from model3d.egress.ground.levels import CLIMB, plan_of
from model3d.geometry.tolerance import TOUCH
from model3d.wording.said import ids, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.egress.ground.levels import Level
    from model3d.geometry.plan import flat
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


def is_raised(
    one: Level, area: flat.Geometry, floor: float, situation: Situation
) -> bool:
    """Tell whether there is room below what is walked on; none where it stands.

    It stands on the floor, or on what does so: a thing may be drawn as several.

    Args:
        one: What is walked on.
        area: Where it is asked, in plan.
        floor: From which height on, metres.
        situation: The room.
    """
    here, bottom = one.plan.intersection(area), one.bottom
    while bottom > floor + TOUCH:
        under = [
            placed.bottom
            for placed in situation.items
            if abs(placed.top - bottom) <= TOUCH
            and placed.bottom < bottom - TOUCH
            and not placed.of_room
            and plan_of(placed).buffer(TOUCH).covers(here)
        ]
        if not under:
            return True
        bottom = min(under)
    return False


def ask_deck(situation: Situation, height: float) -> str:
    """Ask how one gets to exits beside decks that a stair leads to; "" without any.

    Args:
        situation: The room.
        height: Of the way, metres.
    """
    ground = ground_of(situation)
    walked = {one.id for one in ground.walked(height, "climb")}
    decks = [
        (one, plan_of(one))
        for one in situation.items
        if one.kind.walked and one.id not in walked and one.bottom >= height - TOUCH
    ]
    stairs = [(one, plan_of(one)) for one in situation.items if one.kind.stair]
    if not any(_meets(*stair, decks) for stair in stairs):
        return ""
    exits = [
        one.id
        for one in ground.exits
        if any(
            abs(deck.top - one.sill) <= CLIMB + TOUCH
            and plan.distance(one.passage) <= TOUCH
            for deck, plan in decks
        )
    ]
    if not exits:
        return ""
    return say(
        "{} lies beside {}, under which one walks: a person must say how one gets up "
        "there.",
        ids(exits),
        ids(deck.id for deck, _ in decks),
    )


def _meets(
    stair: Placed, plan: flat.Geometry, decks: Sequence[tuple[Placed, flat.Geometry]]
) -> bool:
    """Tell whether a stair ends at the height of one of some decks, beside it."""
    return any(
        abs(deck.top - stair.top) <= CLIMB + TOUCH and other.distance(plan) <= TOUCH
        for deck, other in decks
    )
