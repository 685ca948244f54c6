"""Personnel doors near equipment.

Applies to: every personnel door that is less than the printed distance from the
nearest edge of the working space of equipment from the printed rating on; above the
low-voltage table of any rating. Transformers, battery racks and meter sockets at low
voltage hold no overcurrent, switching or control devices and are left out.

Measures: straight in plan, from the working space's nearest edge to the nearest edge of
the opening.

Breach: the door opens into the room, has no listed panic or fire exit hardware, or (by
edition) opens less than the printed angle.

Exceptions: a door exactly as far as the printed distance is no longer near.

Source: NEC 110.26(C)(3), 110.33(A)(3).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.egress.large import WITHOUT_DEVICES
from model3d.egress.words import joined, measure_again
from model3d.geometry.tolerance import TOUCH
from model3d.notes import from_memory, rule_from_memory
from model3d.results import ANGLE, Judgement
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.egress.exits import Exit
    from model3d.results import Verdict
    from model3d.scene.placed import Placed
    from model3d.scene.room import RoomDoor
    from model3d.situation import Situation

TABLES: Final = ("door-hardware", "high-voltage-hardware")
REQUIREMENT: Final = "door-hardware"
_LISTED: Final = ("panic", "fire-exit")


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge every personnel door that is near equipment."""
    room = situation.scene.room
    exits = {one.id: one for one in situation.ways.exits}
    for door in room.doors if room else ():
        near = _near(exits[door.id], situation)
        if near is not None:
            yield _judge(door, near, situation)


@dataclass(frozen=True, slots=True)
class _Near:
    """The equipment that asks for something of a door.

    Attributes:
        item: Its id.
        entry: The table that asks.
        away: Distance to its working space, metres.
        question: What must be said to know whether it asks; "" if it does.
        within: It is near for certain, whatever the survey tolerance.
    """

    item: str
    entry: Entry
    away: float
    question: str
    within: bool


def _near(way_out: Exit, situation: Situation) -> _Near | None:
    """Return what asks most of a door: what does so for certain, then the nearest."""
    found = [
        near for item in situation.live for near in _asking(item, way_out, situation)
    ]
    return min(
        found,
        key=lambda one: (bool(one.question), not one.within, one.away, one.item),
        default=None,
    )


def _asking(item: Placed, way_out: Exit, situation: Situation) -> Iterator[_Near]:
    over = is_high_voltage(item, situation)
    entry = situation.book.entry(TABLES[1] if over else TABLES[0])
    if not entry.given or item.front is None:
        return
    question = ""
    if not over:
        if item.kind.name in WITHOUT_DEVICES:
            return
        if item.amps is None:
            question = f"Say how many amperes {item.id} is rated for."
        elif item.amps < entry.number("amps"):
            return
    away = situation.ways.stand(item).plan.distance(way_out.opening)
    limit = situation.least(entry.figure("distance")) - TOUCH
    tolerance = situation.survey_tolerance
    if away < limit + tolerance:
        within = away < limit - tolerance
        yield _Near(item.id, entry, away, question, within)


def _judge(door: RoomDoor, near: _Near, situation: Situation) -> Judgement:
    entry = near.entry
    asks_angle = entry.has("degrees") and entry.flag("opens_degrees")
    degrees = entry.number("degrees") if asks_angle else None
    wrong, missing = _faults(door, degrees)
    away = situation.length(near.away)
    place = f"It is {away} from the working space of {near.item}."
    doubts = [*missing, near.question]
    if not near.within:
        doubts.append(measure_again(situation))
    doubt = joined(*doubts)
    verdict: Verdict = "met"
    if wrong or missing:
        verdict = "open" if near.question or not near.within or not wrong else "not-met"
    reason = joined(
        *wrong,
        place,
        doubt if verdict != "met" else "",
        _note(entry, situation, angle=degrees is not None),
    )
    if verdict == "met":
        reason = joined("It opens outwards and has listed hardware.", reason)
    has_angle = degrees is not None and door.opens_to is not None
    return Judgement(
        requirement=REQUIREMENT,
        subject=door.id,
        verdict=verdict,
        citation=entry.citation,
        reason=reason,
        missing=doubt if verdict == "open" else "",
        required={} if degrees is None else {ANGLE: degrees},
        provided={ANGLE: float(door.opens_to or 0.0)} if has_angle else {},
        margin=(door.opens_to or 0.0) - (degrees or 0.0) if has_angle else None,
    )


def _note(entry: Entry, situation: Situation, *, angle: bool) -> str:
    """Return the warning where what decides was not read in any source."""
    keys = [key for key in ("amps", "opens_degrees") if entry.has(key)]
    keys += ["degrees"] if angle else []
    distance = from_memory((entry.figure("distance"),), situation.measures)
    return distance or rule_from_memory(entry, *keys)


def _faults(door: RoomDoor, degrees: float | None) -> tuple[list[str], list[str]]:
    """Return what is wrong with a door, and what is not said about it."""
    wrong, missing = [], []
    if door.opens == "in":
        wrong.append(f"{door.id} opens into the room, not outwards.")
    elif door.opens is None:
        missing.append(f"Say whether {door.id} opens in or out (opens).")
    if door.hardware is None:
        missing.append(f"Say what hardware {door.id} has (hardware).")
    elif door.hardware not in _LISTED:
        wrong.append(f"{door.id} has no listed panic or fire exit hardware.")
    if degrees is not None:
        if door.opens_to is None:
            missing.append(f"Say how far {door.id} opens (opens_to).")
        elif door.opens_to < degrees:
            wrong.append(f"{door.id} opens to {door.opens_to:g} degrees only.")
    return wrong, missing
