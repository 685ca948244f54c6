"""What bars places, or leaves them open, because of the ways out of the room there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY, opening_of
from model3d.egress.ground.ground import ground_of
from model3d.egress.overhead import is_overhead
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.mending.map.bar import Bar, lying_in, rectangle
from model3d.mending.map.leaving.cells import Part, on_floor, on_line
from model3d.mending.map.leaving.ways_asked import WaysAsked
from model3d.rules import entrance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.mending.map.free import Free
    from model3d.mending.map.leaving.told import Purse
    from model3d.mending.map.leaving.without import Without
    from model3d.mending.map.posed import Posed

UNASKED: Final = "the ways out were not asked here"
"""Why a place is open where there is too much to ask."""


def way_bars(free: Free, without: Without, purse: Purse) -> tuple[Bar, ...]:
    """Return what bars places because of ways out, or leaves them open.

    Args:
        free: The map, that tells nothing of ways out yet.
        without: The room without the item.
        purse: How much may be asked.
    """
    posed, stance = free.posed, free.stance
    if not matters(posed):
        return ()
    asked = WaysAsked(posed, stance, without, purse)
    if stance.on_wall:
        found = on_line(free.but_ways, free.at(0.0), stance.along, asked)
    else:
        found = on_floor(free.area_but_ways, posed.front.frame, asked)
    return tuple(_bars(list(found), posed))


def matters(posed: Posed) -> bool:
    """Tell whether a thing may change any way out: not what hangs above them all."""
    situation = posed.situation
    if not ground_of(situation).exits:
        return False
    return not all(is_overhead(one, situation) for one in posed.movers)


def _bars(parts: list[Part], posed: Posed) -> Iterator[Bar]:
    plans: dict[tuple[str, str, str], list[flat.Geometry]] = {}
    for part in parts:
        if part.told is None:
            plans.setdefault((entrance.REQUIREMENT, posed.name, ""), []).append(
                part.plan
            )
            continue
        # Where something is not met, what is open besides is not told.
        keys = part.told.broken or part.told.open
        word = "barred" if part.told.broken else "open"
        for requirement, of in keys:
            plans.setdefault((requirement, of, word), []).append(part.plan)
    doors = list(_before_doors(posed))
    for (requirement, of, word), found in sorted(plans.items(), key=lambda one: one[0]):
        plan = flat.union_all(found)
        if not word:
            yield Bar(plan, (), requirement, of, "open", UNASKED)
            continue
        names = tuple(name for name, there in doors if there.intersects(plan))
        yield Bar(plan, names or (posed.name,), requirement, of, word)  # type: ignore[arg-type]


def _before_doors(posed: Posed) -> Iterator[tuple[str, flat.Geometry]]:
    """Yield where an item stands before the doors of the room.

    As far ahead of an opening as the way is wide that is asked for.
    """
    situation, scene = posed.situation, posed.situation.scene
    entry = situation.book.entry(entrance.TABLES[0])
    deep = situation.least(entry.figure("width")) if entry.given else BODY
    for door in scene.room.doors if scene.room else ():
        frame, width = opening_of(door, situation)
        area = flat.Polygon(rectangle(frame, 0.0, width, 0.0, deep))
        for mover in posed.movers:
            plan = footprint(mover.solid, 0.0, scene.metres(door.height))
            if not plan.is_empty:
                yield door.id, lying_in(plan, area)
