"""Height of live parts that have no guard.

Applies to: every item that says how high its lowest live part without a guard is
(unguarded_live_parts).

Measures: that height above the floor in front, against the figure for the voltage
between phases; above the last row of the table the figure grows with the voltage.

Breach: live parts lower than the figure.

Exceptions: below the lowest voltage that the book guards nothing is asked for; older
installations keep the figures of their day.

Source: NEC 110.34(E); 29 CFR 1910.303 Table S-3, (g)(2)(i); 29 CFR 1926.403 Table
K-3, (i)(2)(i).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.comparing import at_least
from model3d.notes import from_memory
from model3d.results import Judgement
from model3d.working import needs

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry, Figure
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

TABLES: Final = ("unguarded-live-parts",)
REQUIREMENT: Final = "guarded-live-parts"
_KILOVOLT: Final = 1000.0


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the height of an item's unguarded live parts."""
    entry = situation.book.entry(TABLES[0])
    stated = item.item.unguarded_live_parts if item.item else None
    if stated is None or not entry.given:
        return
    supply = item.item.supply if item.item else None
    volts = None if supply is None else supply.line_volts
    if volts is None:
        yield _open(item, entry, f"Say the supply system of {item.id}: {_BY_VOLTS}")
        return
    if volts <= entry.rows[0].above:
        yield from _low_voltage(item, entry, volts, situation)
        return
    row = next(row for row in entry.rows if row.holds(volts))
    figures = (row.cells[0], entry.figure("per_kilovolt"))
    height = situation.least(figures[0])
    if row is entry.rows[-1]:
        height += situation.least(figures[1]) * (volts - row.above) / _KILOVOLT
    yield _judged(item, situation, height, entry.cite("rows"), figures)


_BY_VOLTS: Final = "the height of live parts without a guard depends on the volts."


def _low_voltage(
    item: Placed, entry: Entry, volts: float, situation: Situation
) -> Iterator[Judgement]:
    key = "low_voltage_elevation"
    if not entry.has(key):
        above = f"{entry.rows[0].above:g} V"
        yield _open(item, entry, f"No height is at hand up to {above}: {_A_PERSON}")
    elif volts >= entry.number("low_voltage_from"):
        figure = entry.figure(key)
        height = situation.least(figure)
        yield _judged(item, situation, height, entry.cite(key), (figure,))


_A_PERSON: Final = "a person must say whether the live parts are guarded by elevation."


def _judged(
    item: Placed,
    situation: Situation,
    wanted: float,
    citation: str,
    figures: tuple[Figure, ...],
) -> Judgement:
    height = _height(item, situation)
    verdict, why = at_least(height, wanted, situation)
    length = situation.length
    found = (
        f"The lowest live part without a guard is {length(height)} above the floor; "
        f"{length(wanted)} is asked for."
    )
    parts = (found, why, from_memory(figures, situation.measures))
    return Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        citation,
        " ".join(part for part in parts if part),
        missing=why,
        short="height",
        required={"height": wanted},
        provided={"height": height},
        margin=height - wanted,
    )


def _height(item: Placed, situation: Situation) -> float:
    """Return the stated height above the floor that a person stands on."""
    stated = item.item.unguarded_live_parts if item.item else None
    height = 0.0 if stated is None else situation.scene.metres(stated)
    if not item.live:
        return height
    return height - needs(item, situation, situation.measures).floor


def _open(item: Placed, entry: Entry, reason: str) -> Judgement:
    return Judgement(REQUIREMENT, item.id, "open", entry.citation, reason, reason)
