"""A floor made of another floor of the same room, with what is known of that one."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from model3d.egress.ground.floor import Floor


def resting_on(floor: Floor, before: Floor) -> Floor:
    """Return the same floor as one, made of another one of the room if it can be.

    Where nothing differs it is the other one; where more stands on it, it is that with
    more on it.

    Args:
        floor: The floor.
        before: The other one, of which much may have been worked out.
    """
    left = Counter(before.obstacles)
    more = []
    for one in floor.obstacles:
        if left[one]:
            left[one] -= 1
        else:
            more.append(one)
    if any(left.values()) or not _are_left_alike(floor, before):
        return floor
    return before.with_obstacles(more)


def _are_left_alike(one: Floor, other: Floor) -> bool:
    """Tell whether two floors of one room have the same walls and exits."""
    return (
        one.hopeful == other.hopeful
        and [each.said for each in one.exits] == [each.said for each in other.exits]
        and one.walls == other.walls
        and one.region == other.region
    )
