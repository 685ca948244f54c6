"""What is asked of the people at a front, and where one of them is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from model3d.egress.doors.joint_front import Row
    from model3d.egress.ground.bays import Bay
    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.past_leaf import WayLeft, WaysPast
    from model3d.egress.ways import Ways
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan import flat

SAME: Final = 1e-6
"""Metres. Widths that differ by less are one."""


@dataclass(frozen=True, slots=True)
class Start:
    """Where somebody is when doors are opened.

    Attributes:
        at: In plan.
        way: The way out from there with the doors open.
        ways: All of them.
        place: Where the way that is drawn begins.
        had_way: As wide as asked for, with the doors shut.
    """

    at: Corner
    way: WayLeft
    ways: WaysPast
    place: flat.Geometry | Bay
    had_way: bool = True

    @property
    def width(self) -> float:
        """Of that way, metres."""
        return self.way.width

    def closely(self, least: float = 0.0) -> Start:
        """Return the same with the widest way there is.

        Args:
            least: How much narrower one is than this is not looked for, metres.
        """
        if not self.ways.opened.floor.swinging:
            return self
        return replace(self, way=self.ways.closely(self.at, least))


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked: the gear, the room with its doors shut, the way's width."""

    row: Row
    ways: Ways
    shut: Floor
    width: float
