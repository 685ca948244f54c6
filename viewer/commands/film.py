"""``standclear film``: a turn about a room, a door that opens, or a lesson."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rich.console import Console
from rich.progress import BarColumn, Progress, TaskProgressColumn, TimeRemainingColumn

from viewer.film import door_film, lesson_film, turn_film
from viewer.graphics import DrawingError
from viewer.onescene import checked_scene, explained
from viewer.output import emit
from viewer.refusal import UnusableError
from viewer.stage.lesson import lesson_stage
from viewer.still import check_size

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable, Iterator

    from model3d import Report, Scene

_ENDING: Final = ".gif"


def run(arguments: Namespace) -> int:
    """Make the film and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, nothing can be drawn here, or what is
            asked for cannot be.
        OSError: The film cannot be written.
    """
    target: Path = arguments.output or Path(f"{arguments.scene.stem}{_ENDING}")
    try:
        check_size(arguments.size)
        scene, report = checked_scene(arguments.scene)
        with _progress() as progress:
            _film(arguments, scene, report, target, progress)
    except (ValueError, DrawingError) as error:
        raise UnusableError([f"standclear: {error}"]) from error
    emit(f"{target}\n")
    return 0


def _film(
    arguments: Namespace,
    scene: Scene,
    report: Report,
    target: Path,
    progress: Callable[[int, int], None],
) -> None:
    size = arguments.size
    if arguments.lesson:
        with explained(arguments.scene):
            steps = lesson_stage(scene).steps
        lesson_film(steps, target, size=size, progress=progress)
    elif arguments.door is not None:
        leaf = _leaf(scene, arguments.door)
        door_film(scene, report, target, leaf, size=size, progress=progress)
    else:
        turn_film(scene, report, target, size=size, progress=progress)


def _leaf(scene: Scene, asked: str) -> tuple[str, int]:
    """Return the item or door that is meant, and which of its leaves, from 0."""
    doors = scene.room.doors if scene.room else ()
    names = {one.id for one in (*scene.items, *doors)}
    name, colon, number = asked.rpartition(":")
    if asked in names or not colon:
        return asked, 0
    if name not in names or not number.isdecimal() or int(number) < 1:
        msg = f"found {asked}, right is the id of an item, a colon, and 1, 2, ..."
        raise ValueError(msg)
    return name, int(number) - 1


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None]]:
    """Show a bar on a terminal, and nothing anywhere else."""
    bar = Progress(
        BarColumn(),
        TaskProgressColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=not sys.stderr.isatty(),
    )
    with bar:
        task = bar.add_task("", total=None)
        yield lambda done, whole: bar.update(task, completed=done, total=whole)
