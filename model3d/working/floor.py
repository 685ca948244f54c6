"""The floor a person stands on in front of an item."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import covers
from model3d.geometry.tolerance import TOUCH
from model3d.working.front import front_of, slide

if TYPE_CHECKING:
    from model3d.scene.placed import Placed
    from model3d.situation import Situation


def floor_in_front(
    item: Placed, situation: Situation, width: float, depth: float
) -> float:
    """Return the height of the floor a person stands on in front, metres.

    A platform or a pad is the floor where it carries the whole width of the item and
    the depth that is asked for in any case; one that carries less is a step in it.
    """
    front = front_of(item)
    first, last = slide(front.width, width)
    left, right = min(last, 0.0), max(first + width, front.width)
    low, high = (left, 0.0, 0.0), (right, depth, front.top)
    tops: dict[float, list[list[tuple[float, float]]]] = {}
    for placed in situation.near(front.frame, low, high):
        standing = placed.front
        if placed.kind.name in _FLOORS and standing and standing.top < front.top:
            corners = [
                standing.frame.to_plan(u, v)
                for u, v in (
                    (0.0, 0.0),
                    (standing.width, 0.0),
                    (standing.width, -standing.depth),
                    (0.0, -standing.depth),
                )
            ]
            tops.setdefault(round(standing.top, 4), []).append(corners)
    area = [
        front.frame.to_plan(u, v)
        for u, v in (
            (0.0, TOUCH),
            (front.width, TOUCH),
            (front.width, depth),
            (0.0, depth),
        )
    ]
    return max((top for top in tops if covers(tops[top], area)), default=0.0)


_FLOORS: Final = ("platform", "pad")
