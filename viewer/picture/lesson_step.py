"""A step of a lesson as a picture: what is said, which sizes are shown, from where."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from viewer.stage.looking.cameras import ABOVE, direction, framed, suited
from viewer.stage.looking.views import FRAME, held, view_of_place
from viewer.stage.taught.step_view import points_of
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.stage.drawn import View
    from viewer.stage.parts import Stage


def step_words(stage: Stage, number: int, *, asked: bool = False) -> str:
    """Return what is said at a step, with the step's number before it.

    Args:
        stage: With the steps of the lesson.
        number: Of the step, from 1.
        asked: The question before the step, in place of what is said at it.
    """
    step = stage.steps[number - 1]
    words = step.ask if asked else step.say or in_words(step.stage)
    return f"{number} / {len(stage.steps)}  {words}"


def in_words(stage: Stage) -> str:
    """Say in a line what a room's film shows: what is not met, by its numbers."""
    bad = [one for one in stage.judgements if one.verdict == "not-met"]
    if not bad:
        return "Nothing is not met."
    return "Not met:  " + ";  ".join(
        f"{one.number} {clean(one.subject)} {one.title.lower()}" for one in bad
    )


def view_of_step(
    stage: Stage, number: int, aspect: float, *, looking_from: str | None = None
) -> View:
    """Return the step's camera; a step without one looks as the step before.

    Args:
        stage: With the steps of the lesson.
        number: Of the step, from 1.
        aspect: Width by height of the picture.
        looking_from: Where to stand instead, to look at the same.

    Raises:
        ValueError: There is no view of that name.
    """
    step = stage.steps[number - 1]
    if looking_from is not None:
        towards = direction(looking_from)
        if step.item is None:
            return view_of_place(step.stage, aspect, looking_from=looking_from)
        own = [one for one in step.sizes if one.judgement is None]
        ends = np.array([end for one in own for end in (one.start, one.end)])
        points = points_of(step.stage, step.item, step.near)
        points = np.concatenate((points, ends.reshape(-1, 3)))
        name = ABOVE if looking_from == ABOVE else ""
        room = held(step.stage, towards)
        return framed(
            points, towards, aspect=aspect, name=name, margin=FRAME, room=room
        )
    looks = [one.look for one in stage.steps[:number] if one.look is not None]
    return suited(looks[-1], aspect) if looks else view_of_place(stage, aspect)
