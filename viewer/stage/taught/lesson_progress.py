"""A lesson that is gone through: which step it is at, and what that shows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from viewer.stage import palette
from viewer.stage.layers import BUILDING, PARTS
from viewer.wording.words import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Verdict
    from viewer.stage.drawn import Shape
    from viewer.stage.parts import Stage, StageStep
    from viewer.stage.rows import ListedJudgement


@dataclass(frozen=True, slots=True)
class LessonPlace:
    """How far a lesson has come.

    Attributes:
        step: 0 before it has begun; n at the n-th step.
        answered: Whether the step's question, if it has one, has been answered.
    """

    step: int = 0
    answered: bool = True


def moved_on(start: Stage, place: LessonPlace, by: int) -> LessonPlace:
    """Return the place one on or one back; from a question its answer comes first."""
    if by > 0 and not place.answered:
        return LessonPlace(place.step, answered=True)
    step = place.step + by
    if not 0 <= step <= len(start.steps):
        return place
    asks = step > 0 and bool(start.steps[step - 1].ask)
    return LessonPlace(step, answered=by < 0 or not asks)


def step_at(start: Stage, place: LessonPlace) -> StageStep | None:
    """Return the step a lesson is at; None before it has begun."""
    return start.steps[place.step - 1] if place.step else None


def stage_at(start: Stage, place: LessonPlace) -> Stage:
    """Return what is shown; while a question is open, the room as it was before."""
    if place.answered:
        return _after(start, place.step)
    before = _after(start, place.step - 1)
    faint = {one.id: one for one in start.steps[place.step - 1].faint}
    shapes = tuple(faint.get(one.id, one) for one in before.shapes)
    return asked(replace(before, shapes=shapes))


def asked(before: Stage) -> Stage:
    """Return what a question is asked about: the things and the spaces, no verdict."""
    shapes = tuple(_plain(one) for one in before.shapes if one.role != "intrusion")
    return replace(before, shapes=shapes, badges=(), dimensions=())


def _plain(shape: Shape) -> Shape:
    """Return a thing as it is drawn where nothing is wrong with it."""
    if not shape.through:
        return shape
    structure, associated = shape.layer == BUILDING, shape.layer == PARTS
    return replace(
        shape,
        colour=palette.neutral(shape.kind, associated=associated, structure=structure),
        edge_colour=palette.EDGE,
        through=False,
    )


def changes(start: Stage, place: LessonPlace) -> Iterator[tuple[str, Verdict]]:
    """Yield in words which verdicts the answered step has changed, and to what.

    What is judged for the first time and is simply met is left out.
    """
    if not place.step or not place.answered:
        return
    before, after = _after(start, place.step - 1), _after(start, place.step)
    old = {name_of(one): one.verdict for one in before.judgements}
    for one in after.judgements:
        was = old.get(name_of(one))
        if (was or "met") != one.verdict:
            words = WORDS[one.verdict]
            told = f"{WORDS[was]} → {words}" if was else words
            yield f"{one.subject} {title_of(one)}: {told}", one.verdict


def name_of(judgement: ListedJudgement) -> tuple[str, str, str]:
    """Return what a judgement is about; the same before and after a change."""
    return judgement.subject, judgement.requirement, judgement.part


def title_of(judgement: ListedJudgement) -> str:
    """Return the requirement and the part of the item, as in a line of text."""
    title = judgement.title[:1].lower() + judgement.title[1:]
    return f"{title}, {judgement.part}" if judgement.part else title


def _after(start: Stage, step: int) -> Stage:
    return start.steps[step - 1].stage if step > 0 else start
