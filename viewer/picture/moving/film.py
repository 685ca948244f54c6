"""Films of a room: a turn about it, a door that opens until it is stopped, a lesson.

A film is one file, whole or not at all: GIF, WebP or animated PNG by its ending.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import write_whole
from viewer.picture.composition import compose_picture
from viewer.picture.drawing.graphics import require_graphics
from viewer.picture.lesson_step import in_words, step_words
from viewer.picture.moving.animation import FORMATS, encoded
from viewer.picture.moving.swing import only_swing, outcome, tip
from viewer.picture.still import check_size
from viewer.sheet.layout import spoken
from viewer.sheet.signage import PointText
from viewer.stage import build_stage
from viewer.stage.layers import with_layers
from viewer.stage.looking.cameras import BEARINGS, between, orbit, suited, towards_eye
from viewer.stage.looking.views import (
    about,
    held,
    sizes_about,
    view_of_item,
    view_of_place,
)
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from pathlib import Path

    from PIL import Image

    from model3d.judging.report import Report
    from model3d.scene.scene import Scene
    from viewer.sheet.layout import Layout
    from viewer.stage import Dimension, Shape, Stage, View

    Progress = Callable[[int, int], None]

SIZE: Final = (960, 640)
"""Pixels, where nothing else is said."""
FRAMES: Final = 72
"""Of a turn, where nothing else is said."""
FEWEST: Final = 2
MOST: Final = 1000
_TICK: Final = 70
"""Milliseconds a frame of a movement is shown."""
_REST: Final = 1800
"""Milliseconds the end of a movement is shown."""
_MOVE: Final = 10
"""Frames of a camera on its way to the next step of a lesson."""
_READING: Final = 55
"""Milliseconds a letter takes to be read at ease."""
_LEAST_READING: Final = 2500
_OPENS: Final = "{}: the leaf opens"


@dataclass(frozen=True, slots=True)
class _Shot:
    """One picture of a film.

    Attributes:
        stage: What is drawn.
        view: From where.
        words: What is said below it.
        notes: Texts in the picture.
        shown: Milliseconds.
        of: The item it is about.
        title: In place of the scene's own; with it, the names of things are shown.
        sizes: Dimension lines; None leaves it to what the picture is about.
    """

    stage: Stage
    view: View
    words: str
    notes: tuple[PointText, ...] = ()
    shown: int = _TICK
    of: str | None = None
    title: str = ""
    sizes: tuple[Dimension, ...] | None = None


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
    _check(path, size, frames)
    stage = build_stage(scene, report)
    words = in_words(stage)
    plan = spoken(size, words, stage=stage)
    start = BEARINGS["south-east"]
    bearings = [start - 360.0 * n / frames for n in range(frames)]
    seen = [held(stage, towards_eye(bearing)) for bearing in bearings]
    views = orbit(seen, bearings, aspect=plan.aspect)
    made = [_Shot(stage, view, words) for view in views]
    _write(made, path, size, progress)


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
    _check(path, size, frames)
    item, number = leaf
    stage = build_stage(scene, report, of=item if item in _items(report) else None)
    name = f"{item}/leaf-{number}"
    hung = next((shape for shape in stage.shapes if shape.id == name), None)
    if hung is None or hung.pivot is None:
        msg = f"{item} has no leaf {number} that is stated in the scene"
        raise ValueError(msg)
    stage = only_swing(about(stage, item), number)
    ended = outcome(stage, hung, number)
    plan = spoken(size, max(ended, _OPENS.format(clean(item)), key=len))
    view = view_of_item(stage, item, plan.aspect)
    made = list(_opening(stage, hung, view, frames, ended))
    _write(made, path, size, progress)


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
    _check(path, size, FEWEST)
    aspect = spoken(size, max(_texts(stage), key=len)).aspect
    _write(list(_lesson(stage, aspect)), path, size, progress)


def _lesson(stage: Stage, aspect: float) -> Iterator[_Shot]:
    view = view_of_place(stage, aspect)
    title, now = stage.lesson, stage
    sizes = sizes_about(stage, stage.steps[0].item)
    for number, step in enumerate(stage.steps, 1):
        goal = suited(step.look, aspect) if step.look else view
        asked = step_words(stage, number, asked=True)
        frame = partial(_Shot, now, title=title, sizes=sizes)
        if step.ask:
            yield frame(view, asked, shown=_reading(asked))
        for n in range(1, 0 if goal == view else _MOVE):
            yield frame(between(view, goal, n / _MOVE), asked)
        now = with_layers(step.stage, step.layers)
        view, sizes = goal, step.sizes
        said = step_words(stage, number)
        yield _Shot(now, view, said, shown=_reading(said), title=title, sizes=sizes)


def _texts(stage: Stage) -> Iterator[str]:
    """Yield all that is said in a lesson."""
    for number in range(1, len(stage.steps) + 1):
        yield step_words(stage, number, asked=True)
        yield step_words(stage, number)


def _reading(words: str) -> int:
    return max(_LEAST_READING, _READING * len(words))


def _opening(
    stage: Stage, hung: Shape, view: View, frames: int, ended: str
) -> Iterator[_Shot]:
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
        yield _Shot(
            replace(stage, shapes=turned),
            view,
            ended if last else words,
            (note,),
            _REST if last else _TICK,
            hung.item,
        )


def _items(report: Report) -> Iterable[str]:
    return report.arrangement.items if report.arrangement else ()


def _check(path: Path, size: tuple[int, int], frames: int) -> None:
    check_size(size)
    if path.suffix.lower() not in FORMATS:
        msg = f"a film ends in {', '.join(FORMATS)}, not {path.name!r}"
        raise ValueError(msg)
    if not FEWEST <= frames <= MOST:
        msg = f"{frames} frames: from {FEWEST} to {MOST}"
        raise ValueError(msg)


def _plans(frames: Sequence[_Shot], size: tuple[int, int]) -> list[Layout]:
    """Divide all pictures of a film alike, so that the longest words have room."""
    plan = spoken(size, max((frame.words for frame in frames), key=len))
    return [
        replace(plan, words=frame.words, title=frame.title, of=frame.of)
        for frame in frames
    ]


def _write(
    frames: Sequence[_Shot],
    path: Path,
    size: tuple[int, int],
    progress: Progress | None,
) -> None:
    require_graphics()
    from viewer.picture.drawing.canvas import FILM, Studio  # noqa: PLC0415 - loads the graphics

    images: list[Image.Image] = []
    plans = _plans(frames, size)
    with Studio(plans[0].room_size, FILM) as studio:
        for frame, plan in zip(frames, plans, strict=True):
            drawn = compose_picture(
                studio,
                frame.stage,
                plan,
                frame.view,
                names=bool(frame.title),
                notes=frame.notes,
                sizes=frame.sizes,
            )
            images.append(drawn)
            if progress is not None:
                progress(len(images), len(frames))
    shown = [frame.shown for frame in frames]
    write_whole(path, encoded(images, shown, FORMATS[path.suffix.lower()]))
