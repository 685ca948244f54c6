"""Equipment doors as they stand when they are open."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from model3d.egress.doors.exits import BODY
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.leaf_stop import angle_of, stops_of
from model3d.judging.results import OpenDoor
from model3d.standing.leaves import taken_leaves
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Frame
    from model3d.geometry.sweep import Sweep
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


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
        width: From hinge to edge, metres, wherever it stands.
        bottom, top: World heights, metres.
        assumed: Nothing is said about the item's doors.
        ahead: How far the floor goes straight ahead of the hinge, metres, at most as
            far as the leaf is wide; None where nothing stops it before a right angle.
    """

    item: str
    plan: flat.Polygon
    frame: Frame
    tip: tuple[float, float]
    width: float
    bottom: float
    top: float
    assumed: bool
    ahead: float | None

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


def squared(leaves: Sequence[LeafAjar]) -> tuple[LeafAjar, ...]:
    """Return leaves as they stand at a right angle, those too that something stops.

    These end where the floor straight ahead does. A leaf that nothing stops stays as it
    is, and one before whose hinge nobody has room.
    """
    return tuple(map(_squared, leaves))


def _squared(leaf: LeafAjar) -> LeafAjar:
    if leaf.ahead is None or leaf.ahead < BODY - TOUCH or not leaf.tip[0]:
        return leaf
    tip = (0.0, leaf.ahead)
    return replace(leaf, plan=_plate(leaf.frame, tip), tip=tip)


def open_leaves(situation: Situation) -> tuple[LeafAjar, ...]:
    """Return every leaf of every item, open to 90 degrees or to what stops it."""
    return tuple(
        leaf
        for item in situation.items
        for leaf in situation.remembered(_leaves_of, item)
    )


def _leaves_of(item: Placed, situation: Situation) -> tuple[LeafAjar, ...]:
    leaves, assumed = taken_leaves(item, situation.scene)
    return tuple(_open(leaf, item, situation, assumed=assumed) for leaf in leaves)


def named(leaf: LeafAjar) -> tuple[str, flat.Polygon]:
    """Return a leaf as something that stands on the floor."""
    return leaf_name(leaf.item), leaf.plan


def leaf_name(item: str) -> str:
    """Return what the open leaves of an item are called, as what a way is between."""
    return say("the door of {}", Named(item))


def _open(
    leaf: Sweep, item: Placed, situation: Situation, *, assumed: bool
) -> LeafAjar:
    """Return a leaf at 90 degrees, or where something stops it.

    Where its edge stops as far ahead as the floor goes, it closes all there is between:
    what is left beside its edge must not become less in a wider aisle, in which it
    opens further.
    """
    stops = stops_of(leaf, item, situation)
    angle = math.radians(angle_of(stops))
    ahead = min((leaf.straight_ahead(one.solid) for _, one in stops), default=None)
    tip = leaf.radius * math.cos(angle), leaf.radius * math.sin(angle)
    if ahead is not None and ahead >= BODY - TOUCH and abs(ahead - tip[1]) <= TOUCH:
        tip = (0.0, ahead)
    return LeafAjar(
        item.id,
        _plate(leaf.frame, tip),
        leaf.frame,
        tip,
        leaf.radius,
        leaf.bottom,
        leaf.top,
        assumed,
        ahead,
    )


def _plate(frame: Frame, tip: tuple[float, float]) -> flat.Polygon:
    ends = [frame.to_plan(0.0, 0.0), frame.to_plan(*tip)]
    return flat.LineString(ends).buffer(TOUCH / 2, cap_style="flat")
