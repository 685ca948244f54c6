"""Ask a rule, and say where the figures of the other system would answer otherwise."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.judging import judge
from model3d.results import ANGLE, Judgement

if TYPE_CHECKING:
    from model3d.codebook import Measures
    from model3d.situation import Situation
    from model3d.spaces import Space

Question = Callable[["Situation"], Iterator["Space | Judgement"]]
"""A rule at one item, or at the room as a whole, to be asked of a situation."""

_NEAR: Final = 0.1
"""Metres. The two figures that are printed of one limit differ by less."""
_OTHER: Final[dict[Measures, tuple[Measures, str]]] = {
    "si": ("inch-pound", "inch-pound"),
    "inch-pound": ("si", "SI"),
}


def answers(question: Question, situation: Situation) -> tuple[Judgement, ...]:
    """Return the judgements that come of a question.

    Where a limit is met in one system and missed in the other, the reason says so.
    """
    found = _judged(question, situation)
    if situation.measures not in _OTHER or not any(map(_is_near, found)):
        return found
    _, name = _OTHER[situation.measures]
    again = {_key(one): one for one in _judged(question, _other(situation))}
    return tuple(_told(one, again.get(_key(one)), name) for one in found)


def _judged(question: Question, situation: Situation) -> tuple[Judgement, ...]:
    return tuple(
        one if isinstance(one, Judgement) else judge(one, situation)
        for one in question(situation)
    )


def _is_near(judgement: Judgement) -> bool:
    """Tell whether a size comes so near to its limit that the other figure may part."""
    sizes = judgement.provided
    return any(
        name != ANGLE and name in sizes and abs(sizes[name] - needed) < _NEAR
        for name, needed in judgement.required.items()
    )


def _other(situation: Situation) -> Situation:
    """Return the situation in which the figures of the other system count."""
    known = situation.other_system
    if not known:
        measures, _ = _OTHER[situation.measures]
        known.append(replace(situation, measures=measures))
    return known[0]


def _key(judgement: Judgement) -> tuple[object, ...]:
    one = judgement
    return one.requirement, one.subject, one.leaf, one.tier, one.side


def _told(judgement: Judgement, again: Judgement | None, name: str) -> Judgement:
    if again is None or (again.verdict == "met") == (judgement.verdict == "met"):
        return judgement
    verb = "met" if again.verdict == "met" else "missed"
    reason = f"{judgement.reason} By the {name} figures the limit is {verb}."
    return replace(judgement, reason=reason)
