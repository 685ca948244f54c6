"""Separation from high-voltage equipment.

Applies to: every item above the voltage of the rule in a room where another one is at
or below it, or does not say its voltage.

Measures: nothing. A partition, fence or screen between the two is stated
(high_voltage_separated), not looked for.

Breach: exposed live parts at high voltage in one space with low-voltage equipment.

Exceptions: equipment with a dead front has no exposed live parts. Low-voltage equipment
that serves only the vault, to which only qualified persons have access, may stand in it
(serves_only_this_room); until that is stated it is open.

Source: NEC 110.26(A)(5), (A)(4) in 2014; 110.34(B); 29 CFR 1910.303(h)(5)(ii).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from model3d.codebook.unread import unread_rules
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.judging.space import Excuse
from model3d.wording import sentences
from model3d.wording.said import Named, joined, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("high-voltage-separation",)
REQUIREMENT: Final = requirement_of(__name__)
_PARTED: Final = "partition"
_OWN: Final = "own_equipment"


class _Answer(NamedTuple):
    """The verdict, the key of the sentence that decides, and why."""

    verdict: Verdict
    key: str
    reason: str


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge whether an item at high voltage is parted from those at low voltage."""
    entry = situation.book.entry(TABLES[0])
    if not entry.given or not item.live or not _is_high(item, entry):
        return
    others = [
        other
        for other in situation.live
        if other is not item and not _is_high(other, entry)
    ]
    if not others:
        return
    known = [other for other in others if _volts(other) > 0]
    answer = _answer(item, (known or others)[0].id, situation, entry)
    if not known and answer.verdict != "met":
        answer = _ask_volts(others[0], entry)
    yield Judgement(
        REQUIREMENT,
        item.id,
        answer.verdict,
        entry.cite(answer.key),
        answer.reason,
        missing=answer.reason if answer.verdict == "open" else "",
        exception=_exception(entry) if answer.key == _OWN else "",
        unread=unread_rules(entry, answer.key),
    )


def _ask_volts(other: Placed, entry: Entry) -> _Answer:
    """Ask for the voltage of what may be at low voltage: nothing else is."""
    number = entry.number("volts_over")
    reason = say(
        "Say the supply of {}: at {} V or less it is parted from the high voltage.",
        Named(other.id),
        f"{number:g}",
    )
    return _Answer("open", _PARTED, reason)


def _exception(entry: Entry) -> str:
    """Name the exception for equipment that serves only the vault."""
    return str(Excuse("low-voltage equipment of the vault itself", entry.cite(_OWN)))


def _is_high(item: Placed, entry: Entry) -> bool:
    """Tell whether an item's nominal voltage is above that of the rule."""
    supply = item.item.supply if item.item else None
    direct = supply is not None and supply.direct_current
    key = "dc_volts_over" if direct and entry.has("dc_volts_over") else "volts_over"
    return _volts(item) > entry.number(key)


def _volts(item: Placed) -> float:
    """Return the nominal voltage, between conductors where known; 0 where unknown."""
    supply = item.item.supply if item.item else None
    if supply is None:
        return 0.0
    return supply.line_volts or supply.volts or 0.0


def _answer(item: Placed, low: str, situation: Situation, entry: Entry) -> _Answer:
    separated = situation.scene.stated.high_voltage_separated
    serves = situation.scene.stated.serves_only_this_room
    written = item.item
    if separated:
        parted = "A partition, fence or screen parts it from the low voltage."
        return _Answer("met", _PARTED, parted)
    if written is not None and written.dead_front:
        return _Answer("met", _PARTED, "Its front is dead: no live part is exposed.")
    if serves:
        return _Answer(
            "met",
            _OWN,
            "By exception no partition is asked for: the low-voltage equipment serves "
            "only this room, and only qualified persons have access "
            f"({entry.cite(_OWN)}).",
        )
    ways = _ways_out(item, situation, entry)
    if ways:
        together = say("{} is at low voltage in the same place.", Named(low))
        asks = say("Say {}.", joined(", or ", ways))
        return _Answer("open", _PARTED, sentences(together, asks))
    exposed = say(
        "Its live parts are exposed, and nothing parts it from {}.", Named(low)
    )
    return _Answer("not-met", _PARTED, exposed)


def _ways_out(item: Placed, situation: Situation, entry: Entry) -> list[str]:
    """Return what would put it right if it were said, and has not been said."""
    ways = []
    if situation.scene.stated.high_voltage_separated is None:
        ways.append(
            "high_voltage_separated: true where a partition, fence or screen stands "
            "between"
        )
    written = item.item
    exposed = written is not None and (
        written.dead_front is False
        or written.live_parts is not None
        or written.unguarded_live_parts is not None
    )
    if not exposed:
        ways.append(
            say("dead_front: true where {} exposes no live part", Named(item.id))
        )
    if situation.scene.stated.serves_only_this_room is None:
        ways.append(
            "serves_only_this_room: true where the low-voltage equipment serves only "
            f"this room and only qualified persons have access ({entry.cite(_OWN)})"
        )
    return ways
