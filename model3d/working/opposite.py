"""What lies opposite an item: the sweep of its space's face across the room."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.extents import (
    BoxView,
    comes_from,
    past_contact,
    reaching,
)
from model3d.geometry.plan.cover.cover import closes, not_hidden, spots
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import fit_at, order_of_place, places_of_change
from model3d.working.within.inside import GROUNDED, Without

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    import numpy as np
    from numpy.typing import NDArray

    from model3d.geometry.frame import Triple
    from model3d.judging.measured.fit import Fit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space, Stretch
    from model3d.standing.placed import Placed
    from model3d.working.within.inside import Allowance

_ENDLESS: Final = float("inf")
_FIRST_LOOK: Final = 2.0
"""Metres. How far to look at first; then four times as far, until it is enough."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """A solid that the face of a space meets when it is swept ahead.

    Attributes:
        placed: The item.
        distance: Where it begins, metres ahead of the front.
        behind: From where on nothing is seen behind it, metres ahead of the front: of a
            slanted body not before its far end, for some of it may be nearer than that.
        stretch: What it must keep out of.
        outlook: What of the face it hides: polygons of right and up.
    """

    placed: Placed
    distance: float
    behind: float
    stretch: Stretch
    outlook: NDArray[np.float64]

    @property
    def may_close(self) -> bool:
        """Whether it is structure or gear, which end the sweep where they close it."""
        kind = self.placed.kind
        return kind.structure or kind.needs_working_space or kind.associated


@dataclass(frozen=True, slots=True)
class Opposite:
    """What decides the depth.

    Attributes:
        condition: Of the depth table.
        depth: Of that condition, metres.
        distance: To the nearest thing of the kind that makes it; infinite if none.
        placed: That thing; None where nothing is opposite.
        assumed: What was taken for granted.
    """

    condition: int
    depth: float
    distance: float = _ENDLESS
    placed: Placed | None = None
    assumed: tuple[tuple[str, str], ...] = ()


def opposite(
    space: Space, situation: Situation, found: Fit, allowance: Allowance
) -> Opposite:
    """Return the condition that leaves least over, of those that something makes.

    Each solid opposite must stand as far away as the condition that it makes asks;
    what counts is how much further it stands. Of equal ones the greatest condition is
    told.
    """
    written = allowance.item.item
    stated = None if written is None else written.condition
    if stated is None:
        return _told(_seen(space, situation, found.place, allowance), allowance)
    # One depth for whatever is opposite: the nearest thing is what counts.
    depth = allowance.depths[stated - 1]
    same = replace(allowance, depths=(depth, depth, depth))
    told = _told(_seen(space, situation, found.place, same), same)
    return replace(told, condition=stated, assumed=())


def _told(seen: list[Ahead], allowance: Allowance) -> Opposite:
    depths = allowance.depths
    made = [(_condition(one, allowance), one) for one in seen]
    left = [
        (round(one.distance - depths[condition - 1], 9), -condition)
        for condition, one in made
    ]
    if not left:
        return Opposite(1, depths[0])
    condition = -min(left)[1]
    near = min(
        (one for other, one in made if other >= condition),
        key=lambda one: (one.distance, one.placed.id),
    )
    depth = depths[condition - 1]
    unknown = condition == GROUNDED and near.placed.grounded is None
    doubted = near.distance < near.stretch.possible - TOUCH
    said = "Nothing says what it is made of: taken as grounded."
    assumed = ((near.placed.id, said),) if unknown and not doubted else ()
    return Opposite(condition, depth, near.distance, near.placed, assumed)


def _condition(one: Ahead, allowance: Allowance) -> int:
    """Return the condition that a solid makes where it stands.

    A wall of which nothing is said is taken as grounded; of anything else of which
    nothing is said the lesser is told, and where that decides it is asked for.
    """
    placed, condition = one.placed, allowance.condition(one.placed, one.distance)
    unknown = condition == GROUNDED and placed.grounded is None
    return 1 if unknown and not placed.kind.wall else condition


def in_this_room(space: Space, situation: Situation, found: Fit) -> tuple[Space, Fit]:
    """Return a space and how it fits where what stands in another room is left out.

    Structure or gear that closes the whole face ends the sweep: what is behind it is
    not opposite. Whether something is behind depends on where the space stands; that
    changes only where a side of the space passes an end of what may close it.
    """
    if not found.all or not _may_close(space, situation):
        return space, found
    places = {found.place, *places_of_change(space, situation)}
    seen = [_in_sight(place, space, situation) for place in sorted(places)]
    return min(seen, key=lambda one: order_of_place(one[1], one[0]))


def _may_close(space: Space, situation: Situation) -> bool:
    """Tell whether anything ahead may end the sweep before the space ends."""
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    ahead = _ahead(space, situation, (low, high))
    closing = [one.distance for one in ahead if one.may_close]
    return bool(closing) and ahead[-1].distance > min(closing) + TOUCH


def _in_sight(place: float, space: Space, situation: Situation) -> tuple[Space, Fit]:
    hidden = _hidden(space, situation, place)
    seen = replace(space, limit=Without(space.limit, hidden)) if hidden else space
    return seen, fit_at(place, seen, situation)


def _hidden(space: Space, situation: Situation, place: float) -> frozenset[str]:
    """Return what stands behind the closed face of a space at a place."""
    low = (place, 0.0, space.bottom)
    high = (place + space.width, space.depth, space.top)
    found = _ahead(space, situation, (low, high))
    kept = {one.placed.id for one in _until_closed(found, space, place)}
    return frozenset(one.placed.id for one in found if one.placed.id not in kept)


def _seen(
    space: Space, situation: Situation, place: float, allowance: Allowance
) -> list[Ahead]:
    """Return what the sweep meets, as far as it can decide the condition."""
    left, right = place, place + space.width
    # A little further than the room goes, so that its far wall is met.
    far = situation.reach_ahead(space.frame, left, right) + 2 * TOUCH
    far = min(far, situation.size)
    # What is further than this behind the nearest leaves more over than that.
    more = max(allowance.depths) - min(allowance.depths) + 2 * TOUCH
    reach = min(_FIRST_LOOK, far)
    while True:
        box = (left, 0.0, space.bottom), (right, reach, space.top)
        found = _until_closed(_ahead(space, situation, box), space, place)
        enough = found[0].distance + more if found else _ENDLESS
        if reach >= far or reach >= enough:
            return found
        reach = min(max(4 * reach, enough if found else 0.0), far)


def _until_closed(found: list[Ahead], space: Space, place: float) -> list[Ahead]:
    """Return what the sweep meets before its face is closed, the nearest first."""
    face = (place, space.bottom, place + space.width, space.top)
    closing: list[Ahead] = []
    closed, seen = _ENDLESS, spots(face)
    for one in found:
        if one.may_close:
            closing.append(one)
            seen = not_hidden(seen, one.outlook)
            # To put all together is dear: only where no spot is seen past it.
            if not len(seen) and closes((other.outlook for other in closing), face):
                closed = max(other.behind for other in closing)
                break
    return [one for one in found if one.distance <= closed + TOUCH]


def _ahead(
    space: Space, situation: Situation, box: tuple[Triple, Triple]
) -> list[Ahead]:
    """Return what is met in a box ahead, the nearest first."""
    found = _met(space, situation.near(space.frame, *past_contact(*box)), box)
    return sorted(found, key=lambda one: (round(one.distance, 9), one.placed.id))


def _met(
    space: Space, asked: Iterable[Placed], box: tuple[Triple, Triple]
) -> Iterator[Ahead]:
    low, high = box
    for placed in asked:
        stretch = space.limit(placed)
        if stretch is None or stretch.part("possible")[1] <= stretch.start:
            continue
        view = placed.solid.seen_from(space.frame)
        start = min(max(low[1], stretch.start), high[1])
        here = (low[0], start, low[2])
        extents = reaching(view, here, high)
        if extents is None:
            continue
        # What comes from the item's own wall is above or below it, not opposite.
        if not (
            stretch.start > 0
            and extents[0][1] <= start + TOUCH
            and comes_from(view, start, *extents)
        ):
            near, far = extents[0][1], extents[1][1]
            behind = near if isinstance(view, BoxView) else far
            yield Ahead(placed, near, behind, stretch, view.outlook(here, high))
