"""Equipment doors as they stand when they are open."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.leaf_stop import angle_of, stops_of
from model3d.judging.results import OpenDoor
from model3d.standing.leaves import is_open_rack, stated_leaves, whole_front
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Frame
    from model3d.geometry.sweep import Sweep
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


_AJAR: Final = 5.0
"""Degrees. A leaf that opens less leaves nobody room between itself and the front."""


@dataclass(frozen=True, slots=True)
class LeafAjar:
    """A leaf where it stands open.

    Attributes:
        item: Id of the item it hangs on.
        plan: A plate no thicker than contact, so that widths are those from face to
            face.
        frame: Of the leaf: its origin is the hinge, ``right`` along the leaf where it
            is shut, ``out`` away from the item.
        tip: Where its free edge is, in that frame, metres.
        bottom, top: World heights, metres.
        assumed: Nothing is said about the item's doors.
    """

    item: str
    plan: flat.Polygon
    frame: Frame
    tip: tuple[float, float]
    bottom: float
    top: float
    assumed: bool

    @property
    def is_ajar(self) -> bool:
        """It opens too little to leave anybody room between itself and the front."""
        return math.atan2(self.tip[1], self.tip[0]) <= math.radians(_AJAR)

    def is_of(self, other: LeafAjar) -> bool:
        """Tell whether it is the same leaf as another, at whatever angle."""
        return self.item == other.item and self.frame == other.frame

    @property
    def drawn(self) -> OpenDoor:
        """The leaf as it is drawn in plan."""
        frame, radius = self.frame, math.hypot(*self.tip)
        return OpenDoor(
            self.item,
            frame.to_plan(0.0, 0.0),
            frame.to_plan(radius, 0.0),
            frame.to_plan(*self.tip),
        )


def open_leaves(situation: Situation) -> tuple[LeafAjar, ...]:
    """Return every leaf of every item, open to 90 degrees and to what stops it.

    Where nothing is said about the doors of an item that people work at, one leaf over
    the whole front is taken, hinged left and hinged right at once: whatever is clear
    of both is clear of either.
    """
    return tuple(
        leaf
        for item in situation.items
        for leaf in situation.remembered(_leaves_of, item)
    )


def _leaves_of(item: Placed, situation: Situation) -> tuple[LeafAjar, ...]:
    if item.front is None or is_open_rack(item):
        return ()
    leaves = stated_leaves(item, situation.scene)
    assumed = leaves is None
    if leaves is None:
        if not item.live:
            return ()
        leaves = (whole_front(item.front, "left"), whole_front(item.front, "right"))
    return tuple(
        one for leaf in leaves for one in _open(leaf, item, situation, assumed=assumed)
    )


def named(leaf: LeafAjar) -> tuple[str, flat.Polygon]:
    """Return a leaf as something that stands on the floor."""
    return leaf_name(leaf.item), leaf.plan


def leaf_name(item: str) -> str:
    """Return what the open leaves of an item are called, as what a way is between."""
    return say("the door of {}", Named(item))


def _open(
    leaf: Sweep, item: Placed, situation: Situation, *, assumed: bool
) -> Iterator[LeafAjar]:
    """Yield a leaf at 90 degrees, and besides where it stands if it opens less.

    At 90 degrees it goes on to what stands straight ahead. Where that is nearer than
    the leaf is wide, and no further ahead than where the leaf is stopped, it closes all
    there is between: what is left beside a stopped leaf must not become less in a wider
    aisle, in which it opens further.
    """
    stops = stops_of(leaf, item, situation)
    angle = angle_of(stops)
    ahead = min((leaf.straight_ahead(one.solid) for _, one in stops), default=0.0)
    turned = math.radians(angle)
    tips = [(leaf.radius * math.cos(turned), leaf.radius * math.sin(turned))]
    if ahead > BODY and angle > _AJAR:
        stopped = tips if tips[0][1] > ahead + TOUCH or ahead >= leaf.radius else []
        tips = [(0.0, ahead), *stopped]
    for tip in tips:
        ends = [leaf.frame.to_plan(0.0, 0.0), leaf.frame.to_plan(*tip)]
        plate = flat.LineString(ends).buffer(TOUCH / 2, cap_style="flat")
        yield LeafAjar(item.id, plate, leaf.frame, tip, leaf.bottom, leaf.top, assumed)
