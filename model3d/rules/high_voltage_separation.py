"""Separation from high-voltage equipment.

Applies to: every item above the voltage of the rule in a room where another one is at
or below it.

Measures: nothing. A partition, fence or screen between the two is stated
(high_voltage_separated), not looked for.

Breach: exposed live parts at high voltage in one space with low-voltage equipment.

Exceptions: equipment with a dead front has no exposed live parts.

Source: NEC 110.26(A)(5), (A)(4) in 2014; 29 CFR 1910.303(h)(5)(ii).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.notes import rule_from_memory
from model3d.results import Judgement

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.results import Verdict
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

TABLES: Final = ("high-voltage-separation",)
REQUIREMENT: Final = "high-voltage-separation"


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge whether an item at high voltage is parted from those at low voltage."""
    entry = situation.book.entry(TABLES[0])
    if not entry.given or not item.live:
        return
    limit = entry.number("volts_over")
    if _volts(item) <= limit:
        return
    low = [other.id for other in situation.live if 0 < _volts(other) <= limit]
    if not low:
        return
    verdict, reason = _answer(item, low[0], situation)
    note = rule_from_memory(entry, "partition")
    yield Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.cite("partition"),
        f"{reason} {note}" if note else reason,
        missing=reason if verdict == "open" else "",
    )


def _volts(item: Placed) -> float:
    """Return the nominal voltage, between conductors where known; 0 where unknown."""
    supply = item.item.supply if item.item else None
    if supply is None:
        return 0.0
    return supply.line_volts or supply.volts or 0.0


def _answer(item: Placed, low: str, situation: Situation) -> tuple[Verdict, str]:
    separated = situation.scene.stated.high_voltage_separated
    written = item.item
    if separated:
        return "met", "A partition, fence or screen parts it from the low voltage."
    if written is not None and written.dead_front:
        return "met", "Its front is dead: no live part is exposed."
    if separated is None:
        return "open", (
            f"{low} is at low voltage in the same place. Say high_voltage_separated: "
            "true where a partition, fence or screen stands between, or "
            f"dead_front: true where {item.id} exposes no live part."
        )
    exposed = written is not None and (
        written.dead_front is False
        or written.live_parts is not None
        or written.unguarded_live_parts is not None
    )
    if exposed:
        return (
            "not-met",
            f"Its live parts are exposed, and nothing parts it from {low}.",
        )
    return "open", (
        f"Nothing parts it from {low}, which is at low voltage. Say whether {item.id} "
        "exposes live parts (dead_front)."
    )
