"""Personnel doors that swing over a working space.

Applies to: every personnel door that opens into the room, or of which nothing says that
it opens out.

Measures: the sector that its leaf, or both of a pair, sweeps in plan as far as it opens
(90 degrees where nothing is said, less where something stops it sooner), with the
working spaces that it reaches over by more than contact, in plan and in height. Where
nothing is said of the hinge both sides count.

Breach: none is certain: inspectors differ on whether a personnel door may stand open in
a working space for a moment, so it is left open for a person to decide.

Exceptions: a door that opens outwards.

Source: NEC 110.26(A)(1), 110.34(A): the working space must be kept clear; 29 CFR
1910.303(g)(1)(i), (h)(3); 29 CFR 1926.403(i)(1), (j)(3).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.egress.ground.ground import ground_of
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.wording import ASK_HINGE, ASK_OPENS, sentences
from model3d.wording.said import Named, ids, say
from model3d.working import is_high_voltage, needs
from model3d.working.front import front_of, slide
from model3d.working.tested import deepest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.egress.doors.door_leaf import RoomLeaf
    from model3d.egress.doors.exits import Exit
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor
    from model3d.standing.placed import Placed

TABLES: Final = ("working-space-depth", "high-voltage-depth")
REQUIREMENT: Final = requirement_of(__name__)
_SIDES: Final = 720
"""Sides of a whole round: a leaf of 3 m differs from it by less than 0.03 mm."""


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge every personnel door that may open into the room."""
    room = situation.scene.room
    for door in room.doors if room else ():
        if door.opens != "out" and situation.live:
            yield _judge(door, situation)


def _judge(door: RoomDoor, situation: Situation) -> Judgement:
    area, way_out = swept(door, situation), _exit_of(door, situation)
    over = [item for item in situation.live if _is_over(area, way_out, item, situation)]
    item = over[0] if over else situation.live[0]
    table = TABLES[is_high_voltage(item, situation)]
    citation = situation.book.entry(table).citation
    if not over:
        clear = "Its leaf sweeps no working space."
        return Judgement(REQUIREMENT, door.id, "met", citation, clear)
    names = ids(item.id for item in over)
    unsaid = "" if door.opens else say(ASK_OPENS, Named(door.id))
    hinge = "" if door.hinge else say(ASK_HINGE, Named(door.id))
    differ = "Inspectors differ on whether it may: a person must decide."
    missing = sentences(differ, unsaid, hinge)
    swept_words = say("Its leaf sweeps the working space of {}.", names)
    reason = sentences(swept_words, missing)
    return Judgement(REQUIREMENT, door.id, "open", citation, reason, missing=missing)


def _is_over(
    area: flat.Geometry, way_out: Exit, item: Placed, situation: Situation
) -> bool:
    if not area.intersects(_farthest(item, situation)):
        # What is opposite, and how the space fits, takes much longer to find out.
        return False
    stand = ways_of(situation).stand(item)
    # On a gallery one stands above the leaf.
    top = min(way_out.sill + way_out.height, stand.space.top)
    if top - max(way_out.sill, stand.space.bottom) <= TOUCH:
        return False
    shared = area.intersection(stand.plan)
    return not shared.buffer(-TOUCH / 2).is_empty


def _farthest(item: Placed, situation: Situation) -> flat.Polygon:
    """Return in plan all that the working space of an item may be, whatever is there.

    Slid to either side, and as deep as any condition asks.
    """
    figures, front = needs(item, situation, situation.measures), front_of(item)
    first, last = slide(front.width, figures.width)
    right = last + figures.width
    deep = deepest(situation) if figures.missing else max(figures.depths)
    corners = ((first, 0.0), (right, 0.0), (right, deep), (first, deep))
    return flat.Polygon([front.frame.to_plan(u, v) for u, v in corners])


def _exit_of(door: RoomDoor, situation: Situation) -> Exit:
    (way_out,) = (one for one in ground_of(situation).exits if one.id == door.id)
    return way_out


def swept(door: RoomDoor, situation: Situation) -> flat.Geometry:
    """Return what a door sweeps in plan, whichever way it may hang."""
    return flat.union_all(
        [
            _sector(leaf)
            for hanging in _exit_of(door, situation).hangings
            if hanging.opens == "in"
            for leaf in hanging.leaves
            if leaf.angle > 0
        ]
    )


def _sector(leaf: RoomLeaf) -> flat.Polygon:
    """Return the sector of a leaf from where it is shut to where it stops."""
    count = max(1, math.ceil(leaf.angle / 360 * _SIDES))
    angles = [math.radians(leaf.angle) * n / count for n in range(count + 1)]
    arc = [
        leaf.frame.to_plan(leaf.width * math.cos(angle), leaf.width * math.sin(angle))
        for angle in angles
    ]
    return flat.Polygon([leaf.frame.to_plan(0.0, 0.0), *arc])
