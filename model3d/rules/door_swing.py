"""Doors of equipment that open to a right angle.

Applies to: every hinged leaf on the front of an item that needs a working space.
Bolted covers are exempt, and so is an open battery rack, which has no front.

Measures: the angle the leaf reaches from closed, up to 90 degrees, before anything
stops it, over the leaf's own height. The leaf sweeps a quarter of a round about its
hinge on the front plane, even where that reaches further than the working space.

Breach: the leaf is stopped before 90 degrees.

Exceptions: where nothing is said about doors, one leaf over the whole front is tested
hinged left and hinged right; both open is met, else a person must say how it opens. A
meter does not stop the cover of the meter socket it is in.

Source: NEC 110.26(A)(2), (A)(4), 110.32; 29 CFR 1910.303(g)(1)(i)(B), (h)(3); 29 CFR
1926.403(j)(3).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.sweep import QUARTER, Sweep
from model3d.judging.measured.leaf_stop import angle_of, stops_of
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ANGLE, Intrusion, Judgement, Verdict
from model3d.standing.leaves import is_open_rack, stated_leaves, whole_front
from model3d.wording import ASK_LEAVES, LEAF_TAKEN, sentences
from model3d.wording.said import Named, in_degrees, say
from model3d.working import is_high_voltage
from model3d.working.footing import ask_pit
from model3d.working.front import is_limited

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("door-angle", "limited-access")
REQUIREMENT: Final = requirement_of(__name__)
_SHUT: Final = 0.05
"""Degrees. A leaf that opens no further opens not at all."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge every leaf of an item that needs a working space."""
    if not item.live or item.front is None or is_open_rack(item):
        return
    entry, key = _sentence(item, situation)
    if not entry.has(key):
        return
    required, citation = entry.number(key), entry.cite(key)
    unread = unread_rules(entry, key)
    leaves = stated_leaves(item, situation.scene)
    if leaves is not None:
        for number, leaf in enumerate(leaves):
            turn = _turn(leaf, item, situation)
            verdict, why = _verdict(turn, required, situation)
            reason = sentences(_reason(turn), why)
            judged = _judgement(item, number, citation, required, turn, verdict, reason)
            missing = why if verdict == "open" else ""
            judged = replace(judged, missing=missing, unread=unread)
            yield _in_a_pit(judged, item, situation)
        return
    left, right = (
        _turn(whole_front(item.front, hinge), item, situation)
        for hinge in ("left", "right")
    )
    judged = _assumed(item, situation, citation, required, left, right)
    yield _in_a_pit(replace(judged, unread=unread), item, situation)


def _in_a_pit(judged: Judgement, item: Placed, situation: Situation) -> Judgement:
    """Leave open what the sides of a pit may stop, which are no solids."""
    asked = ask_pit(item, situation)
    if judged.verdict != "met" or not asked:
        return judged
    return replace(judged, verdict="open", reason=asked, missing=asked)


def _sentence(item: Placed, situation: Situation) -> tuple[Entry, str]:
    """Return the table and the key that hold for an item."""
    if is_high_voltage(item, situation):
        return situation.book.entry("door-angle"), "high_voltage_degrees"
    table = "limited-access" if is_limited(situation) else "door-angle"
    return situation.book.entry(table), "degrees"


@dataclass(frozen=True, slots=True)
class _Turn:
    """How far one leaf turns.

    Attributes:
        leaf: What it sweeps.
        stops: What is in the way, the first first: the angle and the solid.
        relaxed, strict: The angle if all dimensions are off by the survey tolerance.
    """

    leaf: Sweep
    item: Placed
    stops: tuple[tuple[float, Placed], ...]
    relaxed: float
    strict: float

    @property
    def angle(self) -> float:
        return angle_of(self.stops)


def _turn(leaf: Sweep, item: Placed, situation: Situation) -> _Turn:
    tolerance = situation.survey_tolerance
    stops = stops_of(leaf, item, situation)
    if not tolerance:
        angle = angle_of(stops)
        return _Turn(leaf, item, stops, angle, angle)
    ends = []
    for by in (-tolerance, tolerance):
        sized = replace(
            leaf, radius=max(leaf.radius + by, tolerance), top=leaf.top + by
        )
        ends.append(angle_of(stops_of(sized, item, situation)))
    return _Turn(leaf, item, stops, *ends)


def _verdict(turn: _Turn, required: float, situation: Situation) -> tuple[Verdict, str]:
    if turn.angle < QUARTER and turn.angle < required:
        if turn.relaxed >= min(required, QUARTER):
            return "open", situation.survey_doubt
        return "not-met", ""
    if turn.strict < min(required, QUARTER):
        return "open", situation.survey_doubt
    if required > QUARTER:
        return "open", say("Beyond {} nothing is tested.", in_degrees(f"{QUARTER:g}"))
    return "met", ""


def _reason(turn: _Turn) -> str:
    if not turn.stops:
        return say("The leaf opens to {}.", in_degrees("90"))
    angle, placed = turn.stops[0]
    if angle < _SHUT:
        return say("{} keeps the leaf shut.", Named(placed.id))
    return say("{} stops the leaf at {}.", Named(placed.id), in_degrees(f"{angle:.1f}"))


def _assumed(
    item: Placed,
    situation: Situation,
    citation: str,
    required: float,
    left: _Turn,
    right: _Turn,
) -> Judgement:
    worse = min(left, right, key=lambda turn: turn.angle)
    if worse.angle >= min(required, QUARTER):
        words = "One leaf over the whole front opens to {}, hinged either side."
        close = min(left.strict, right.strict) < min(required, QUARTER)
        doubt = situation.survey_doubt if close else ""
        verdict: Verdict = "open" if close else "met"
        told = sentences(say(words, in_degrees("90")), doubt)
        made = _judgement(item, 0, citation, required, left, verdict, told)
        return replace(made, missing=doubt, assumed=((item.id, LEAF_TAKEN),))
    ask = say(ASK_LEAVES, Named(item.id))
    # To a tenth: a leaf that is stopped where it starts turns by a slip of rounding.
    turns = (in_degrees(f"{round(one.angle, 1):g}") for one in (left, right))
    words = (
        "One leaf over the whole front opens to {} hinged left and to {} hinged right."
    )
    reason = sentences("Nothing is said about doors.", say(words, *turns), ask)
    made = _judgement(item, 0, citation, required, worse, "open", reason)
    return replace(made, missing=ask)


def _judgement(
    item: Placed,
    number: int,
    citation: str,
    required: float,
    turn: _Turn,
    verdict: Verdict,
    reason: str,
) -> Judgement:
    return Judgement(
        requirement=REQUIREMENT,
        subject=item.id,
        verdict=verdict,
        citation=citation,
        reason=reason,
        required={ANGLE: required},
        provided={ANGLE: turn.angle},
        margin=turn.angle - required,
        leaf=number,
        intrusions=tuple(_intrusion(turn.leaf, placed) for _, placed in turn.stops),
        shapes=(turn.leaf,),
    )


def _intrusion(leaf: Sweep, placed: Placed) -> Intrusion:
    return Intrusion(placed.id, leaf.body(placed.solid))
