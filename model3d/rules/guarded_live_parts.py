"""Height of live parts that have no guard.

Applies to: every item that says how high its lowest live part without a guard is
(unguarded_live_parts).

Measures: that height above the floor in front, against the figure for the voltage
between conductors; above the last row of the high-voltage table the figure grows with
the voltage.

Breach: live parts lower than the figure.

Exceptions: below the lowest voltage that the book guards nothing is asked for; older
installations keep the figures of their day.

Source: NEC 110.27(A)(4), 110.34(E); 29 CFR 1910.303(g)(2)(i)(D), Table S-3; 29 CFR
1926.403(i)(2)(i)(D), Table K-3.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.judging.limit import at_least
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement, SizeLine
from model3d.wording import sentences
from model3d.wording.said import Named, say
from model3d.working import is_high_voltage, needs

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry, VoltageRow
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("low-voltage-live-parts", "unguarded-live-parts")
REQUIREMENT: Final = requirement_of(__name__)
_KILOVOLT: Final = 1000.0
_UP: Final = 2


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the height of an item's unguarded live parts."""
    if item.item is None or item.item.unguarded_live_parts is None:
        return
    low, high = (situation.book.entry(table) for table in TABLES)
    supply = item.item.supply
    volts = None if supply is None else supply.line_volts
    if supply is None or volts is None:
        yield _unknown(item, high if _is_over(item.volts, low) else low, situation)
    elif _is_over(volts, low):
        if low.given and supply.direct_current and not is_high_voltage(item, situation):
            yield _no_figure(item, low, volts, situation)
        elif high.given:
            yield _high_voltage(item, high, volts, situation)
    elif low.given and volts >= low.number("volts_from"):
        row = low.row(volts)
        least = situation.least(row.cells[0])
        yield _judged(item, low, row, least, situation)


def _is_over(volts: float | None, low: Entry) -> bool:
    """Tell whether a voltage is beyond the low-voltage table, where there is one."""
    return not low.given or (volts is not None and volts > low.rows[-1].up_to)


def _high_voltage(
    item: Placed, entry: Entry, volts: float, situation: Situation
) -> Judgement:
    row = entry.row(volts)
    least = situation.least(row.cells[0])
    if _grows(row):
        more = situation.least(entry.figure("per_kilovolt"))
        least += more * (volts - row.above) / _KILOVOLT
    return _judged(item, entry, row, least, situation)


def _grows(row: VoltageRow) -> bool:
    """Tell whether the figure of a row grows with the voltage: the last one does."""
    return row.up_to == float("inf")


def _judged(
    item: Placed, entry: Entry, row: VoltageRow, least: float, situation: Situation
) -> Judgement:
    height = _height(item, situation)
    verdict, why = at_least(height, least, situation)
    figures, printed = [row.cells[0]], {"height": situation.printed(row.cells[0])}
    wanted = situation.told(row.cells[0])
    if _grows(row):
        # Worked out from the voltage: no book prints the sum.
        figures, printed = [*figures, entry.figure("per_kilovolt")], {}
        more = situation.told(figures[1])
        above = f"{row.above / _KILOVOLT:g}"
        wanted = say("{}, and {} for each kilovolt above {} kV,", wanted, more, above)
    found = _found(height, situation, least)
    found = say("{}; {} is asked for.", found, wanted)
    return Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.citation,
        sentences(found, why),
        missing=why,
        short="height",
        required={"height": least},
        printed=printed,
        provided={"height": height},
        margin=height - least,
        unread=unread_figures(entry, figures, situation.measures),
        line=_line(item, situation),
    )


def _unknown(item: Placed, entry: Entry, situation: Situation) -> Judgement:
    """Ask for the voltage between conductors."""
    ask = say(
        "Say the supply system of {}: the height of live parts without a guard depends "
        "on the volts between conductors.",
        Named(item.id),
    )
    return _open(item, entry, ask, situation)


def _no_figure(
    item: Placed, entry: Entry, volts: float, situation: Situation
) -> Judgement:
    """Leave open what direct current asks for between the two tables."""
    ask = (
        f"{situation.book.name} prints no height for {volts:g} V dc, which is beyond "
        "its low-voltage figures and no high voltage: the authority must decide."
    )
    return _open(item, entry, ask, situation)


def _open(item: Placed, entry: Entry, ask: str, situation: Situation) -> Judgement:
    height = _height(item, situation)
    return Judgement(
        REQUIREMENT,
        item.id,
        "open",
        entry.citation,
        sentences(say("{}.", _found(height, situation)), ask),
        missing=ask,
        short="height",
        provided={"height": height},
    )


def _found(height: float, situation: Situation, least: float | None = None) -> str:
    length = situation.length(height, least)
    return say("The lowest live part without a guard is {} above the floor", length)


def _height(item: Placed, situation: Situation) -> float:
    """Return the stated height above the floor that a person stands on."""
    stated = item.item.unguarded_live_parts if item.item else None
    height = 0.0 if stated is None else situation.scene.metres(stated)
    return height - _floor(item, situation)


def _floor(item: Placed, situation: Situation) -> float:
    if not item.live:
        return 0.0
    return needs(item, situation, situation.measures).floor


def _line(item: Placed, situation: Situation) -> SizeLine | None:
    """Return where the height is drawn: in front of the item."""
    front = item.front
    if front is None:
        return None
    return SizeLine(front.frame, (front.width, 0.0, _floor(item, situation)), _UP)
