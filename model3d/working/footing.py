"""The floor a person stands on in front of an item, and where it drops."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.extents import reaching
from model3d.geometry.plan.outline import covers, nearest_uncovered
from model3d.geometry.tolerance import TOUCH
from model3d.wording.said import Named, ids, say
from model3d.working.front import front_of, slide

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Frame
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

    Corners = list[tuple[float, float]]

_FOOTHOLD: Final = 0.2
"""Metres. Nobody stands on less (common practice): a platform that ends nearer to the
front is a step before it."""


def floor_in_front(
    item: Placed, situation: Situation, width: float, depth: float
) -> float:
    """Return the height of the floor a person stands on in front, metres.

    A platform is the floor where it carries the whole width of the item from its front
    on, even if it ends within the depth. Where a pad carries the whole depth too, it is
    floor as well; one that carries less is a step. One under which a body passes, and
    which is higher than the item's middle, is over one's head.
    """
    front = front_of(item)
    carried: dict[float, list[Corners]] = {}
    platforms: dict[float, list[Corners]] = {}
    for placed in _near(item, situation, width, depth):
        standing = placed.front
        if standing is not None and _is_below(standing, front):
            top = round(standing.top, 4)
            carried.setdefault(top, []).append(_plan(placed))
            if placed.kind.platform:
                platforms.setdefault(top, []).append(_plan(placed))
    whole = _ahead(front.frame, 0.0, front.width, depth)
    near = _ahead(front.frame, 0.0, front.width, min(_FOOTHOLD, depth))
    return max(
        (
            top
            for top, plans in carried.items()
            if covers(plans, whole) or covers(platforms.get(top, []), near)
        ),
        default=0.0,
    )


def _is_below(standing: Front, front: Front) -> bool:
    """Tell whether people who work at a front may stand on something."""
    if standing.bottom < PASSED_UNDER:
        return standing.top < front.top
    return standing.top < (front.bottom + front.top) / 2


PASSED_UNDER: Final = 0.5
"""Metres. What is lower than that no body passes under: requirements.md, no way."""


@dataclass(frozen=True, slots=True)
class Edge:
    """Where the floor in front of an item drops.

    Attributes:
        distance: Ahead of the front, metres.
        names: What ends there, or the pits that open there.
        is_pit: Whether it is a pit.
    """

    distance: float
    names: tuple[str, ...]
    is_pit: bool

    def words(self, situation: Situation, depth: float) -> str:
        """Tell where the floor drops, beside the depth that is asked for, metres."""
        names = ids(self.names)
        where = say("into {}", names) if self.is_pit else say("where {} ends", names)
        if self.distance <= TOUCH:
            return say("The floor drops right at the front, {}.", where)
        away = situation.length(self.distance, depth)
        return say("The floor drops {} ahead of the front, {}.", away, where)


def edge_of_floor(
    item: Placed,
    situation: Situation,
    floor: float,
    box: tuple[float, float, float],
) -> Edge | None:
    """Return where the floor ahead of a front drops; None where it does not.

    A raised floor ends where no platform or pad of its height goes on; any floor has
    an edge at a pit.

    Args:
        item: The item.
        situation: The room.
        floor: Height of the floor in front, metres.
        box: Left and right side of the space and its depth, in the item's frame.
    """
    left, right, depth = box
    frame = front_of(item).frame
    edges = [*_pits(item, situation, floor, box)]
    if floor > TOUCH:
        carried = [
            placed
            for placed in _near(item, situation, right - left, depth)
            if placed.front is not None and abs(placed.front.top - floor) <= TOUCH
        ]
        area = _ahead(frame, left, right, depth)
        end = nearest_uncovered([_plan(one) for one in carried], area, frame)
        if end is not None:
            names = tuple(sorted(one.id for one in carried))
            edges.append(Edge(end, names, is_pit=False))
    return min(edges, key=lambda edge: (edge.distance, edge.names), default=None)


def may_be_in_pit(front: Front, situation: Situation) -> bool:
    """Tell whether gear of this height may hang in a pit, wherever it is moved to."""
    return front.bottom < -TOUCH and bool(situation.pits)


def ask_pit(item: Placed, situation: Situation) -> str:
    """Ask for a pit that an item is worked at in; "" where there is none.

    What hangs lower than the floor right behind a pit is worked at from its bottom:
    neither that floor nor the sides of the pit are judged.
    """
    front = item.front
    if front is None or not may_be_in_pit(front, situation):
        return ""
    before = 0.0, front.width, _FOOTHOLD
    for edge in _pits(item, situation, 0.0, before):
        if edge.distance <= TOUCH:
            words = "{} hangs in {}, and a pit is not judged: draw it as a room."
            return say(words, Named(item.id), ids(edge.names))
    return ""


def _pits(
    item: Placed, situation: Situation, floor: float, box: tuple[float, float, float]
) -> Iterator[Edge]:
    left, right, depth = box
    frame = front_of(item).frame
    for placed in situation.pits:
        if placed.top < floor - TOUCH:
            continue
        low, high = (left, 0.0, placed.bottom), (right, depth, max(placed.top, floor))
        extents = reaching(placed.solid.seen_from(frame), low, high)
        if extents is not None:
            yield Edge(extents[0][1], (placed.id,), is_pit=True)


def _near(
    item: Placed, situation: Situation, width: float, depth: float
) -> list[Placed]:
    """Return the platforms and pads near the space of an item."""
    front = front_of(item)
    first, last = slide(front.width, width)
    left, right = min(first, 0.0), max(last + width, front.width)
    low, high = (left, 0.0, 0.0), (right, depth, front.top)
    return [
        placed
        for placed in situation.near(front.frame, low, high)
        if placed.kind.underfoot and placed.front is not None
    ]


def _plan(placed: Placed) -> Corners:
    front = front_of(placed)
    corners = (
        (0.0, 0.0),
        (front.width, 0.0),
        (front.width, -front.depth),
        (0.0, -front.depth),
    )
    return [front.frame.to_plan(u, v) for u, v in corners]


def _ahead(frame: Frame, left: float, right: float, depth: float) -> Corners:
    corners = ((left, TOUCH), (right, TOUCH), (right, depth), (left, depth))
    return [frame.to_plan(u, v) for u, v in corners]
