"""A floor made of another floor of the same room, with what is known of that one."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.egress.doors.exits import Plan
    from model3d.egress.ground.floor import Floor


def resting_on(floor: Floor, before: Floor) -> Floor:
    """Return the same floor as one, made of another one of the room if it can be.

    Where nothing differs it is the other one; where more stands on it, it is that with
    more on it.

    Args:
        floor: The floor.
        before: The other one, of which much may have been worked out.
    """
    # To look at the corners of shapes takes long: the very same ones need no look.
    more, left = _unlike(floor.obstacles, before.obstacles, _very)
    more, left = _unlike(more, left, _as_drawn)
    if left or not _are_left_alike(floor, before):
        return floor
    return before.with_obstacles(more)


def _unlike(
    some: Sequence[Plan], others: Sequence[Plan], told: Callable[[Plan], object]
) -> tuple[list[Plan], list[Plan]]:
    """Return what of each of two lists is not in the other one, each in its order."""
    return _less(some, others, told), _less(others, some, told)


def _less(
    some: Sequence[Plan], others: Sequence[Plan], told: Callable[[Plan], object]
) -> list[Plan]:
    known = Counter(map(told, others))
    found = []
    for one in some:
        key = told(one)
        if known[key]:
            known[key] -= 1
        else:
            found.append(one)
    return found


def _very(one: Plan) -> object:
    name, plan = one
    return name, id(plan)


def _as_drawn(one: Plan) -> object:
    return one


def _are_left_alike(one: Floor, other: Floor) -> bool:
    """Tell whether two floors of one room have the same walls and exits."""
    return (
        one.hopeful == other.hopeful
        and [each.said for each in one.exits] == [each.said for each in other.exits]
        and one.walls == other.walls
        and (one.region is other.region or one.region == other.region)
    )
