"""Personnel doors near equipment.

Applies to: every personnel door that is less than the printed distance from the
nearest edge of the working space of equipment from the printed rating on; above the
low-voltage table of any rating. Sections that touch and carry one ``line_up`` name are
one piece of equipment, with the greatest rating of any. Transformers, current
transformer cabinets, battery racks and meter sockets at low voltage hold no
overcurrent, switching or control devices and are left out.

Measures: straight in plan, from the working space's nearest edge to the nearest edge of
the opening.

Breach: the door opens into the room, has no listed panic or fire exit hardware, or (by
edition) opens less than the printed angle.

Exceptions: a door exactly as far as the printed distance is no longer near; nor is one
that is so by the figure of one system only.

Source: NEC 110.26(C)(3), 110.33(A)(3).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.egress.ground.ground import ground_of
from model3d.egress.large.gear import ask_amps, rated
from model3d.egress.large.line_up import line_up
from model3d.egress.ways import ways_of
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ANGLE, Judgement
from model3d.wording import ASK_HARDWARE, ASK_OPENS, NOT_LISTED, sentences
from model3d.wording.said import Named, in_degrees, joined, say
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.egress.doors.exits import Exit
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor
    from model3d.standing.placed import Placed

TABLES: Final = ("door-hardware", "high-voltage-hardware")
REQUIREMENT: Final = requirement_of(__name__)
_LISTED: Final = ("panic", "fire-exit")
_SEVERITY: Final[tuple[Verdict, ...]] = ("met", "open", "not-met")


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge every personnel door that is near equipment."""
    room = situation.scene.room
    exits = {one.id: one for one in ground_of(situation).exits}
    for door in room.doors if room else ():
        judged = [
            _judge(door, near, situation) for near in _near(exits[door.id], situation)
        ]
        if judged:
            yield max(judged, key=lambda one: _SEVERITY.index(one.verdict))


@dataclass(frozen=True, slots=True)
class _Near:
    """The equipment that asks for something of a door.

    Attributes:
        item: Its id.
        entry: The table that asks.
        away: Distance to its working space, metres.
        missing: What must be said to know whether it asks; "" if it does.
        within: It is near for certain, whatever the survey tolerance.
    """

    item: str
    entry: Entry
    away: float
    missing: str
    within: bool


def _near(way_out: Exit, situation: Situation) -> list[_Near]:
    """Return what asks something of a door: what certainly does, nearest first.

    One table may ask for more than another: the first with the worst verdict is told.
    """
    found = [
        near for item in situation.live for near in _asking(item, way_out, situation)
    ]
    return sorted(
        found,
        key=lambda one: (bool(one.missing), not one.within, one.away, one.item),
    )


def may_ask_more(situation: Situation, deeper: float) -> bool:
    """Tell whether a door that is not right would be near, were spaces deeper.

    Args:
        situation: The room.
        deeper: By how much a working space may be deeper, metres.
    """
    room = situation.scene.room
    exits = {one.id: one for one in ground_of(situation).exits}
    return any(
        _judge(door, near, situation).verdict != "met"
        for door in (room.doors if room else ())
        for item in situation.live
        for near in _asking(item, exits[door.id], situation, deeper)
        if near not in _asking(item, exits[door.id], situation)
    )


def _asking(
    item: Placed, way_out: Exit, situation: Situation, deeper: float = 0.0
) -> Iterator[_Near]:
    over = is_high_voltage(item, situation)
    entry = situation.book.entry(TABLES[1] if over else TABLES[0])
    if not entry.given or item.front is None:
        return
    missing = ""
    if not over:
        ratings = rated(line_up(item, situation), situation)
        if ratings is None:
            return
        amps, silent = ratings
        if amps < entry.number("amps"):
            if not silent:
                return
            missing = ask_amps(silent)
    away = ways_of(situation).stand(item).plan.distance(way_out.opening)
    distance, tolerance = entry.figure("distance"), situation.survey_tolerance
    if situation.is_under(away - tolerance - deeper, distance):
        within = situation.is_under(away + tolerance, distance)
        yield _Near(item.id, entry, away, missing, within)


def _judge(door: RoomDoor, near: _Near, situation: Situation) -> Judgement:
    entry = near.entry
    asks_angle = entry.has("degrees") and entry.flag("opens_degrees")
    degrees = entry.number("degrees") if asks_angle else None
    wrong, missing = _faults(door, degrees)
    doubts = [*missing, near.missing]
    if not near.within:
        doubts.append(situation.survey_doubt)
    verdict: Verdict = "met"
    if wrong or missing:
        verdict = "open" if near.missing or not near.within or not wrong else "not-met"
    told = "It opens outwards and has listed hardware."
    if verdict != "met":
        # In one sentence: where room is short the first one is told alone.
        faults = joined(", and ", wrong)
        told = say("{} {}.", Named(door.id), faults) if wrong else ""
    distance = entry.figure("distance")
    place = say(
        "It is {} from the working space of {}; the rule is for doors nearer than {}.",
        situation.length(near.away, situation.least(distance)),
        Named(near.item),
        situation.told(distance),
    )
    doubt = sentences(*doubts) if verdict != "met" else ""
    keys = [key for key in ("amps", "opens_degrees", "degrees") if entry.has(key)]
    judged = Judgement(
        requirement=REQUIREMENT,
        subject=door.id,
        verdict=verdict,
        citation=entry.citation,
        reason=sentences(told, place, doubt),
        missing=doubt if verdict == "open" else "",
        required={} if degrees is None else {ANGLE: degrees},
        unread=unread_figures(entry, [entry.figure("distance")], situation.measures)
        or unread_rules(entry, *keys),
    )
    return judged if degrees is None else _opened(judged, door, degrees, wrong)


def _opened(
    judged: Judgement, door: RoomDoor, degrees: float, wrong: list[str]
) -> Judgement:
    """Tell how far a door opens; where only that is wrong, by how much."""
    if door.opens_to is None:
        return judged
    spare = door.opens_to - degrees
    alone = not wrong or (spare < 0 and len(wrong) == 1)
    return replace(
        judged,
        provided={ANGLE: float(door.opens_to)},
        short=ANGLE if spare < 0 else "",
        margin=spare if alone else None,
    )


def _faults(door: RoomDoor, degrees: float | None) -> tuple[list[str], list[str]]:
    """Return what it does wrong, as the ends of a sentence, and what is not said."""
    wrong: list[str] = []
    missing: list[str] = []
    if door.opens == "in":
        wrong.append("opens into the room, not outwards")
    elif door.opens is None:
        missing.append(say(ASK_OPENS, Named(door.id)))
    if door.hardware is None:
        missing.append(say(ASK_HARDWARE, Named(door.id)))
    elif door.hardware not in _LISTED:
        wrong.append(NOT_LISTED)
    if degrees is not None:
        if door.opens_to is None:
            missing.append(say("Say how far {} opens (opens_to).", Named(door.id)))
        elif door.opens_to < degrees:
            angle = in_degrees(f"{door.opens_to:g}")
            wrong.append(say("opens to {} only", angle))
    return wrong, missing
