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
from viewer.stage.layers import ROOM
from viewer.stage.looking.cameras import ABOVE, corners_of, direction, framed
from viewer.stage.looking.sights import best_view, screens
from viewer.stage.looking.views import faded, held, sizes_about
from viewer.stage.parts import ShownChoice, StageStep, Task
from viewer.stage.taught.shown_sizes import shown_sizes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.report import Report
    from model3d.lessons import StepResult
    from model3d.scene.parts.lesson import Change
    from model3d.scene.parts.look import Look
    from model3d.scene.scene import Scene
    from viewer.stage.drawn import Points, Shape, View
    from viewer.stage.parts import Stage

_MARGIN: Final = 0.12
"""Share of the picture kept free about what is looked at."""
_BESIDE: Final = 0.5
"""Metres about what is looked at in which what a step changes is shown."""
_ALONG: Final = 2.0
"""Metres. So much is shown of a thing that a step changes farther away."""
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
        points = _asked_about(before, stage, result.look.at, items, near)
        view = _view(stage, report, result.look, points)
    item = _item(look, report)
    faint: tuple[Shape, ...] = ()
    stage = _solid(stage, items)
    if view is not None and result.look is not None:
        at = result.look.at
        faint = tuple(_hiding(before, view, at, set())) if result.ask else ()
        now = {shape.id: shape for shape in _hiding(stage, view, at, items)}
        stage = replace(
            stage, shapes=tuple(now.get(shape.id, shape) for shape in stage.shapes)
        )
    return StageStep(
        result.say,
        result.ask,
        stage,
        view,
        item,
        _task(result),
        (*shown_sizes(result.step, scene, view), *sizes_about(stage, item)),
        near,
        (result.look.layers or ()) if result.look else (),
        faint,
    )


def _hiding(stage: Stage, view: View, item: str, but: set[str]) -> Iterator[Shape]:
    """Yield, drawn faintly, what stands before an item or the spaces it requires.

    Args:
        stage: What there is.
        view: The camera.
        item: What is looked at.
        but: Ids of what is told of: it stays as it is; so does what is in the way.
    """
    seen = _of_item(stage, item)
    told = {one.item for one in stage.shapes if one.role == "intrusion"}
    for was, now in zip(
        stage.shapes,
        faded(stage.shapes, view, seen, {item, *told, *but}),
        strict=True,
    ):
        if now is not was:
            yield now


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


def _item(look: Look | None, report: Report) -> str | None:
    """Return the item that is looked at; None where it is a door, or is gone."""
    items = report.arrangement.items if report.arrangement else {}
    return look.at if look is not None and look.at in items else None


def _view(stage: Stage, report: Report, look: Look, points: Points) -> View:
    """Return the camera that sees some points from where a step looks."""
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


def _asked_about(
    before: Stage, after: Stage, item: str, changed: set[str], near: float | None
) -> Points:
    """Return the points that the picture of a step must hold, shape (n, 3).

    They are those of what is looked at, after the step and before it, for the question
    shows the room before; and of what the step changes, as much of that as lies beside.

    Args:
        before: The stage before the step.
        after: The stage after it.
        item: What is looked at.
        changed: Ids of what the step puts in or alters.
        near: How far about the item its author wants it seen; no more is shown then.
    """
    points = points_of(after, item, near)
    if near is not None:
        return points
    low, high = points.min(axis=0) - _BESIDE, points.max(axis=0) + _BESIDE
    found = [points, *(shape.vertices for shape in _bodies(before, {item}))]
    for shape in (*_bodies(before, changed), *_bodies(after, changed)):
        least, most = shape.vertices.min(axis=0), shape.vertices.max(axis=0)
        # Of a pipe through the whole room the end next to what is looked at.
        first = np.maximum(least, np.minimum(low, most - _ALONG))
        last = np.minimum(most, np.maximum(high, least + _ALONG))
        found.append(corners_of(tuple(first.tolist()), tuple(last.tolist())))
    return np.concatenate(found)


def _bodies(stage: Stage, items: set[str]) -> list[Shape]:
    """Return what is drawn of some things, but of a ceiling: it is above all else."""
    return [
        shape
        for shape in stage.shapes
        if shape.item in items
        and shape.role in {"solid", "leaf"}
        and shape.kind != "ceiling"
        and len(shape.vertices)
    ]


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
    found = [
        points.reshape(-1, 3)
        for shape in _of_item(stage, item)
        for points in (shape.vertices, shape.edges)
        if len(points)
    ]
    return np.concatenate(found or [corners_of(stage.low, stage.high)])


def _of_item(stage: Stage, item: str) -> Iterator[Shape]:
    """Yield the shapes of an item, of its spaces and of what is in them."""
    rows = {index for index, row in enumerate(stage.judgements) if row.subject == item}
    for shape in stage.shapes:
        is_result = shape.role in _OF_RESULT
        if rows.intersection(shape.judgements) if is_result else shape.item == item:
            yield shape


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
