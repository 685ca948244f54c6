"""Where people stand between open leaves, and which narrow places there count.

A person in front of gear has open leaves to the left and to the right. The pocket
between two leaves of one front, or between a leaf and what stands beside it, is no
passage: it is not asked how wide it is, only how wide the way is past its edges.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY
from model3d.egress.doors.open_leaves import leaf_name
from model3d.egress.doors.own_leaf import reach_of
from model3d.egress.ground.gates import FACING, with_gates
from model3d.egress.ground.pockets import hung_in, pockets, suspected
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from numpy.typing import NDArray

    from model3d.egress.doors.exits import Exit
    from model3d.egress.doors.joint_front import Row
    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.necks.necks import Necks
    from model3d.geometry.frame import Corner
    from model3d.judging.results import OpenDoor

    Numbers = NDArray[np.int64]

_BESIDE: Final = 2e-3
"""Metres. How near to its hinge somebody beside a leaf is looked for: nearer than
anything else there may be."""

_AJAR: Final = 5.0
"""Degrees. A leaf that opens less leaves nobody room between itself and the front."""


@dataclass(frozen=True, slots=True)
class Bay:
    """A place beside an open leaf.

    Attributes:
        at: A point of it, next to the front.
        along: Unit vector along the front, away from the leaf.
        out: Unit vector away from the front.
        reach: How far ahead the leaf stands, metres.
        guest: The leaf hangs on other gear than is asked about.
        ajar: The leaf opens too little to leave anybody room before the front.
        uncovered: How far along the front the leaf uncovers it from there, metres.
    """

    at: Corner
    along: Corner
    out: Corner
    reach: float
    guest: bool = False
    ajar: bool = False
    uncovered: float = 0.0

    def ahead(self, floor: Floor, width: float) -> flat.Polygon:
        """Return where a person of a width stands who comes out of it."""
        wide, deep = _room_along(self, floor, width) + TOUCH, self.reach + width
        (x, y), (right, up), (east, north) = self.at, self.along, self.out
        return flat.Polygon(
            [
                (x + u * right + v * east, y + u * up + v * north)
                for u, v in ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))
            ]
        )


@dataclass(frozen=True, eq=False)
class OpenFloor:
    """The floor with equipment doors open on it.

    Attributes:
        floor: With the leaves on it.
        leaves: Those that a person meets there.
    """

    floor: Floor
    leaves: tuple[LeafAjar, ...]
    _others: dict[Floor, OpenFloor] = field(default_factory=dict, repr=False)
    _firm: dict[tuple[Exit, bool], Necks] = field(default_factory=dict, repr=False)

    def is_like(self, other: OpenFloor) -> bool:
        """Tell whether the same doors are open on the very same floor."""
        return self.floor is other.floor and self.leaves == other.leaves

    @property
    def plain(self) -> OpenFloor:
        """The same with those exits only whose own leaf is in nobody's way."""
        return self.on(self.floor.plain) if self.floor.swinging else self

    def on(self, floor: Floor) -> OpenFloor:
        """Return the same leaves on another floor; it is kept."""
        if floor not in self._others:
            self._others[floor] = OpenFloor(floor, self.leaves)
        return self._others[floor]

    def near(
        self, row: Row, area: flat.Polygon, homes: Mapping[str, Row]
    ) -> Iterator[LeafAjar]:
        """Yield the leaves that hang on a row of gear, or stand in an area.

        At a side or the back of an item are none of the leaves on its front.
        """
        there = self._tree.query(area, predicate="intersects").tolist()
        for number in sorted({*self._hung_on(row, homes), *there}):
            yield self.leaves[number]

    def own(self, row: Row, homes: Mapping[str, Row]) -> list[LeafAjar]:
        """Return the leaves that hang on a row of gear."""
        return [self.leaves[number] for number in sorted(self._hung_on(row, homes))]

    def _hung_on(self, row: Row, homes: Mapping[str, Row]) -> list[int]:
        return [
            n
            for one in row.items
            if homes.get(one.id) is row
            for n in self._by_item.get(one.id, ())
        ]

    def near_to(self, at: flat.Point, distance: float) -> Iterator[LeafAjar]:
        """Yield the leaves that are within a distance of a point, metres."""
        found = self._tree.query(at, predicate="dwithin", distance=distance)
        for number in sorted(found.tolist()):
            yield self.leaves[number]

    @cached_property
    def _tree(self) -> flat.STRtree:
        return flat.STRtree([one.plan for one in self.leaves])

    @cached_property
    def _by_item(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for number, leaf in enumerate(self.leaves):
            found.setdefault(leaf.item, []).append(number)
        return found

    @cached_property
    def drawn(self) -> tuple[OpenDoor, ...]:
        """The leaves as they are drawn in plan."""
        return tuple(one.drawn for one in self.leaves)

    @cached_property
    def necks(self) -> Necks:
        """The narrow places that a way past the leaves comes through."""
        left_out = pockets(self.floor, self.leaves, self.hung)
        necks = self.floor.necks.without(left_out)
        return with_gates(necks, self.floor, self.leaves, self.hung)

    @cached_property
    def hung(self) -> Numbers:
        """For each body of the floor which of the leaves it is; -1 where none."""
        return hung_in(self.floor, self.leaves)

    def firm(self, door: Exit, *, pockets: bool) -> Necks:
        """Return narrow places that are there however a personnel door is held.

        Not all of them are: those are left out that the door's leaf may come near to,
        and those that may become pockets if it does. So a way past the leaf is never
        wider than these let it be: they are some of those that such a way has, and the
        more narrow places there are the sooner one of their rings is about a point.

        Args:
            door: That the way leads to, with its leaf at whatever angle.
            pockets: Whether the pockets between leaves of one front count as narrow.
        """
        key = door, pockets
        if key not in self._firm:
            necks, reach = self.floor.necks, reach_of(door, self.floor.exits)
            middles = flat.points(necks.lines[:, 1:3].mean(axis=1))
            left_out = flat.distance(middles, reach) <= necks.widths / 2 + TOUCH
            if not pockets:
                left_out |= suspected(self.floor, self.leaves, self.hung, reach)
            self._firm[key] = necks.without(left_out)
        return self._firm[key]


def bays(
    row: Row, opened: OpenFloor, depth: float, homes: Mapping[str, Row]
) -> Iterator[Bay]:
    """Yield the places between open leaves that people at a row of gear may be in.

    Beside each leaf of the row itself, before its front; beside every other leaf that
    reaches to before it, as deep as the working space, at the front on which that one
    hangs, if that is no further away and faces the row, or nobody comes past the leaf's
    edge: else who stands there is at another front; and at the row on both sides of
    where the leaf's edge is nearest, where the front goes on as far as a body is wide:
    before less of it nobody is.

    Args:
        row: The gear.
        opened: The floor with the open leaves on it.
        depth: Of the working space before the row, metres.
        homes: By item, the row that it is in.
    """
    feet = []
    standing = row.ahead(depth)
    for leaf in opened.near(row, standing, homes):
        if homes[leaf.item] is row:
            yield from _beside(leaf, row, opened)
        else:
            foot = row.frame.to_frame(*leaf.frame.to_plan(*leaf.tip))
            feet.append(foot)
            facing = float(np.dot(leaf.frame.out, row.frame.out)) < FACING
            if not facing and foot[1] >= BODY:
                continue
            for one in _beside(leaf, homes[leaf.item], opened):
                if row.is_before(one.at, depth):
                    yield replace(one, guest=True)
    for along, ahead in feet:
        for sign in (-1.0, 1.0):
            found = _at_foot(row, along, ahead, sign)
            others = (sign * (other - along) for other, _ in feet)
            goes_on = row.width - along if sign > 0 else along
            if (
                ahead > _BESIDE
                and goes_on >= BODY - TOUCH
                and row.is_before(found.at)
                and not any(_BESIDE < other < BODY for other in others)
                and _has_room(found, opened)
            ):
                yield found


def _beside(leaf: LeafAjar, row: Row, opened: OpenFloor) -> Iterator[Bay]:
    """Yield the places on both sides of a leaf, as far as they are before its front.

    On the side to which it closes it is the place before what it uncovers, however
    narrow; on the other side there may be only the back of the next leaf.
    """
    angle = math.atan2(leaf.tip[1], leaf.tip[0])
    for sign, turn in ((1.0, angle / 2), (-1.0, (angle + math.pi) / 2)):
        found = _bay(leaf, sign, turn)
        uncovered = sign > 0 and not found.ajar
        if row.is_before(found.at) and (
            uncovered or (sign < 0 and _has_room(found, opened))
        ):
            yield found


def _bay(leaf: LeafAjar, sign: float, turn: float) -> Bay:
    frame = leaf.frame
    at = frame.to_plan(_BESIDE * math.cos(turn), _BESIDE * math.sin(turn))
    along = (sign * frame.right[0], sign * frame.right[1])
    ajar = math.atan2(leaf.tip[1], leaf.tip[0]) <= math.radians(_AJAR)
    uncovered = leaf.width if sign > 0 else 0.0
    return Bay(at, along, frame.out, leaf.tip[1], ajar=ajar, uncovered=uncovered)


def _at_foot(row: Row, along: float, ahead: float, sign: float) -> Bay:
    frame = row.frame
    at = frame.to_plan(along + sign * _BESIDE, _BESIDE)
    return Bay(at, (sign * frame.right[0], sign * frame.right[1]), frame.out, ahead)


def _has_room(bay: Bay, opened: OpenFloor) -> bool:
    """Tell whether a body has room along the front.

    Leaves that face it are left aside: whether one of them reaches the front or ends
    just before it is a matter of how wide the aisle is.
    """
    facing = {
        leaf_name(leaf.item)
        for leaf in opened.near_to(flat.Point(bay.at), BODY)
        if float(np.dot(leaf.frame.out, bay.out)) < FACING
    }
    return _room_along(bay, opened.floor, BODY, facing) >= BODY - TOUCH


def _room_along(
    bay: Bay, floor: Floor, most: float, but: Collection[str] = ()
) -> float:
    """Return how far the front goes on until something stands there, metres."""
    x, y = bay.at
    end = (x + most * bay.along[0], y + most * bay.along[1])
    free = flat.get_parts(floor.free(flat.LineString([bay.at, end]), but))
    here = flat.distance(free, flat.Point(bay.at)) <= TOUCH
    return float(flat.length(free[here]).max(initial=0.0))
