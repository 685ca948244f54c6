"""The ways of one room: leaves, stands and floors by doors, each worked out once."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias, TypeVar, cast

import numpy as np

from model3d.egress.doors.hindered import hindered
from model3d.egress.doors.joint_front import rows
from model3d.egress.doors.open_leaves import named, open_leaves, squared
from model3d.egress.ground.bays import OpenFloor
from model3d.egress.ground.ground import ground_of
from model3d.egress.ground.lookahead import Lookahead
from model3d.egress.ground.resting import resting_on
from model3d.egress.ground.stand import stand_at, standing_each
from model3d.egress.route.room import first_look_each
from model3d.egress.route.search import passes_each, widest_each
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from numpy.typing import NDArray

    from model3d.egress.doors.joint_front import Row
    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.floor import Floor
    from model3d.egress.ground.levels import Gait
    from model3d.egress.ground.stand import Stand
    from model3d.egress.route.path import Path
    from model3d.egress.route.room import FirstLook
    from model3d.geometry.plan import flat
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

Doors: TypeAlias = Literal["shut", "stated", "all"]
"""Equipment doors: all shut; open those of which something is said; open every one."""

_Found = TypeVar("_Found")


def ways_of(situation: Situation) -> Ways:
    """Return the ways in and out of a room."""
    return situation.remembered(Ways)


class Ways:
    """Answers for one room what rules ask about its ways in and out.

    What may be asked of it is worked out once: ask ``ways_of`` for it.
    """

    def __init__(self, situation: Situation, stopped: Ways | None = None) -> None:
        """Remember the room; nothing is worked out before it is asked for.

        Args:
            situation: The room.
            stopped: The same ways where leaves open to what stops them; with these
                they stand at a right angle.
        """
        self._situation = situation
        self._stopped = stopped
        self._floors: dict[tuple[float, Doors, Gait], Floor] = {}
        self._stands: dict[tuple[str, Front | None], Stand] = {}
        self._met: dict[tuple[float, Doors], tuple[LeafAjar, ...]] = {}
        self._opened: dict[tuple[float, Doors], OpenFloor] = {}
        self._ahead: dict[tuple[object, ...], Lookahead[Placed, object]] = {}
        self.ground = ground_of(situation)

    @cached_property
    def leaves(self) -> tuple[LeafAjar, ...]:
        """The leaves of all equipment, where they stand open."""
        if self._stopped is not None:
            return squared(self._stopped.leaves)
        return open_leaves(self._situation)

    @cached_property
    def variants(self) -> tuple[Ways, ...]:
        """These ways, and the same with stopped leaves at a right angle, if any is.

        A leaf that something stops may leave more than one that opens all the way:
        what stops it must not make a way.
        """
        if squared(self.leaves) == self.leaves:
            return (self,)
        return self, Ways(self._situation, self)

    @cached_property
    def unsaid(self) -> tuple[str, ...]:
        """The items about whose doors nothing is said, by id, in order."""
        found = {leaf.item: None for leaf in self.leaves if leaf.assumed}
        return tuple(sorted(found))

    @cached_property
    def undersides(self) -> tuple[float, ...]:
        """The heights of the lower edges of all leaves, each once, the lowest first."""
        return tuple(sorted({leaf.bottom for leaf in self.leaves}))

    def stand(self, item: Placed) -> Stand:
        """Return where a person stands who works at an item, or at a side of it."""
        if self._stopped is not None:
            return self._stopped.stand(item)
        where = item.id, item.front
        if where not in self._stands:
            self._stands[where] = stand_at(item, self._situation)
        return self._stands[where]

    def standing(self, stand: Stand, floor: Floor) -> flat.Geometry:
        """Return the free floor in front of an item, within its working space."""

        def work(stands: Sequence[Stand]) -> list[flat.Geometry]:
            return standing_each(stands, floor)

        return self._together(stand, ("standing", floor), work)

    def first_look(self, stand: Stand, floor: Floor) -> FirstLook:
        """Return what is quickly found of the ways from there."""

        def work(stands: Sequence[Stand]) -> list[FirstLook]:
            return first_look_each(floor, self._areas(stands, floor))

        return self._together(stand, ("first look", floor), work)

    def passes(self, stand: Stand, floor: Floor, width: float) -> bool:
        """Tell whether a person of a width, metres, comes from there to an exit."""

        def work(stands: Sequence[Stand]) -> list[bool]:
            return passes_each(floor, self._areas(stands, floor), width)

        return self._together(stand, ("passes", floor, width), work)

    def widest(self, stand: Stand, floor: Floor, width: float) -> Path | None:
        """Return the widest way out from there; None where there is none.

        Args:
            stand: The working space.
            floor: On which the leaf of no door may be in the way to it.
            width: How wide the way shall be, metres.
        """

        def work(stands: Sequence[Stand]) -> list[Path | None]:
            starts = [(self.standing(one, floor), one.middle) for one in stands]
            first = [self.first_look(one, floor) for one in stands]
            return widest_each(floor, starts, width, first=first)

        return self._together(stand, ("widest", floor, width), work)

    def _areas(self, stands: Sequence[Stand], floor: Floor) -> NDArray[np.object_]:
        return np.array([self.standing(one, floor) for one in stands], dtype=object)

    def _together(
        self,
        stand: Stand,
        asked: tuple[object, ...],
        work: Callable[[Sequence[Stand]], Iterable[_Found]],
    ) -> _Found:
        """Return what work finds of a stand, together with those likely to follow.

        Args:
            stand: The working space.
            asked: Tells apart what is asked of each.
            work: Finds it of some.
        """
        if self._stopped is not None:
            return self._stopped._together(stand, asked, work)  # noqa: SLF001 - of its own kind
        if asked not in self._ahead:
            live = (one for one in self._situation.live if one.front is not None)
            self._ahead[asked] = Lookahead(
                live, lambda items: work([self.stand(one) for one in items])
            )
        return cast("_Found", self._ahead[asked].of(stand.item))

    def floor(
        self, height: float, doors: Doors = "shut", *, gait: Gait = "step"
    ) -> Floor:
        """Return the free floor for a person of a height.

        Args:
            height: Metres.
            doors: Which equipment doors stand open.
            gait: On steps only; or over what can be climbed too, and across pits as if
                they were covered; or anyhow, wherever platforms are.
        """
        if doors == "shut" and self._stopped is not None:
            return self._stopped.floor(height, gait=gait)
        key = (height, doors, gait)
        if key not in self._floors:
            if doors == "shut":
                found = self.ground.floor(height, gait)
            else:
                assumed = doors == "all"
                below: Doors = "stated" if assumed else "shut"
                plans = [
                    named(leaf)
                    for leaf in self.standing_leaves(height, doors)
                    if leaf.assumed == assumed
                ]
                found = self.floor(height, below, gait=gait)
                found = found.with_obstacles(plans)
            if self._before is not None:
                before = self._before.floor(height, doors, gait=gait)
                found = resting_on(found, before)
            self._floors[key] = found
        return self._floors[key]

    @cached_property
    def _before(self) -> Ways | None:
        """The ways before something was moved; None where that is not known.

        Where what moved takes no other floor than before, or took none, the floor rests
        on the one before, with all that was worked out of it.
        """
        earlier = self._situation.earlier
        if earlier is None:
            return None
        own, *square = ways_of(earlier.situation).variants
        return own if self._stopped is None else square[0] if square else None

    def standing_leaves(self, height: float, doors: Doors) -> tuple[LeafAjar, ...]:
        """Return the open leaves that a person of a height meets."""
        key = (height, doors)
        if key not in self._met:
            self._met[key] = tuple(
                leaf
                for leaf in self.leaves
                if (doors == "all" or not leaf.assumed)
                and min(leaf.top, height) - max(leaf.bottom, self.ground.step) > TOUCH
            )
        return self._met[key]

    def opened(self, height: float, doors: Doors) -> OpenFloor:
        """Return the floor with equipment doors open on it."""
        key = (height, doors)
        if key not in self._opened:
            leaves = self.standing_leaves(height, doors)
            floor = self._hindered(self.floor(height, doors), doors)
            found = OpenFloor(floor, leaves)
            if self._before is not None:
                before = self._before.opened(height, doors)
                if found.is_like(before):
                    found = before
            self._opened[key] = found
        return self._opened[key]

    def opened_but(self, height: float, leaf: LeafAjar) -> OpenFloor:
        """Return the floor with all equipment doors open on it but one of a guess."""
        leaves = tuple(o for o in self.standing_leaves(height, "all") if o is not leaf)
        plans = [named(one) for one in leaves if one.assumed]
        floor = self.floor(height, "stated").with_obstacles(plans)
        return OpenFloor(self._hindered(floor, "all", leaf), leaves)

    def _hindered(
        self, floor: Floor, doors: Doors, but: LeafAjar | None = None
    ) -> Floor:
        """Return a floor whose doors open as far as open leaves let them."""
        leaves = [
            one
            for one in self.leaves
            if one is not but and (doors == "all" or not one.assumed)
        ]
        return floor.with_exits(hindered(floor.exits, leaves))

    @cached_property
    def rows(self) -> Mapping[str, Row]:
        """By item that is worked at or has leaves, the row that it is in."""
        if self._stopped is not None:
            return self._stopped.rows
        hung = frozenset(leaf.item for leaf in self.leaves)
        return self._situation.remembered(_rows, hung)

    def row(self, item: Placed) -> Row:
        """Return the row of an item; of a side of it, that alone."""
        found = self.rows.get(item.id)
        own = self._situation.arrangement.items.get(item.id)
        if found is not None and own is not None and own.front == item.front:
            return found
        (alone,) = rows([item])
        return alone


def _rows(hung: frozenset[str], situation: Situation) -> Mapping[str, Row]:
    """Return by item the row that it is in, of live items and of those with leaves."""
    items = [one for one in situation.items if one.live or one.id in hung]
    earlier = situation.earlier
    if earlier is not None and all(map(earlier.situation.has, items)):
        return earlier.situation.remembered(_rows, hung)
    return {one.id: row for row in rows(items) for one in row.items}
