"""Films of a room: a turn about it, a door that opens until it is stopped, a lesson.

A film is one file, whole or not at all: GIF, WebP or animated PNG by its ending.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.animating import FORMATS, encoded
from viewer.cleaning import clean
from viewer.composing import compose
from viewer.graphics import require_graphics
from viewer.layout import spoken
from viewer.marks import Note
from viewer.output import write_whole
from viewer.stage import build_stage
from viewer.stage.cameras import BEARINGS, between, orbit, suited, towards_eye
from viewer.stage.hung import opened
from viewer.still import check_size
from viewer.viewing import about, held, view_of_item, view_of_place

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from pathlib import Path

    from PIL import Image

    from model3d.results import Report
    from model3d.scene.scene import Scene
    from viewer.stage import Shape, Stage, View

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


@dataclass(frozen=True, slots=True)
class _Frame:
    """One picture of a film.

    Attributes:
        stage: What is drawn.
        view: From where.
        words: What is said below it.
        notes: Texts in the picture.
        shown: Milliseconds.
        of: The item it is about.
        title: In place of the scene's own; with it, the names of things are shown.
    """

    stage: Stage
    view: View
    words: str
    notes: tuple[Note, ...] = ()
    shown: int = _TICK
    of: str | None = None
    title: str = ""


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
    plan = spoken(size, "-")
    start = BEARINGS["south-east"]
    bearings = [start - 360.0 * n / frames for n in range(frames)]
    seen = [held(stage, towards_eye(bearing)) for bearing in bearings]
    views = orbit(seen, bearings, aspect=plan.aspect)
    words = _in_words(stage)
    made = [_Frame(stage, view, words) for view in views]
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
    stage = _only_swing(about(stage, item), number)
    plan = spoken(size, "-")
    view = view_of_item(stage, item, plan.aspect)
    made = list(_opening(stage, hung, view, frames, _outcome(stage, hung, number)))
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
    aspect = spoken(size, "-").aspect
    _write(list(_lesson(stage, aspect)), path, size, progress)


def _lesson(stage: Stage, aspect: float) -> Iterator[_Frame]:
    steps = stage.steps
    view = view_of_place(stage, aspect)
    title = stage.lesson
    for number, step in enumerate(steps, 1):
        goal = suited(step.look, aspect) if step.look else view
        head = f"{number} / {len(steps)}  "
        asked = head + step.ask
        if step.ask:
            yield _Frame(stage, view, asked, shown=_reading(asked), title=title)
        for n in range(1, 0 if goal == view else _MOVE):
            yield _Frame(stage, between(view, goal, n / _MOVE), asked, title=title)
        stage, view = step.stage, goal
        said = head + (step.say or _in_words(stage))
        yield _Frame(stage, view, said, shown=_reading(said), title=title)


def _reading(words: str) -> int:
    return max(_LEAST_READING, _READING * len(words))


def _opening(
    stage: Stage, hung: Shape, view: View, frames: int, outcome: str
) -> Iterator[_Frame]:
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    end = min(hung.pivot.reached, hung.pivot.required or hung.pivot.reached)
    words = f"{clean(hung.item)}: the leaf opens"
    tip = _tip(hung)
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
        note = Note(f"{angle:.1f}°", tip(angle), "short-size" if short else "size")
        yield _Frame(
            replace(stage, shapes=turned),
            view,
            outcome if last else words,
            (note,),
            _REST if last else _TICK,
            hung.item,
        )


def _tip(hung: Shape) -> Callable[[float], tuple[float, float, float]]:
    """Return where the upper free corner of a leaf is, by the angle it stands at."""
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    from_hinge = np.linalg.norm(hung.vertices[:, :2] - hung.pivot.hinge[:2], axis=1)
    top = hung.vertices[:, 2] >= hung.vertices[:, 2].max() - 1e-6
    corner = int(np.argmax(np.where(top, from_hinge, -1.0)))

    def at(angle: float) -> tuple[float, float, float]:
        x, y, z = opened(hung, angle).vertices[corner]
        return float(x), float(y), float(z)

    return at


def _outcome(stage: Stage, hung: Shape, leaf: int) -> str:
    for finding in stage.findings:
        if finding.subject == hung.item and finding.part == f"leaf {leaf + 1}":
            return f"{clean(finding.subject)}: {clean(finding.reason)}"
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    return f"{clean(hung.item)}: the leaf opens to {hung.pivot.reached:g}°"


def _only_swing(stage: Stage, leaf: int) -> Stage:
    """Return the stage with the spaces and numbers of one leaf only."""
    kept = {
        index
        for index, finding in enumerate(stage.findings)
        if finding.part == f"leaf {leaf + 1}"
    }
    return replace(
        stage,
        shapes=tuple(
            shape
            for shape in stage.shapes
            if shape.role not in {"space", "footprint", "intrusion"}
            or kept & set(shape.findings)
        ),
        badges=tuple(badge for badge in stage.badges if badge.finding in kept),
        dimensions=(),
    )


def _items(report: Report) -> Iterable[str]:
    return report.arrangement.items if report.arrangement else ()


def _in_words(stage: Stage) -> str:
    """Say in a line what a room's film shows: what is not met, by its numbers."""
    bad = [one for one in stage.findings if one.verdict == "not-met"]
    if not bad:
        return "Nothing is not met."
    return "Not met:  " + ";  ".join(
        f"{one.number} {clean(one.subject)} {one.title.lower()}" for one in bad
    )


def _check(path: Path, size: tuple[int, int], frames: int) -> None:
    check_size(size)
    if path.suffix.lower() not in FORMATS:
        msg = f"a film ends in {', '.join(FORMATS)}, not {path.name!r}"
        raise ValueError(msg)
    if not FEWEST <= frames <= MOST:
        msg = f"{frames} frames: from {FEWEST} to {MOST}"
        raise ValueError(msg)


def _write(
    frames: Sequence[_Frame],
    path: Path,
    size: tuple[int, int],
    progress: Progress | None,
) -> None:
    require_graphics()
    from viewer.drawing import FILM, Studio  # noqa: PLC0415 - loads the graphics

    images: list[Image.Image] = []
    with Studio(spoken(size, "-").room_size, FILM) as studio:
        for frame in frames:
            plan = replace(spoken(size, frame.words, frame.title), of=frame.of)
            drawn = compose(
                studio,
                frame.stage,
                plan,
                frame.view,
                names=bool(frame.title),
                notes=frame.notes,
            )
            images.append(drawn)
            if progress is not None:
                progress(len(images), len(frames))
    shown = [frame.shown for frame in frames]
    write_whole(path, encoded(images, shown, FORMATS[path.suffix.lower()]))
