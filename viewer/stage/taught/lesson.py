"""A scene with its lesson: a stage for every step, and where each one looks."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ANGLE
from model3d.lessons import goals, run_lesson
from model3d.scene.parts.lesson import AddItem, MoveItem, SetItem
from viewer.stage.assembly import build_stage
from viewer.stage.bodies.spaces import key
from viewer.stage.kept import Kept
from viewer.stage.looking.cameras import ABOVE, corners_of, direction, framed
from viewer.stage.looking.sights import best_view, screens
from viewer.stage.looking.views import held, sizes_about
from viewer.stage.parts import ShownChoice, StageStep, Task
from viewer.stage.taught.shown_sizes import shown_sizes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.report import Report
    from model3d.lessons import StepResult
    from model3d.scene.parts.lesson import Change
    from model3d.scene.parts.look import Look
    from model3d.scene.scene import Scene
    from viewer.stage.drawn import Points, View
    from viewer.stage.parts import Stage

_MARGIN: Final = 0.12
"""Share of the picture kept free about what is looked at."""
_WIDEST: Final = 180.0
"""Degrees. Further no leaf is opened."""
_OF_RESULT: Final = frozenset({"space", "footprint", "intrusion"})
"""The roles of shapes that come from the check."""


def lesson_stage(
    scene: Scene,
    results: Sequence[StepResult] | None = None,
    kept: Sequence[Kept] | None = None,
) -> Stage:
    """Return the stage of a scene at the start of its lesson, with the steps in it.

    The spaces of what a step looks at are shown even where they are met, until a step
    looks at something else. What a step changes is not drawn faintly, though it is
    overhead: it is what people are to look at.

    Args:
        scene: A scene with a lesson.
        results: What came of the steps, where the lesson was run already.
        kept: What is made for the start and for each step, to be used again by who
            shows rooms that are much like them.

    Raises:
        LessonError: The scene has no lesson, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    done = run_lesson(scene) if results is None else results
    first = done[0].before
    looks = _looks(done)
    made = [Kept() for _ in (None, *done)] if kept is None else kept
    start = build_stage(scene, first, of=_item(looks[0], first), kept=made[0])
    title = scene.lesson.title if scene.lesson else ""
    steps = map(_step, done, looks, made[1:])
    return replace(start, lesson=title, steps=tuple(steps))


def stage_beside(
    results: Sequence[StepResult],
    number: int,
    scene: Scene,
    report: Report,
    do: Sequence[Change],
    kept: Kept | None = None,
) -> Stage:
    """Return the stage of a scene that might be in a step's place.

    It looks at the same and has the same leaves open.

    Args:
        results: What came of the steps.
        number: Of the step, from 1; 0 for the start of the lesson.
        scene: The scene.
        report: What the check says of it.
        do: What makes it of the step's own scene.
        kept: What was made for the step's own stage.
    """
    look = _looks(results)[max(number - 1, 0)]
    of = _item(look, report)
    if not number:
        return build_stage(scene, report, of=of, kept=kept)
    result = replace(results[number - 1], report=report)
    stage = build_stage(scene, report, of=of, leaves=_leaves(result), kept=kept)
    changes = (*result.step.do, *do)
    return _solid(stage, {item for change in changes for item in _named(change)})


def _looks(results: Sequence[StepResult]) -> list[Look | None]:
    """Return what each step looks at; where it does not say, as the step before."""
    looks: list[Look | None] = []
    for result in results:
        before = looks[-1] if looks else None
        looks.append(result.look or before)
    return looks


def _step(result: StepResult, look: Look | None, kept: Kept) -> StageStep:
    report = result.report
    stage = build_stage(
        result.scene,
        report,
        of=_item(look, report),
        leaves=_leaves(result),
        kept=kept,
    )
    scene = result.scene
    near = None if look is None or look.near is None else scene.metres(look.near)
    view = None if result.look is None else _view(stage, report, result.look, near)
    items = {item for change in result.step.do for item in _named(change)}
    item = _item(look, report)
    return StageStep(
        result.say,
        result.ask,
        _solid(stage, items),
        view,
        item,
        _task(result),
        (*shown_sizes(result.step, scene, view), *sizes_about(stage, item)),
        near,
        (result.look.layers or ()) if result.look else (),
    )


def _task(result: StepResult) -> Task:
    """Return what a step asks of the class, and what its trainer reads."""
    step, scene = result.step, result.scene
    things = [(one.id, one.name or one.kind) for one in scene.items]
    things += [(one.id, "door") for one in scene.room.doors] if scene.room else []
    return Task(
        choices=tuple(
            ShownChoice(one.text, one.right, one.why) for one in step.choices
        ),
        find=step.find,
        things=tuple(sorted(things)) if step.find else (),
        drag=step.drag or "",
        goals=tuple(key(one) for one in goals(result)),
        notes=step.notes or "",
        minutes=step.minutes,
    )


def _named(change: Change) -> Iterator[str]:
    """Yield the item that a change puts in or alters."""
    match change:
        case SetItem(set=item) | MoveItem(move=item):
            yield item
        case AddItem(add=added):
            yield added.id


def _solid(stage: Stage, items: set[str]) -> Stage:
    """Return a stage in which some items are not drawn faintly.

    A ceiling is: it would hide the room.
    """
    plain = {
        shape.id: replace(shape, ghost=False, opacity=1.0, edge_opacity=1.0)
        for shape in stage.shapes
        if shape.ghost and shape.item in items and shape.kind != "ceiling"
    }
    names = {shape.item for shape in plain.values()}
    return replace(
        stage,
        shapes=tuple(plain.get(shape.id, shape) for shape in stage.shapes),
        labels=tuple(
            replace(label, ghost=label.ghost and label.item not in names)
            for label in stage.labels
        ),
    )


def _leaves(result: StepResult) -> dict[tuple[str, int], float]:
    """Return the angles to show open leaves at: no further than the room lets them."""
    stopped = {
        (one.subject, one.leaf): one.provided[ANGLE]
        for one in result.report.judgements
        if one.leaf is not None and one.verdict == "not-met" and ANGLE in one.provided
    }
    return {
        (one.item, one.leaf): min(one.angle, stopped.get((one.item, one.leaf), _WIDEST))
        for one in result.opened
    }


def _item(look: Look | None, report: Report) -> str | None:
    """Return the item that is looked at; None where it is a door, or is gone."""
    items = report.arrangement.items if report.arrangement else {}
    return look.at if look is not None and look.at in items else None


def _view(stage: Stage, report: Report, look: Look, near: float | None) -> View:
    """Return the camera that sees what is looked at, as far about it as is asked."""
    points = points_of(stage, look.at, near)
    if look.from_ is not None:
        name = ABOVE if look.from_ == ABOVE else ""
        towards = direction(look.from_)
        room = held(stage, towards)
        return framed(points, towards, name=name, margin=_MARGIN, room=room)
    items = report.arrangement.items if report.arrangement else {}
    placed = items.get(look.at)
    front = placed.front if placed else None
    ahead = front.frame.out if front else None
    return best_view(points, ahead, screens(stage.shapes), room=partial(held, stage))


def points_of(stage: Stage, item: str, near: float | None = None) -> Points:
    """Return the points that a picture about an item must hold, shape (n, 3).

    Args:
        stage: What there is.
        item: Its id; of one that is not there all there is is meant.
        near: How far about it the picture goes, as far as there is anything, metres;
            left out, it holds the item, its spaces and what is in them.
    """
    if near is not None:
        return _about(stage, item, near)
    rows = {index for index, row in enumerate(stage.judgements) if row.subject == item}
    found = [
        points.reshape(-1, 3)
        for shape in stage.shapes
        if (
            rows.intersection(shape.judgements)
            if shape.role in _OF_RESULT
            else shape.item == item
        )
        for points in (shape.vertices, shape.edges)
        if len(points)
    ]
    return np.concatenate(found or [corners_of(stage.low, stage.high)])


def _about(stage: Stage, item: str, near: float) -> Points:
    """Return the corners of all that lies so near to an item, shape (8, 3)."""
    own = [
        shape
        for shape in stage.shapes
        if shape.item == item and shape.role not in _OF_RESULT and len(shape.vertices)
    ]
    if not own:
        return corners_of(stage.low, stage.high)
    # Handles and what else stands out of it is no part of its size.
    bodies = [shape for shape in own if shape.role == "solid"] or own
    points = np.concatenate([shape.vertices for shape in bodies])
    low, high = points.min(axis=0), points.max(axis=0)
    # Behind a wall there is nothing to be seen.
    low = np.maximum(low - near, np.minimum(low, stage.low))
    high = np.minimum(high + near, np.maximum(high, stage.high))
    return corners_of(tuple(low.tolist()), tuple(high.tolist()))
