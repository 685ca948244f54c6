"""Rooms designated as battery rooms.

Applies to: every personnel door, gas pipe and luminaire of a room with the use
battery-room.

Measures: of a door, wherever it is in the room, the way it opens, its hardware, and
how far it opens where the edition says so; of a gas pipe whether it is in the room; of
a luminaire whether any of it is above cells, in plan.

Breach: a door that opens into the room, or not far enough, or has no listed panic or
fire exit hardware; gas piping.

Exceptions: none. A luminaire over cells is open: whether somebody who services it is
exposed, and whether its failure is a hazard to the cells, a person decides. A door of
which nothing says how far it opens is taken to open far enough, and that is listed.

Source: NEC 480.9(E) to (G) in 2014, 480.10(E) to (G) since.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.bodies.extents import reaching
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ANGLE, ROOM, Judgement
from model3d.standing.racks import cell_rows
from model3d.wording import ASK_HARDWARE, ASK_OPENS, NO_LISTED_HARDWARE, sentences
from model3d.wording.said import Named, ids, in_degrees, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.geometry.bodies.solid import Box
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor
    from model3d.standing.placed import Placed

TABLES: Final = ("battery-room",)
REQUIREMENT: Final = requirement_of(__name__)
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
        yield _door(door, entry)
    if not doors:
        reason = "Say which personnel doors the room has (doors)."
        yield _judged(ROOM, entry, ("opens_out", "open", reason))


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge a gas pipe or a luminaire in a battery room."""
    entry = situation.book.entry(TABLES[0])
    if not _applies(entry, situation):
        return
    if item.kind.gas and entry.flag("gas_piping_barred"):
        if _is_in_room(item, situation):
            reason = "Gas piping is in the battery room."
            yield _judged(item.id, entry, ("gas_piping_barred", "not-met", reason))
    elif item.kind.luminaire and asks_of_luminaires(situation):
        verdict, reason = _over_cells(item, situation)
        answer = ("luminaires_over_cells", verdict, reason)
        yield _judged(item.id, entry, answer)


def asks_of_luminaires(situation: Situation) -> bool:
    """Tell whether a luminaire over cells is open in a room."""
    entry = situation.book.entry(TABLES[0])
    return _applies(entry, situation) and entry.flag("luminaires_over_cells")


def _applies(entry: Entry, situation: Situation) -> bool:
    return entry.given and situation.scene.use == "battery-room"


def _judged(subject: str, entry: Entry, answer: Answer) -> Judgement:
    key, verdict, reason = answer
    return Judgement(
        REQUIREMENT,
        subject,
        verdict,
        entry.cite(key),
        reason,
        missing=reason if verdict == "open" else "",
        unread=unread_rules(entry, key),
    )


def _door(door: RoomDoor, entry: Entry) -> Judgement:
    """Judge one door: the worst of the answers decides, and is cited."""
    answers = [*_answers(door, entry)]
    worst = max((verdict for _, verdict, _ in answers), key=_SEVERITY.index)
    decisive = [answer for answer in answers if answer[1] == worst]
    reason = sentences(*(reason for _, _, reason in decisive))
    keys = [key for key, _, _ in decisive]
    judged = replace(
        _judged(door.id, entry, (keys[0], worst, reason)),
        unread=unread_rules(entry, *keys),
    )
    if not entry.has("opens_degrees"):
        return judged
    degrees = entry.number("opens_degrees")
    stated = door.opens_to is not None
    opens_to = door.opens_to if door.opens_to is not None else degrees
    return replace(
        judged,
        short=ANGLE if keys[0] == "opens_degrees" else "",
        required={ANGLE: degrees},
        provided={ANGLE: opens_to} if stated else {},
        margin=opens_to - degrees if stated else None,
        assumed=() if stated else ((door.id, _OPENS_FAR),),
    )


_OPENS_FAR: Final = "Nothing says how far the door opens: taken as far enough."


def _answers(door: RoomDoor, entry: Entry) -> Iterator[Answer]:
    if entry.flag("opens_out"):
        yield "opens_out", *_direction(door)
    if entry.flag("listed_hardware"):
        yield "listed_hardware", *_hardware(door)
    if entry.has("opens_degrees") and door.opens_to is not None:
        degrees = entry.number("opens_degrees")
        short = door.opens_to < degrees
        reason = say("It opens to {}.", in_degrees(f"{door.opens_to:g}"))
        yield "opens_degrees", "not-met" if short else "met", reason


def _direction(door: RoomDoor) -> tuple[Verdict, str]:
    match door.opens:
        case "out":
            return "met", "The door opens out of the room."
        case "in":
            return "not-met", "The door opens into the room."
        case None:
            return "open", say(ASK_OPENS, Named(door.id))


def _hardware(door: RoomDoor) -> tuple[Verdict, str]:
    if door.hardware is None:
        return "open", say(ASK_HARDWARE, Named(door.id))
    if door.hardware in _LISTED:
        return "met", f"It has listed {door.hardware.replace('-', ' ')} hardware."
    return "not-met", say(NO_LISTED_HARDWARE, Named(door.id))


def _is_in_room(item: Placed, situation: Situation) -> bool:
    """Tell whether a thing is inside the room by more than contact."""
    shell = situation.arrangement.shell
    top = item.top if shell.height is None else shell.height
    if item.top <= TOUCH or item.bottom >= top - TOUCH:
        return False
    inner = flat.Polygon(shell.outline).buffer(-TOUCH)
    return bool(inner.intersects(footprint(item.solid, 0.0, top)))


def _over_cells(item: Placed, situation: Situation) -> tuple[Verdict, str]:
    """Tell whether any of a luminaire is above cells, by more than contact."""
    tolerance = situation.survey_tolerance
    over, doubts = [], []
    for rack in situation.items:
        if not rack.kind.batteries or rack.front is None:
            continue
        rows = [row.body() for row in cell_rows(rack, situation.scene)]
        if not rows and rack.item is not None and rack.item.listed:
            rows = [rack.front.box()]
        if any(_is_above(item, row, -tolerance) for row in rows):
            over.append(rack.id)
        elif any(_is_above(item, row, tolerance) for row in rows):
            cells = say("The cells are those of {}.", Named(rack.id))
            doubts.append(sentences(situation.survey_doubt, cells))
        elif not rows and _is_above(item, rack.front.box(), tolerance):
            doubts.append(
                say("It is over {}: say where its cells stand (tiers).", Named(rack.id))
            )
    if over:
        return "open", say("It is over the cells of {}: {}", ids(over), _DECIDE)
    return ("open", doubts[0]) if doubts else ("met", "It is not over any cells.")


_DECIDE: Final = (
    "a person decides whether who services it is exposed to live cells, and whether "
    "its failure is a hazard to them."
)


def _is_above(item: Placed, below: Box, grown: float) -> bool:
    """Tell whether an item is above a box that is grown by a length every way."""
    low = (-grown, -grown, below.top)
    high = (below.width + grown, below.depth + grown, float("inf"))
    view = item.solid.seen_from(below.frame)
    return low[0] < high[0] and reaching(view, low, high) is not None
