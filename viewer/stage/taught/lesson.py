"""A scene with its lesson: a stage for every step, and where each one looks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ANGLE
from model3d.lessons import goals, run_lesson
from model3d.scene.parts.lesson import AddItem, MoveItem, SetItem
from viewer.stage.assembly import build_stage
from viewer.stage.bodies.spaces import key
from viewer.stage.kept import Kept
from viewer.stage.layers import ROOM
from viewer.stage.looking.about import sizes_about
from viewer.stage.parts import ShownChoice, StageStep, Task
from viewer.stage.taught.lesson_progress import name_of
from viewer.stage.taught.shown_sizes import ends_of, shown_sizes
from viewer.stage.taught.step_view import asked_about, hiding, view_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.report import Report
    from model3d.lessons import StepResult
    from model3d.scene.parts.lesson import Change
    from model3d.scene.parts.look import Look
    from model3d.scene.scene import Scene
    from viewer.stage.drawn import Dimension, Shape
    from viewer.stage.parts import Stage

_WIDEST: Final = 180.0
"""Degrees. Further no leaf is opened."""


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
    steps: list[StageStep] = []
    for result, look, own in zip(done, looks, made[1:], strict=True):
        before = steps[-1].stage if steps else start
        steps.append(_step(result, look, own, before))
    return replace(start, lesson=title, steps=tuple(steps))


def stage_beside(
    results: Sequence[StepResult],
    number: int,
    shown: Stage,
    scene: Scene,
    report: Report,
    do: Sequence[Change],
    kept: Kept | None = None,
) -> Stage:
    """Return the stage of a scene that might be in a step's place.

    It looks at the same, has the same leaves open and the same things faint.

    Args:
        results: What came of the steps.
        number: Of the step, from 1; 0 for the start of the lesson.
        shown: The step's own stage.
        scene: The scene.
        report: What the check says of it.
        do: What makes it of the step's own scene.
        kept: What was made for the step's own stage.
    """
    of = _item(_looks(results)[max(number - 1, 0)], report)
    leaves = _leaves(replace(results[number - 1], report=report)) if number else {}
    stage = build_stage(scene, report, of=of, leaves=leaves, kept=kept)
    if number:
        drawn = {shape.id: shape for shape in shown.shapes if shape.role == "solid"}
        shapes = (_like(shape, drawn.get(shape.id)) for shape in stage.shapes)
        stage = replace(stage, shapes=tuple(shapes))
    return _solid(stage, {item for change in do for item in _named(change)})


def _like(shape: Shape, drawn: Shape | None) -> Shape:
    """Return a thing, faint where it is drawn faintly and full where it is not."""
    if drawn is None or drawn.ghost == shape.ghost:
        return shape
    return replace(
        shape,
        ghost=drawn.ghost,
        opacity=drawn.opacity,
        edge_opacity=drawn.edge_opacity,
    )


def _looks(results: Sequence[StepResult]) -> list[Look | None]:
    """Return what each step looks at; where it does not say, as the step before."""
    looks: list[Look | None] = []
    for result in results:
        before = looks[-1] if looks else None
        looks.append(result.look or before)
    return looks


def _step(
    result: StepResult, look: Look | None, kept: Kept, before: Stage
) -> StageStep:
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
    items = {item for change in result.step.do for item in _named(change)}
    items |= _new_doors(before, stage)
    view = None
    if result.look is not None:
        ends = ends_of(result.step, scene)
        points = asked_about(before, stage, result.look.at, items, near, ends)
        view = view_of(stage, report, result.look, points)
    item = _item(look, report)
    faint: tuple[Shape, ...] = ()
    stage = _solid(stage, items)
    own = shown_sizes(result.step, scene, view)
    sizes = (*own, *_sizes(result, before, stage, item))
    if view is not None and result.look is not None:
        at = result.look.at
        faint = tuple(hiding(before, view, at, set())) if result.ask else ()
        now = {shape.id: shape for shape in hiding(stage, view, at, items, sizes)}
        stage = replace(
            stage, shapes=tuple(now.get(shape.id, shape) for shape in stage.shapes)
        )
    return StageStep(
        result.say,
        result.ask,
        stage,
        view,
        _seen(look, stage),
        _task(result),
        sizes,
        near,
        (result.look.layers or ()) if result.look else (),
        faint,
    )


def _sizes(
    result: StepResult, before: Stage, after: Stage, item: str | None
) -> Iterator[Dimension]:
    """Yield the sizes of what a step looks at, and of what it has made worse.

    What is short elsewhere, and was so before the step, says nothing of it; but a step
    that does not say where it looks tells of all.
    """
    old = {name_of(row): row.verdict for row in before.judgements}
    for size in sizes_about(after, item):
        row = None if size.judgement is None else after.judgements[size.judgement]
        is_new = row is None or old.get(name_of(row)) != row.verdict
        if result.look is None or size.item == item or is_new:
            yield size


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


def _new_doors(before: Stage, after: Stage) -> set[str]:
    """Return the doors of the room that a step puts in, or puts elsewhere."""
    old = {shape.id: shape.vertices for shape in before.shapes if shape.role == "leaf"}
    return {
        shape.item
        for shape in after.shapes
        if shape.role == "leaf"
        and shape.layer == ROOM
        and not np.array_equal(shape.vertices, old.get(shape.id, ()))
    }


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


def _seen(look: Look | None, stage: Stage) -> str | None:
    """Return what is looked at, a door of the room too; None where it is gone."""
    if look is None or not any(shape.item == look.at for shape in stage.shapes):
        return None
    return look.at


def _item(look: Look | None, report: Report) -> str | None:
    """Return the item that is looked at; None where it is a door, or is gone."""
    items = report.arrangement.items if report.arrangement else {}
    return look.at if look is not None and look.at in items else None
