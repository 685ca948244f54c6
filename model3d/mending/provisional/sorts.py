"""Solids sorted by what a space asks of them, so that each sort is asked once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.bodies.solid import Box
from model3d.geometry.frame import Frame
from model3d.mending.provisional.tenths import tenths
from model3d.working.front import front_of

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.judging.space import Limit, Stretch
    from model3d.standing.placed import Front, Placed

_AWAY: Final = 1e5
"""Metres by which a thing is taken aside to ask what holds where nothing faces it."""
_SLIGHTLY: Final = 0.01
"""Metres."""

Asked = list[int] | None
"""From where to where a solid must keep out for certain, and possibly; None: it may."""


@dataclass(frozen=True)
class Sorts:
    """The solids of a scene, sorted.

    Attributes:
        situation: The scene.
    """

    situation: Situation

    @cached_property
    def keys(self) -> list[tuple[object, ...]]:
        """What tells the sorts apart, in an order of their own."""
        return sorted({_key(one) for one in self.situation.items}, key=repr)

    @cached_property
    def members(self) -> list[list[Placed]]:
        """Up to two solids of each sort: one is never the item that asks."""
        found: dict[tuple[object, ...], list[Placed]] = {key: [] for key in self.keys}
        for one in self.situation.items:
            if len(found[_key(one)]) <= 1:
                found[_key(one)].append(one)
        return [found[key] for key in self.keys]

    def numbers(self) -> list[int]:
        """Return the sort of every solid."""
        places = {key: n for n, key in enumerate(self.keys)}
        return [places[_key(one)] for one in self.situation.items]

    def asked(self, item: Placed, limit: Limit) -> dict[str, Any]:
        """Return what a space asks of each sort.

        Returns:
            ``asked``: all that is asked of anything. ``sorts``: of each sort the place
            of what is asked of it in that list, or four places: where it does not face
            the item, and where it does; each beside it, and above or below it.
        """
        told: list[Asked] = []

        def place(stretch: Stretch | None) -> int:
            asked = None if stretch is None else _ends(stretch)
            if asked not in told:
                told.append(asked)
            return told.index(asked)

        found: list[int | list[int]] = []
        for members in self.members:
            other = next((one for one in members if one.id != item.id), None)
            if other is None:
                found.append(place(None))
                continue
            four = [place(limit(one)) for one in _poses(other, item)]
            found.append(four[0] if len(set(four)) == 1 else four)
        return {"asked": told, "sorts": found}


def _key(placed: Placed) -> tuple[object, ...]:
    item = placed.item
    return (
        placed.kind.name,
        placed.grounded,
        placed.associated,
        placed.foreign,
        placed.live,
        placed.of_room,
        placed.front is not None,
        None if item is None else (item.dead_front, item.protected, item.structural),
    )


def _ends(stretch: Stretch) -> list[int]:
    certain, possible = stretch.part("certain"), stretch.part("possible")
    return [tenths(one) for one in (*certain, *possible)]


def _poses(other: Placed, item: Placed) -> list[Placed]:
    """Return a solid where it does not face an item, and where it does.

    Each beside the item, and above it.
    """
    if item.front is None:
        return [other] * 4
    front = front_of(item)
    facing = [other, other]
    if other.live and other.front is not None:
        facing = [_turned(other, other.front, front, way) for way in (-1, 1)]
    if not other.associated:
        return [one for one in facing for _ in range(2)]
    up = front.top - 2 * _SLIGHTLY, front.top + 1
    return [_lifted(one, front, low) for one in facing for low in up]


def _turned(other: Placed, own: Front, front: Front, way: int) -> Placed:
    """Return a solid that faces a front from far ahead, or stands far behind it."""
    (rx, ry), (ox, oy) = front.frame.right, front.frame.out
    x, y = front.frame.to_plan(0.0, way * _AWAY)
    frame = Frame(x, y, (-way * rx, -way * ry), (-way * ox, -way * oy))
    return replace(other, front=replace(own, frame=frame))


def _lifted(other: Placed, front: Front, low: float) -> Placed:
    solid = Box(front.frame, 1.0, 1.0, low, low + _SLIGHTLY)
    return replace(other, solid=solid)
