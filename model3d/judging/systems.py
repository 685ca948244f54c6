"""Ask a rule by the scene's own figures, and by the other system's where both count."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.judging.results import ANGLE, VERDICTS, Judgement
from model3d.judging.unseen import either_way, guarded
from model3d.judging.verdict import APART, judge, margin
from model3d.wording import end_of, sentences
from model3d.wording.said import joined, say

if TYPE_CHECKING:
    from model3d.codebook import Measures
    from model3d.judging.results import Sizes
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space

Question = Callable[["Situation"], Iterator["Space | Judgement"]]
"""A rule at one item, or at the room as a whole, to be asked of a situation."""

_OTHER: Final[dict[Measures, tuple[Measures, str]]] = {
    "si": ("inch-pound", "inch-pound"),
    "inch-pound": ("si", "SI"),
}
_BEST: Final = tuple(VERDICTS[n] for n in (0, 2, 1))
"""The verdicts, the best first."""


def answers(question: Question, situation: Situation) -> tuple[Judgement, ...]:
    """Return the judgements that come of a question.

    Where the figures of either system count, what misses the scene's own is asked
    again by whichever is the lesser of each. Where only one system counts, the reason
    says whether the other would answer otherwise. Where items are uncertain, the same
    is asked without them too.
    """
    found = _answers(question, situation)
    if not situation.uncertain:
        return found
    sure = _answers(question, situation.sure)
    return either_way(found, sure, situation.uncertain, situation.unread)


def _answers(question: Question, situation: Situation) -> tuple[Judgement, ...]:
    found = _judged(question, situation)
    if not found or situation.measures not in _OTHER:
        return found
    if situation.accepted == "either":
        return _by_either(found, question, situation)
    if not any(map(_is_near, found)):
        return found
    measures, name = _OTHER[situation.measures]
    again = _by_key(question, situation.by(measures))
    return tuple(_told(one, again.get(one.key), name) for one in found)


def _judged(question: Question, situation: Situation) -> tuple[Judgement, ...]:
    found = (
        one if isinstance(one, Judgement) else judge(one, situation)
        for one in question(situation)
    )
    return tuple(guarded(one, situation.clouds) for one in found)


def _by_key(
    question: Question, situation: Situation
) -> dict[tuple[object, ...], Judgement]:
    return {one.key: one for one in _judged(question, situation)}


def _by_either(
    found: tuple[Judgement, ...], question: Question, situation: Situation
) -> tuple[Judgement, ...]:
    if not any(map(_may_be_kept, found)):
        return found
    again = _by_key(question, situation.by("either"))
    return tuple(_better(one, again.get(one.key), situation) for one in found)


def _may_be_kept(judgement: Judgement) -> bool:
    """Tell whether what misses a figure of one system may keep one of the other."""
    if judgement.verdict == "met" or judgement.firm or ANGLE in judgement.required:
        return False
    if judgement.intrusions:
        # What may not be in a working space has no figure: the space itself has.
        return True
    unmeasured = judgement.required.keys() - judgement.provided.keys()
    return bool(unmeasured) or _is_near(judgement)


def _is_near(judgement: Judgement) -> bool:
    """Tell whether a size comes so near to its limit that the other figure may part."""
    sizes = judgement.provided
    return any(
        name != ANGLE and name in sizes and abs(sizes[name] - needed) < APART
        for name, needed in judgement.required.items()
    )


def _better(one: Judgement, again: Judgement | None, situation: Situation) -> Judgement:
    """Return what the figures of either system say where that is better.

    A size that keeps the scene's own figure is told against that.
    """
    if again is None or _BEST.index(again.verdict) >= _BEST.index(one.verdict):
        return one
    # Where something is still in the way, its own size is what was judged.
    missed = [again.short] if again.short in one.required else []
    missed = missed or [name for name in one.required if not _keeps(again, name, one)]
    if not missed and one.short in one.required:
        # Kept by so little that a survey does not tell: the other figure is sure.
        missed = [one.short]
    # Another condition asks for another depth: that of the scene's own is not known.
    same = one.condition == again.condition
    own = {
        name: size
        for name, size in (one.whole or one.required).items()
        if name not in missed and (same or name != "depth")
    }
    required = {
        name: own.get(name, size) if name in again.provided else size
        for name, size in again.required.items()
    }
    texts = [end_of(one.printed[name][-1]) for name in missed if name in one.printed]
    entry = situation.book.entry("units-of-measure")
    by = joined(" and ", texts) if texts else "the figures of the other system"
    verb = "Kept" if again.verdict == "met" else "Judged"
    said = say("{} by {} ({}: either system counts).", verb, by, entry.cite("either"))
    return replace(
        again,
        required=required,
        margin=_margin(again, required),
        reason=sentences(again.reason, said),
    )


def _margin(again: Judgement, required: Sizes) -> float | None:
    """Return what is left over or missing, where sizes are told against others."""
    if again.margin is None:
        return None
    if again.limit:
        spare = (
            (again.provided[name] - size) * (-1 if name in again.limit else 1)
            for name, size in required.items()
            if name in again.provided
        )
        return min(spare, default=again.margin)
    return margin(required, again.provided, in_the_way=bool(again.intrusions))


def _keeps(again: Judgement, name: str, one: Judgement) -> bool:
    """Tell whether what is provided keeps a figure of the scene's own system."""
    if name not in again.provided:
        return name in again.required
    spare = again.provided[name] - one.required[name]
    return (-spare if name in one.limit else spare) >= -TOUCH


def _told(judgement: Judgement, again: Judgement | None, name: str) -> Judgement:
    if again is None or (again.verdict == "met") == (judgement.verdict == "met"):
        return judgement
    verb = "met" if again.verdict == "met" else "missed"
    said = f"By the {name} figures the limit is {verb}."
    return replace(judgement, reason=sentences(judgement.reason, said))
