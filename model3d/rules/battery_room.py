"""Rooms designated as battery rooms.

Applies to: every personnel door, gas pipe and luminaire of a room with the use
battery-room.

Measures: of a door the way it opens, its hardware where it is nearer than the figure
to the working space of a battery, and how far it opens where the edition says so; of
a gas pipe whether it is in the room; of a luminaire whether any of it is above a row
of cells, in plan.

Breach: a door that opens into the room, or not far enough, or has no listed panic or
fire exit hardware; gas piping; a luminaire over cells.

Exceptions: a door further away needs no such hardware. A door of which nothing says
how far it opens is taken to open far enough, and that is listed.

Source: NEC 480.9(E) to (G) in 2014, 480.10(E) to (G) since.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import shapely

from model3d.comparing import at_least, survey_doubt
from model3d.egress.exits import opening_of
from model3d.egress.stand import stand_at
from model3d.geometry.tolerance import TOUCH
from model3d.geometry.views import reaching
from model3d.notes import from_memory, rule_from_memory
from model3d.results import ANGLE, ROOM, Judgement
from model3d.scene.racks import cell_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.geometry.solid import Box
    from model3d.results import Verdict
    from model3d.scene.placed import Placed
    from model3d.scene.room import RoomDoor
    from model3d.situation import Situation

TABLES: Final = ("battery-room",)
REQUIREMENT: Final = "battery-room"
_BATTERIES: Final = ("battery-rack", "battery-cabinet")
_LISTED: Final = ("panic", "fire-exit")
_SEVERITY: Final[tuple[Verdict, ...]] = ("met", "open", "not-met")

Answer = tuple[str, "Verdict", str]
"""The key of the sentence that is asked about, the verdict and the reason."""


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge every personnel door of a battery room."""
    entry = situation.book.entry(TABLES[0])
    if not _applies(entry, situation):
        return
    room = situation.scene.room
    doors = room.doors if room else ()
    for door in doors:
        yield _door(door, entry, situation)
    if not doors:
        reason = "Say which personnel doors the room has (doors)."
        yield _judged(ROOM, entry, ("opens_out", "open", reason))


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge a gas pipe or a luminaire in a battery room."""
    entry = situation.book.entry(TABLES[0])
    if not _applies(entry, situation):
        return
    if item.kind.name == "gas-pipe" and entry.flag("gas_piping_barred"):
        if _is_in_room(item, situation):
            reason = "Gas piping is in the battery room."
            yield _judged(item.id, entry, ("gas_piping_barred", "not-met", reason))
    elif item.kind.name == "luminaire" and entry.flag("luminaires_over_cells_barred"):
        verdict, reason = _over_cells(item, situation)
        answer = ("luminaires_over_cells_barred", verdict, reason)
        yield _judged(item.id, entry, answer)


def _applies(entry: Entry, situation: Situation) -> bool:
    return entry.given and situation.scene.use == "battery-room"


def _judged(subject: str, entry: Entry, answer: Answer) -> Judgement:
    key, verdict, reason = answer
    note = rule_from_memory(entry, key)
    return Judgement(
        REQUIREMENT,
        subject,
        verdict,
        entry.cite(key),
        f"{reason} {note}" if note and _VERIFY not in reason else reason,
        missing=reason if verdict == "open" else "",
    )


_VERIFY: Final = "Verify against"


def _door(door: RoomDoor, entry: Entry, situation: Situation) -> Judgement:
    """Judge one door: the worst of the answers decides, and is cited."""
    answers = [*_answers(door, entry, situation)]
    worst = max((verdict for _, verdict, _ in answers), key=_SEVERITY.index)
    decisive = [answer for answer in answers if answer[1] == worst]
    reason = " ".join(reason for _, _, reason in decisive)
    judged = _judged(door.id, entry, (decisive[0][0], worst, reason))
    if not entry.has("opens_degrees"):
        return judged
    degrees = entry.number("opens_degrees")
    stated = door.opens_to is not None
    opens_to = door.opens_to if door.opens_to is not None else degrees
    return replace(
        judged,
        short=ANGLE if decisive[0][0] == "opens_degrees" else "",
        required={ANGLE: degrees},
        provided={ANGLE: opens_to} if stated else {},
        margin=opens_to - degrees if stated else None,
        assumed=() if stated else ((door.id, _OPENS_FAR),),
    )


_OPENS_FAR: Final = "Nothing says how far the door opens: taken as far enough."


def _answers(door: RoomDoor, entry: Entry, situation: Situation) -> Iterator[Answer]:
    if entry.flag("opens_out"):
        yield "opens_out", *_direction(door)
    if entry.flag("listed_hardware"):
        yield "listed_hardware", *_hardware(door, entry, situation)
    if entry.has("opens_degrees") and door.opens_to is not None:
        degrees = entry.number("opens_degrees")
        short = door.opens_to < degrees
        reason = f"It opens to {door.opens_to:g} degrees."
        yield "opens_degrees", "not-met" if short else "met", reason


def _direction(door: RoomDoor) -> tuple[Verdict, str]:
    match door.opens:
        case "out":
            return "met", "The door opens out of the room."
        case "in":
            return "not-met", "The door opens into the room."
        case None:
            return "open", f"Say whether {door.id} opens in or out (opens)."


def _hardware(
    door: RoomDoor, entry: Entry, situation: Situation
) -> tuple[Verdict, str]:
    if door.hardware in _LISTED:
        return "met", f"Its hardware is {door.hardware}."
    figure = entry.figure("hardware_distance")
    distance = _distance(door, situation)
    far, why, away = "not-met", "", ""
    if distance is not None:
        far, why = at_least(distance, situation.least(figure), situation)
        away = f", {situation.length(distance)} from the working space of a battery"
    if far == "met":
        return "met", f"Its hardware is free{away}."
    if door.hardware is None:
        return "open", f"Say what hardware {door.id} has (hardware){away}."
    verdict: Verdict = "open" if far == "open" else "not-met"
    note = from_memory((figure,), situation.measures)
    parts = (f"Its hardware is {door.hardware}{away}.", why, note)
    return verdict, " ".join(part for part in parts if part)


def _distance(door: RoomDoor, situation: Situation) -> float | None:
    """Return how far a door is from the nearest working space of a battery, metres.

    Of any equipment where no battery is in the scene; None where nothing is.
    """
    live = [item for item in situation.live if item.kind.name in _BATTERIES]
    frame, width = opening_of(door, situation)
    opening = shapely.LineString([frame.to_plan(0.0, 0.0), frame.to_plan(width, 0.0)])
    return min(
        (
            opening.distance(stand_at(item, situation).plan)
            for item in live or situation.live
        ),
        default=None,
    )


def _is_in_room(item: Placed, situation: Situation) -> bool:
    """Tell whether a thing is inside the room by more than contact, by its bounds."""
    shell = situation.arrangement.shell
    (west, south, bottom), (east, north, _) = item.solid.bounds
    if shell.height is not None and bottom >= shell.height - TOUCH:
        return False
    inner = shapely.Polygon(shell.outline).buffer(-TOUCH)
    return bool(inner.intersects(shapely.box(west, south, east, north)))


def _over_cells(item: Placed, situation: Situation) -> tuple[Verdict, str]:
    """Tell whether any of a luminaire is above cells, by more than contact."""
    tolerance = situation.survey_tolerance
    doubts = []
    for rack in situation.items:
        if rack.kind.name not in _BATTERIES or rack.front is None:
            continue
        rows = [row.body() for row in cell_rows(rack, situation.scene)]
        if any(_is_above(item, row, -tolerance) for row in rows):
            return "not-met", f"It is over the cells of {rack.id}."
        if any(_is_above(item, row, tolerance) for row in rows):
            doubts.append(
                f"{survey_doubt(situation)} The cells are those of {rack.id}."
            )
        elif not rows and _is_above(item, rack.front.box(), tolerance):
            doubts.append(f"It is over {rack.id}: say where its cells stand (tiers).")
    return ("open", doubts[0]) if doubts else ("met", "It is not over any cells.")


def _is_above(item: Placed, below: Box, grown: float) -> bool:
    """Tell whether an item is above a box that is grown by a length every way."""
    low = (-grown, -grown, below.top)
    high = (below.width + grown, below.depth + grown, float("inf"))
    view = item.solid.seen_from(below.frame)
    return low[0] < high[0] and reaching(view, low, high) is not None
