"""The working space where it was tested: other rules ask what is in it there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import fit, fit_at
from model3d.wording import sentences
from model3d.wording.said import ids, say
from model3d.working.box import working_space
from model3d.working.footing import edge_of_floor, floor_in_front
from model3d.working.needs import needs
from model3d.working.opposite import in_this_room, opposite
from model3d.working.within.inside import Allowance, asked_in

if TYPE_CHECKING:
    from model3d.judging.measured.fit import Fit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.standing.placed import Placed
    from model3d.working.footing import Edge
    from model3d.working.needs import Needs
    from model3d.working.opposite import Opposite


@dataclass(frozen=True, slots=True)
class Tested:
    """A working space and how it fits.

    Attributes:
        item: The item it belongs to.
        figures: What the rule book prints for it.
        space: The space itself, which may slide.
        found: How it fits best.
        opposite: What decides its depth.
        edge: Where its floor drops; None where it does not.
    """

    item: Placed
    figures: Needs
    space: Space
    found: Fit
    opposite: Opposite
    edge: Edge | None

    @property
    def fixed(self) -> Space:
        """The space at its best place, where it slides no more."""
        place, front = self.found.place, self.space.front
        covers = None if self.space.is_narrow else front
        return replace(self.space, first=place, last=place, wanted=place, covers=covers)

    @property
    def depth(self) -> float:
        """The depth that holds by what lies opposite, metres."""
        return self.opposite.depth

    def asked_in(self, situation: Situation) -> Tested | None:
        """Return the same in a situation that differs nowhere where it looked.

        None where that is not known.
        """
        limit = asked_in(self.space.limit, situation)
        if limit is None:
            return None
        return replace(self, space=replace(self.space, limit=limit))


def tested(item: Placed, situation: Situation) -> Tested:
    """Return the working space of an item, where it fits best."""
    return situation.remembered(_tested, item)


def _tested(item: Placed, situation: Situation) -> Tested:
    figures = needs(item, situation, situation.measures)
    space = working_space(item, situation, figures)
    allowance = Allowance(item, situation, figures.depths, figures)
    space, found = in_this_room(space, situation, fit(space, situation))
    found = _on_whole_floor(item, figures, space, situation, found)
    what = opposite(space, situation, found, allowance)
    depth = deepest(situation) if figures.missing else what.depth
    edge = _edge(item, figures, space, situation, found.place, depth)
    return Tested(item, figures, space, found, what, edge)


def floor_before(item: Placed, situation: Situation) -> float:
    """Return the height of the floor or platform in front, metres."""
    if item.live:
        figures = tested(item, situation).figures
    else:
        figures = needs(item, situation, situation.measures)
    if not figures.limited:
        return figures.floor
    # There the working space begins at the item's own underside, not at the floor.
    return floor_in_front(item, situation, figures.width, min(figures.depths))


def deepest(situation: Situation) -> float:
    """Return the greatest depth of the low-voltage table, metres."""
    rows = situation.book.entry("working-space-depth").rows
    return max(situation.least(cell) for row in rows for cell in row.cells)


def _edge(
    item: Placed,
    figures: Needs,
    space: Space,
    situation: Situation,
    place: float,
    depth: float,
) -> Edge | None:
    depth += situation.survey_tolerance
    box = place, place + space.width, depth
    edge = edge_of_floor(item, situation, figures.floor, box)
    return None if edge is None or edge.distance >= depth - TOUCH else edge


def floor_beside(it: Tested, situation: Situation) -> str:
    """Say that a floor may drop before the front, if a survey is off; "" if not.

    The space covers the front wherever it slides: what is as near beside it may be
    before it.
    """
    tolerance = situation.survey_tolerance
    if not tolerance or it.edge is not None or it.space.is_narrow:
        return ""
    left, right = it.space.front
    box = left - tolerance, right + tolerance, it.depth + tolerance
    edge = edge_of_floor(it.item, situation, it.figures.floor, box)
    if edge is None:
        return ""
    words = "into {}" if edge.is_pit else "where {} ends"
    told = say("Beside the front the floor drops {}.", say(words, ids(edge.names)))
    return sentences(told, situation.survey_doubt)


def _on_whole_floor(
    item: Placed, figures: Needs, space: Space, situation: Situation, found: Fit
) -> Fit:
    """Return how a space fits where its floor is whole too, if there is such a place.

    A pit beside the front may be left beside the space, and so may the end of a
    platform.
    """
    if space.first == space.last or found.all:
        return found
    edge = _edge(item, figures, space, situation, found.place, space.depth)
    if edge is None:
        return found
    ends = [*_ends_of_floors(figures, space, situation)]
    places = {*ends, *(end - space.width for end in ends)}
    allowed = [place for place in places if space.first <= place <= space.last]
    for place in sorted(allowed, key=lambda one: (abs(one - space.wanted), one)):
        if _edge(item, figures, space, situation, place, space.depth) is None:
            there = fit_at(place, space, situation)
            if not there.all:
                return there
    return found


def _ends_of_floors(figures: Needs, space: Space, situation: Situation) -> list[float]:
    """Return where pits, platforms and pads end sideways, in the space's frame."""
    low = (space.first, 0.0, figures.floor - _DEEP)
    high = (space.last + space.width, space.depth, space.top)
    limit = (-float("inf"), *low[1:]), (float("inf"), *high[1:])
    found: list[float] = []
    for placed in situation.near(space.frame, low, high):
        if placed.kind.hole or placed.kind.underfoot:
            extents = placed.solid.seen_from(space.frame).extents(*limit)
            if extents is not None:
                found += [extents[0][0], extents[1][0]]
    return found


_DEEP = 100.0
"""Metres. A pit is looked for as far below the floor as this."""
