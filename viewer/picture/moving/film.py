"""Films of a room: a turn about it, a door that opens until it is stopped, a lesson.

A film is one file, whole or not at all: GIF, WebP or animated PNG by its ending.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from viewer.picture.lesson_step import in_words, step_words
from viewer.picture.moving.shots import (
    FEWEST,
    SIZE,
    TICK,
    Shot,
    check_film,
    divided,
    write_film,
)
from viewer.picture.moving.swing import only_swing, outcome, tip
from viewer.picture.person import peopled
from viewer.sheet.layout import spoken
from viewer.sheet.signage import PointText
from viewer.stage import build_stage
from viewer.stage.layers import with_layers
from viewer.stage.looking.about import about, sizes_about
from viewer.stage.looking.cameras import BEARINGS, between, orbit, suited, towards_eye
from viewer.stage.looking.views import held, view_of_item, view_of_place
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path

    from model3d.judging.report import Report
    from model3d.scene.scene import Scene
    from viewer.stage import Shape, Stage, View

    Progress = Callable[[int, int], None]

FRAMES: Final = 72
"""Of a turn, where nothing else is said."""
_REST: Final = 1800
"""Milliseconds the end of a movement is shown."""
_MOVE: Final = 10
"""Frames of a camera on its way to the next step of a lesson."""
_READING: Final = 55
"""Milliseconds a letter takes to be read at ease."""
_LEAST_READING: Final = 2500
_OPENS: Final = "{}: the leaf opens"


def turn_film(
    scene: Scene,
    report: Report,
    path: Path,
    *,
    frames: int = FRAMES,
    size: tuple[int, int] = SIZE,
    progress: Progress | None = None,
) -> None:
    """Write a film in which the camera goes once about the room.

    Args:
        scene: What was checked.
        report: What the check answered.
        path: The file; its ending says the format.
        frames: How many pictures.
        size: Width and height, pixels.
        progress: Called after each picture with how many are done, and of how many.

    Raises:
        ValueError: A size, a number or an ending that cannot be.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    check_film(path, size, frames)
    stage = build_stage(scene, report)
    words = in_words(stage)
    plan = spoken(size, words, stage=stage)
    start = BEARINGS["south-east"]
    bearings = [start - 360.0 * n / frames for n in range(frames)]
    seen = [held(stage, towards_eye(bearing)) for bearing in bearings]
    views = orbit(seen, bearings, aspect=plan.aspect)
    made = [Shot(stage, view, words) for view in views]
    write_film(made, path, size, progress)


def door_film(
    scene: Scene,
    report: Report,
    path: Path,
    leaf: tuple[str, int],
    *,
    frames: int = 24,
    size: tuple[int, int] = SIZE,
    progress: Progress | None = None,
) -> None:
    """Write a film of a door leaf that opens until something stops it.

    Args:
        scene: What was checked.
        report: What the check answered.
        path: The file; its ending says the format.
        leaf: Id of the item the leaf is on, or of a personnel door, and which of its
            leaves, from 0.
        frames: How many pictures until it stops.
        size: Width and height, pixels.
        progress: Called after each picture with how many are done, and of how many.

    Raises:
        ValueError: No such item or leaf, or a size, number or ending that cannot be.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    check_film(path, size, frames)
    item, number = leaf
    stage = build_stage(scene, report, of=item if item in _items(report) else None)
    name = f"{item}/leaf-{number}"
    hung = next((shape for shape in stage.shapes if shape.id == name), None)
    if hung is None or hung.pivot is None:
        msg = f"{item} has no leaf {number} that is stated in the scene"
        raise ValueError(msg)
    stage = only_swing(about(stage, item), number)
    ended = outcome(stage, hung, number)
    plan = divided(size, (ended, _OPENS.format(clean(item))), [stage], of=item)
    view = view_of_item(stage, item, plan.aspect)
    made = list(_opening(stage, hung, view, frames, ended))
    write_film(made, path, size, progress)


def lesson_film(
    stage: Stage,
    path: Path,
    *,
    size: tuple[int, int] = SIZE,
    progress: Progress | None = None,
) -> None:
    """Write a film of a lesson: each step is said, shown, and left to be read.

    A question is shown on the stage as it was; then the answer.

    Args:
        stage: With the steps of the lesson, as ``stage.lesson`` makes it.
        path: The file; its ending says the format.
        size: Width and height, pixels.
        progress: Called after each picture with how many are done, and of how many.

    Raises:
        ValueError: No step, or a size or ending that cannot be.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    if not stage.steps:
        msg = "a lesson without steps makes no film"
        raise ValueError(msg)
    check_film(path, size, FEWEST)
    # How high the legend is follows from what is drawn, and that from the height left.
    rooms = [stage, *(with_layers(one.stage, one.layers) for one in stage.steps)]
    plan = divided(size, _texts(stage), rooms, title=stage.lesson)
    write_film(list(_lesson(stage, plan.aspect)), path, size, progress)


def _lesson(stage: Stage, aspect: float) -> Iterator[Shot]:
    view = view_of_place(stage, aspect)
    title, now = stage.lesson, stage
    sizes = sizes_about(stage, stage.steps[0].item)

    def frame(view: View, words: str, item: str | None, shown: int = TICK) -> Shot:
        room = peopled(now, view, item)
        return Shot(room, view, words, shown=shown, title=title, sizes=sizes)

    for number, step in enumerate(stage.steps, 1):
        goal = suited(step.look, aspect) if step.look else view
        said = step_words(stage, number)
        asked = step_words(stage, number, asked=True) if step.ask else said
        item = _item(stage, number - 1)
        if step.ask:
            yield frame(view, asked, item, shown=_reading(asked))
        for n in range(1, 0 if goal == view else _MOVE):
            yield frame(between(view, goal, n / _MOVE), asked, item)
        now = with_layers(step.stage, step.layers)
        view, sizes = goal, step.sizes
        yield frame(view, said, _item(stage, number), shown=_reading(said))


def _item(stage: Stage, number: int) -> str | None:
    """Return what a step looks at; before the first one what that looks at."""
    return stage.steps[max(number - 1, 0)].item


def _texts(stage: Stage) -> Iterator[str]:
    """Yield all that is said in a lesson."""
    for number in range(1, len(stage.steps) + 1):
        yield step_words(stage, number, asked=True)
        yield step_words(stage, number)


def _reading(words: str) -> int:
    return max(_LEAST_READING, _READING * len(words))


def _opening(
    stage: Stage, hung: Shape, view: View, frames: int, ended: str
) -> Iterator[Shot]:
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    end = min(hung.pivot.reached, hung.pivot.required or hung.pivot.reached)
    words = _OPENS.format(clean(hung.item))
    place = tip(hung)
    for n in range(frames):
        angle = end * n / (frames - 1)
        last = n == frames - 1
        turned = tuple(
            replace(shape, pivot=replace(shape.pivot, shown=angle))
            if shape.id == hung.id and shape.pivot
            else shape
            for shape in stage.shapes
        )
        short = last and end < (hung.pivot.required or 0.0)
        note = PointText(
            (f"{angle:.1f}°",), place(angle), "short-size" if short else "size"
        )
        yield Shot(
            replace(stage, shapes=turned),
            view,
            ended if last else words,
            (note,),
            _REST if last else TICK,
            hung.item,
        )


def _items(report: Report) -> Iterable[str]:
    return report.arrangement.items if report.arrangement else ()
