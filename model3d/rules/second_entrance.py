"""A way out at each end of large equipment.

Applies to: equipment from the printed rating on and wider than the printed width; by
edition service equipment that is so together. Above the low-voltage table boards wider
than the printed width, whatever their rating. Transformers, battery racks and meter
sockets hold no overcurrent, switching or control devices and are left out.

Measures: whether a way of the printed size leads to an exit from beside the left end
and from beside the right end of the working space, with what lies ahead of the
equipment barred, to twice the depth.

Breach: a way at one end only, or at none, and neither exception.

Exceptions: one way is enough where it is continuous and unobstructed: from every point
along the front, at the middle of the depth, the straight way to one exit is clear to
its full width. Or where the working space is clear to twice its depth and the nearest
edge of the entrance is as far from the equipment as the depth printed. At high voltage
29 CFR 1926 asks for the second way only where it is practicable: a person decides.

Source: NEC 110.26(C)(2), 110.33(A)(1); 29 CFR 1910.303(g)(1)(iv), (h)(4)(i)(A); 29 CFR
1926.403(j)(4)(i).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.egress.ends import ENDS, apart, exits_at, is_clear_to, straight_exit
from model3d.egress.floor import CONTACT
from model3d.egress.large import is_large
from model3d.egress.words import joined, measure_again, size
from model3d.geometry.tolerance import TOUCH
from model3d.notes import from_memory
from model3d.results import Judgement
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.egress.stand import Stand
    from model3d.results import Verdict
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

TABLES: Final = ("large-equipment", "high-voltage-entrance")
REQUIREMENT: Final = "second-entrance"
_BOARDS: Final = (
    "switchboard",
    "switchgear",
    "control-panel",
    "motor-control-center",
    "panelboard",
)
"""Kinds that are boards in the sense of the sentences on high voltage."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the ways out at both ends of one item."""
    if not item.live or item.front is None:
        return
    asked, question = _asked(item, situation)
    if asked is None:
        return
    if not situation.ways.exits:
        ask = "Say where the personnel doors are (room.doors)."
        yield replace(_judgement(asked, ask, "open"), missing=ask)
        return
    answer = _answer(asked, situation, 0.0)
    tolerance = situation.survey_tolerance
    differs = tolerance and any(
        _answer(asked, situation, by).kept != answer.kept
        for by in (-tolerance, tolerance)
    )
    doubt = measure_again(situation) if differs else ""
    if answer.kept:
        verdict: Verdict = "open" if doubt else "met"
        judged = _judgement(asked, joined(answer.reason, doubt), verdict, answer.key)
    else:
        if asked.where_practicable:
            practicable = "A person must say whether a second entrance is practicable."
            doubt = joined(doubt, practicable)
        doubt = joined(question, doubt)
        reason = joined(answer.reason, doubt, asked.note)
        judged = _judgement(asked, reason, "open" if doubt else "not-met")
    yield replace(judged, missing=doubt)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is asked of one item.

    Attributes:
        stand: Its working space.
        entry: What the rule book says.
        citation: Of the sentence that asks.
        width, height: Of each way, metres.
        unobstructed, doubled: Whether the book has the exceptions.
        where_practicable: Whether the second way is asked for only where practicable.
        note: What a reader must know of the figures.
    """

    stand: Stand
    entry: Entry
    citation: str
    width: float
    height: float
    unobstructed: bool
    doubled: bool
    where_practicable: bool
    note: str


def _asked(item: Placed, situation: Situation) -> tuple[_Asked | None, str]:
    """Return what is asked of an item, if anything; and what is missing to know it."""
    if is_high_voltage(item, situation):
        return _asked_of_board(item, situation), ""
    entry = situation.book.entry(TABLES[0])
    large, question = is_large(item, situation)
    citation = entry.citation
    if large is False:
        return None, ""
    figures = [entry.figure("entrance_width"), entry.figure("entrance_height")]
    return _Asked(
        situation.ways.stand(item),
        entry,
        citation,
        width=situation.least(figures[0]),
        height=situation.least(figures[1]),
        unobstructed=entry.flag("one_if_unobstructed"),
        doubled=entry.flag("one_if_doubled"),
        where_practicable=False,
        note=from_memory([*figures, entry.figure("width_over")], situation.measures),
    ), question


def _asked_of_board(item: Placed, situation: Situation) -> _Asked | None:
    entry = situation.book.entry(TABLES[1])
    if not entry.given or item.front is None or item.kind.name not in _BOARDS:
        return None
    widest = entry.figure("board_width_over")
    if item.front.width <= situation.most(widest) + TOUCH:
        return None
    figures = [entry.figure("width"), entry.figure("height")]
    citation = entry.cite("board_width_over")
    practicable = entry.flag("where_practicable")
    return _Asked(
        situation.ways.stand(item),
        entry,
        citation,
        width=situation.least(figures[0]),
        height=situation.least(figures[1]),
        unobstructed=not practicable,
        doubled=not practicable,
        where_practicable=practicable,
        note=from_memory([*figures, widest], situation.measures),
    )


@dataclass(frozen=True, slots=True)
class _Answer:
    """Whether it is kept, why, and the key of the sentence that says so."""

    kept: bool
    reason: str
    key: str = ""


def _answer(asked: _Asked, situation: Situation, by: float) -> _Answer:
    """Answer for ways that are larger by some metres."""
    width, height = asked.width + by, asked.height + by
    stand, floor = asked.stand, situation.ways.floor(height)
    left, right = stand.place, stand.place + stand.space.width
    reach = situation.reach_ahead(stand.frame, left, right)
    found = {end: exits_at(stand, floor, width, end, reach) for end in ENDS}
    if all(found.values()):
        ends = ", ".join(
            f"{end}: {', '.join(one.id for one in found[end])}" for end in ENDS
        )
        return _Answer(
            kept=True, reason=f"A way leaves the working space at each end ({ends})."
        )
    missing = " and ".join(f"at the {end} end" for end in ENDS if not found[end])
    wanted = size(asked.width, asked.height, situation)
    short = f"No way {wanted} leaves the working space {missing}."
    one = straight_exit(stand, floor, width) if asked.unobstructed else None
    if one is not None:
        straight = f"The way to {one.id} is continuous and unobstructed."
        return _Answer(kept=True, reason=straight, key="one_if_unobstructed")
    if not asked.doubled:
        return _Answer(kept=False, reason=short)
    kept, reason = _doubled(asked, situation, width, height)
    if kept:
        return _Answer(kept=True, reason=reason, key="one_if_doubled")
    winding = "The way out is not straight and clear from every point of the front."
    return _Answer(kept=False, reason=joined(short, winding, reason))


def _doubled(
    asked: _Asked, situation: Situation, width: float, height: float
) -> tuple[bool, str]:
    """Tell whether the depth is doubled and an entrance keeps the distance."""
    stand, floor = asked.stand, situation.ways.floor(height)
    depth = stand.space.depth
    if not is_clear_to(stand, situation, 2 * depth):
        return False, f"The depth is not doubled to {situation.length(2 * depth)}."
    standing = stand.standing(floor)
    reached = {
        one.id: apart(stand, one)
        for _, part in floor.places(standing, width - CONTACT)
        for one in part.exits
    }
    for name, away in sorted(reached.items()):
        if away >= depth - TOUCH:
            return True, (
                f"The depth is doubled to {situation.length(2 * depth)} and {name} is "
                f"{situation.length(away)} from the equipment."
                if away < float("inf")
                else f"The depth is doubled to {situation.length(2 * depth)}."
            )
    return False, (
        f"The depth is doubled, but no entrance is {situation.length(depth)} from the "
        "equipment."
    )


def _judgement(
    asked: _Asked, reason: str, verdict: Verdict, key: str = ""
) -> Judgement:
    entry = asked.entry
    return Judgement(
        requirement=REQUIREMENT,
        subject=asked.stand.item.id,
        verdict=verdict,
        citation=entry.cite(key) if key and entry.has(key) else asked.citation,
        reason=reason,
        required={"width": asked.width, "height": asked.height},
    )
