"""How an item is put up: at a wall or on the floor, and how its places are written."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.geometry.frame import Frame
from model3d.geometry.plan import flat, swept
from model3d.geometry.plan.footprint import footprint
from model3d.mending.map.bar import CONTACT
from model3d.scene.parts.placement import BEARING, At, AtWall
from model3d.units import from_metres

if TYPE_CHECKING:
    from model3d.geometry.frame import Corner
    from model3d.mending.map.posed import Posed
    from model3d.scene.parts.placement import Facing
    from model3d.standing.shell import Shell, WallLine

_ABROAD: Final = 3.0
"""Metres about everything that are looked at where a place has no bounds."""


@dataclass(frozen=True)
class ItemSize:
    """What of an item stays the same wherever it is, metres.

    Attributes:
        width, depth, height: Of the item.
        bottom: Height of its underside.
        gap: Behind it, at a wall.
        units: Of the scene.
    """

    width: float
    depth: float
    height: float
    bottom: float
    gap: float
    units: str

    def written(self, metres: float) -> float:
        """Return a length as a bare number of the scene."""
        return from_metres(metres, self.units)


@dataclass(frozen=True)
class Stance:
    """An item at a wall, or on the floor with a facing.

    Attributes:
        size: The item.
        wall: The wall; None on the floor.
        facing: Where it faces on the floor.
        middle: On the floor: the middle of its footprint where nothing is displaced.
    """

    size: ItemSize
    wall: WallLine | None = None
    facing: Facing = "south"
    middle: Corner = (0.0, 0.0)

    @property
    def on_wall(self) -> bool:
        """Whether it hangs on a wall or stands at it."""
        return self.wall is not None

    @property
    def walls_count(self) -> str | None:
        """Return the id of the wall that it may touch; None: walls bound the floor."""
        return None if self.wall is None else self.wall.id

    @property
    def along(self) -> Corner:
        """Along the wall to the right, seen from inside."""
        return (1.0, 0.0) if self.wall is None else self.wall.frame.right

    def place(self, by: Corner = (0.0, 0.0)) -> At | AtWall:
        """Return the place of a displacement, in the scene's units."""
        size = self.size
        bottom = size.written(size.bottom)
        if self.wall is not None:
            right = self.along
            along = by[0] * right[0] + by[1] * right[1]
            return AtWall(
                wall=self.wall.name,
                along=size.written(along),
                **({"bottom": bottom} if bottom else {}),
                **({"gap": size.written(size.gap)} if size.gap else {}),
            )
        x, y = self.middle[0] + by[0], self.middle[1] + by[1]
        return At(
            at=(size.written(x), size.written(y)),
            facing=self.facing,
            **({"bottom": bottom} if bottom else {}),
        )

    @cached_property
    def out(self) -> Corner:
        """Where its front points."""
        if self.wall is not None:
            return self.wall.frame.out
        bearing = BEARING[self.facing] if isinstance(self.facing, str) else self.facing
        return Frame.facing(0.0, 0.0, bearing).out

    def within(self, posed: Posed) -> flat.Geometry:
        """Return the displacements that keep the item in the room."""
        if self.wall is not None:
            dx, dy = self.along
            far = self.wall.length - self.size.width
            return flat.LineString([(0.0, 0.0), (dx * far, dy * far)])
        shell = posed.situation.arrangement.shell
        if not shell.outline:
            (a, b, _), (c, d, _) = bounds_of(posed)
            return flat.box(
                a - self.middle[0] - _ABROAD,
                b - self.middle[1] - _ABROAD,
                c - self.middle[0] + _ABROAD,
                d - self.middle[1] + _ABROAD,
            )
        return _inside(posed, shell)


def bounds_of(
    posed: Posed,
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return the lowest and highest corner of all that is written in a scene."""
    boxes = [p.solid.bounds for p in posed.situation.items if not p.of_room]
    lows, highs = zip(*boxes, strict=True)
    low = [min(values) for values in zip(*lows, strict=True)]
    high = [max(values) for values in zip(*highs, strict=True)]
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _inside(posed: Posed, shell: Shell) -> flat.Geometry:
    room = flat.Polygon(shell.outline)
    a, b, c, d = room.bounds
    x, y, far_x, far_y = posed.item.solid.bounds[0][:2] + posed.item.solid.bounds[1][:2]
    wide = max(c - a, d - b) + max(far_x - x, far_y - y)
    outside = flat.box(a - wide, b - wide, c + wide, d + wide).difference(room)
    found = flat.box(a - far_x, b - far_y, c - x, d - y)
    for mover in posed.movers:
        (_, _, low), (_, _, high) = mover.solid.bounds
        plan = footprint(mover.solid, low, high).convex_hull
        shut = swept.meeting(outside, flat.get_coordinates(plan))
        found = swept.taken(found, [swept.shrunk(shut, CONTACT)])
    return found
