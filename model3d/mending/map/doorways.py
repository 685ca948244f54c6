"""Before the doors of a room: there an item may leave no way out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY, opening_of
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.judging.requirement import requirement_of
from model3d.mending.map.bar import bar, lying_in, rectangle
from model3d.rules import entrance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.mending.map.bar import Bar
    from model3d.mending.map.posed import Posed

ENTRANCE: Final = requirement_of(entrance.__name__)


def doorway_bars(
    posed: Posed, within: flat.Geometry, wall: str | None
) -> Iterator[Bar]:
    """Yield where an item stands before a door: its ways out are left open there.

    How wide a way is left is told by a check alone. Along a wall the rule is asked as
    well; on the floor it is asked of the best place, as all ways out are.
    """
    situation, scene = posed.situation, posed.situation.scene
    entry = situation.book.entry(entrance.TABLES[0])
    if not entry.given:
        return
    # As far ahead of an opening as the way is wide that is asked for.
    deep = situation.least(entry.figure("width"))
    lives = [one.id for one in posed.movers if one.live]
    lives = lives or [one.id for one in posed.others if one.live]
    for door in scene.room.doors if scene.room else ():
        frame, width = opening_of(door, situation)
        strips = ((0.0, width), (0.0, BODY), (width - BODY, width))
        areas = [flat.Polygon(rectangle(frame, a, b, 0.0, deep)) for a, b in strips]
        top = scene.metres(door.height)
        for mover in posed.movers:
            plan = footprint(mover.solid, 0.0, top)
            if plan.is_empty:
                continue
            found, left, right = (lying_in(plan, area) for area in areas)
            if not found.intersects(within):
                continue
            # Nobody comes by on either side of what reaches into both strips.
            shut = flat.intersection(left, right)
            for name in lives:
                for asked in (found, shut) if wall is not None else ():
                    yield bar(asked, door.id, ENTRANCE, name, "asked")
                yield bar(found, door.id, ENTRANCE, name, "open")
