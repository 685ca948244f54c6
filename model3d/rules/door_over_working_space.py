"""Personnel doors that swing over a working space.

Applies to: every personnel door that opens into the room, or of which nothing says that
it opens out.

Measures: the sector that its leaf, or both of a pair, sweeps in plan as far as it opens
(90 degrees where nothing is said), with the working spaces that it reaches over by more
than contact. Where nothing is said of the hinge both sides count.

Breach: none is certain: inspectors differ on whether a personnel door may stand open in
a working space for a moment, so it is left open for a person to decide.

Exceptions: a door that opens outwards.

Source: NEC 110.26(A)(1), 110.34(A): the working space must be kept clear; 29 CFR
1910.303(g)(1)(i), (h)(3); 29 CFR 1926.403(i)(1), (j)(3).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import shapely

from model3d.egress.exits import opening_of
from model3d.egress.words import joined
from model3d.geometry.tolerance import TOUCH
from model3d.results import Judgement
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Frame
    from model3d.scene.placed import Placed
    from model3d.scene.room import RoomDoor
    from model3d.situation import Situation

TABLES: Final = ("working-space-depth", "high-voltage-depth")
REQUIREMENT: Final = "door-over-working-space"
_QUARTER: Final = 90.0
"""Degrees. How far a personnel door opens where nothing is said."""
_SIDES: Final = 720
"""Sides of a whole round: a leaf of 3 m differs from it by less than 0.03 mm."""


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge every personnel door that may open into the room."""
    room = situation.scene.room
    for door in room.doors if room else ():
        if door.opens != "out" and situation.live:
            yield _judge(door, situation)


def _judge(door: RoomDoor, situation: Situation) -> Judgement:
    swept = _swept(door, situation)
    over = [item for item in situation.live if _is_over(swept, item, situation)]
    item = over[0] if over else situation.live[0]
    table = TABLES[is_high_voltage(item, situation)]
    citation = situation.book.entry(table).citation
    if not over:
        clear = "Its leaf sweeps no working space."
        return Judgement(REQUIREMENT, door.id, "met", citation, clear)
    names = ", ".join(item.id for item in over)
    unsaid = "" if door.opens else f"Say whether {door.id} opens in or out (opens)."
    hinge = "" if door.hinge else f"Say where {door.id} is hinged (hinge)."
    differ = "Inspectors differ on whether it may: a person must decide."
    missing = joined(differ, unsaid, hinge)
    swept_words = f"Its leaf sweeps the working space of {names}."
    reason = joined(swept_words, missing)
    return Judgement(REQUIREMENT, door.id, "open", citation, reason, missing=missing)


def _is_over(swept: shapely.Geometry, item: Placed, situation: Situation) -> bool:
    plan = situation.ways.stand(item).plan
    shared = swept.intersection(plan)
    return not shared.buffer(-TOUCH / 2).is_empty


def _swept(door: RoomDoor, situation: Situation) -> shapely.Geometry:
    """Return what a door sweeps in plan."""
    frame, width = opening_of(door, situation)
    degrees = _QUARTER if door.opens_to is None else float(door.opens_to)
    other = frame.moved(width, 0.0).mirrored()
    if door.hinge == "pair":
        leaves = [_sector(hung, width / 2, degrees) for hung in (frame, other)]
    else:
        hinges = {"left": [frame], "right": [other], None: [frame, other]}
        leaves = [_sector(hung, width, degrees) for hung in hinges[door.hinge]]
    return shapely.union_all(leaves)


def _sector(hung: Frame, radius: float, degrees: float) -> shapely.Polygon:
    """Return the sector of a leaf hinged at a frame's origin, closed on its right."""
    count = max(1, math.ceil(degrees / 360 * _SIDES))
    angles = [math.radians(degrees) * n / count for n in range(count + 1)]
    arc = [
        hung.to_plan(radius * math.cos(angle), radius * math.sin(angle))
        for angle in angles
    ]
    return shapely.Polygon([hung.to_plan(0.0, 0.0), *arc])
