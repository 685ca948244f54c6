"""The working space where it was tested: other rules ask what is in it there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from model3d.fitting import fit
from model3d.judging import judge
from model3d.spaces import ANY
from model3d.working.inside import Allowance
from model3d.working.needs import needs
from model3d.working.opposite import condition_of
from model3d.working.space import working_space

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from model3d.fitting import Fit
    from model3d.results import Judgement
    from model3d.scene.placed import Placed
    from model3d.situation import Situation
    from model3d.spaces import Limit, Space, Way
    from model3d.working.needs import Needs


@dataclass(frozen=True, slots=True)
class Tested:
    """A working space and how it fits.

    Attributes:
        item: The item it belongs to.
        figures: What the rule book prints for it.
        space: The space itself, which may slide.
        found: How it fits best.
        condition: Of the depth table, by what lies opposite.
        why: What made it so.
        assumed: What was taken for granted in that.
    """

    item: Placed
    figures: Needs
    space: Space
    found: Fit
    condition: int
    why: str
    assumed: tuple[tuple[str, str], ...]

    @property
    def fixed(self) -> Space:
        """The space at its best place, where it slides no more."""
        place = self.found.place
        return replace(self.space, first=place, last=place, wanted=place)

    @property
    def depth(self) -> float:
        """The depth that holds by what lies opposite, metres."""
        return self.figures.depths[self.condition - 1]


def tested(item: Placed, situation: Situation) -> Tested:
    """Return the working space of an item, where it fits best."""
    # Several rules ask for it, and nothing in a situation changes.
    known = situation.tested.get(item)
    if known is None:
        figures = needs(item, situation, situation.measures)
        space = working_space(item, situation, figures)
        found = fit(space, situation)
        opposite = condition_of(item, situation, space, found)
        known = Tested(item, figures, space, found, *opposite)
        situation.tested[item] = known
    return known


def judge_working_space(
    item: Placed, situation: Situation, words: Mapping[Way, str] | None = None
) -> Judgement:
    """Judge the working space of an item, by the condition that lies opposite.

    Args:
        item: The item; its front is where the space is.
        situation: The room.
        words: How a way is said, where that is not ahead of the front.
    """
    it = tested(item, situation)
    space = replace(
        it.space,
        depth=it.depth,
        required={**it.space.required, "depth": it.depth + it.figures.behind},
        assumed=it.space.assumed + it.assumed,
        words=words or {},
    )
    judgement = judge(space, situation, it.found)
    return replace(
        judgement,
        condition=None if it.figures.question else it.condition,
        reason=" ".join(part for part in (judgement.reason, it.why) if part),
    )


def judge_held(
    it: Tested,
    situation: Situation,
    chosen: Callable[[Limit, float], Limit],
    *,
    citation: str,
    note: str,
    clear: str,
) -> Judgement:
    """Judge some of what a working space may hold, where the space was tested.

    Without a voltage the depth is not known: what stands in the deepest there is, but
    not in the shallowest, leaves it open.

    Args:
        it: The working space.
        situation: The room.
        chosen: Makes of the space's own limit, and its depth, the limit of what is
            judged.
        citation: Of the sentence that bars it.
        note: What a reader must know of that sentence.
        clear: The reason given where there is nothing of the kind.
    """
    question = it.figures.question
    space = replace(
        it.fixed,
        limit=chosen(it.space.limit, it.depth),
        required={},
        measures={"depth": "out", "width": "across"},
        citations={ANY: citation},
        notes={ANY: note},
        permission="",
        question="",
        clear=clear,
        reach=None,
        assumed=(),
    )
    judged = replace(judge(space, situation), provided={}, short="", place=None)
    if question and judged.verdict == "met":
        depth = _deepest(situation)
        limit = Allowance(it.item, situation, (depth,) * 3, it.figures)
        deeper = replace(space, depth=depth, limit=chosen(limit, depth))
        if fit(deeper, situation).all:
            return replace(judged, verdict="open", reason=question, missing=question)
    return judged


def _deepest(situation: Situation) -> float:
    rows = situation.book.entry("working-space-depth").rows
    return max(situation.least(cell) for row in rows for cell in row.cells)
