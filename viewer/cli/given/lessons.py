"""The lessons that files and folders of a command line mean."""

from __future__ import annotations

from math import inf
from operator import itemgetter
from typing import TYPE_CHECKING, Any, TypeVar

from viewer.cli.given.scene import unusable_explained
from viewer.cli.given.scene_files import scene_files
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from model3d import Scene
    from viewer.report.text.lesson import Told

One = TypeVar("One")


def run_lessons(paths: Sequence[Path]) -> list[Told]:
    """Run the lessons that are meant, see ``lessons_of``.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    from model3d.lessons import run_lesson

    return lessons_of(paths, lambda scene: (scene, run_lesson(scene)))


def course_rooms(paths: Sequence[Path], jobs: int) -> list[dict[str, Any]]:
    """Return the lessons that are meant as a page takes them, see ``lessons_of``.

    Args:
        paths: Files and folders.
        jobs: How many processes work at them.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    from viewer.portfolio.pool import Lost, results

    files, mistakes = _gathered(paths, lambda scene: scene.file)
    tasks = [file for file in files if file is not None]
    found = dict(results(_room, tasks, jobs))
    rooms = []
    for number, file in enumerate(tasks):
        match found[number]:
            case Lost(why=why):
                mistakes.append(f"{file}: its process ended ({why})")
            case [*lines]:
                mistakes += lines
            case dict() as room:
                rooms.append(room)
    if mistakes:
        raise UnusableError(mistakes)
    return rooms


def _room(file: Path) -> dict[str, Any] | list[str]:
    """Return a lesson as a page takes it, or all that is wrong with it."""
    from model3d import read_scene
    from viewer.page.html import course_room

    try:
        with unusable_explained(file):
            return course_room(read_scene(file))
    except UnusableError as error:
        return [*error.mistakes]


def lessons_of(paths: Sequence[Path], take: Callable[[Scene], One]) -> list[One]:
    """Return what is taken of each lesson that is meant.

    A file that is named must have one. In a folder the scenes without one are passed
    over, but one must have some; its lessons come in the order of their numbers, and
    those without one after them by name.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    lessons, mistakes = _gathered(paths, take)
    if mistakes:
        raise UnusableError(mistakes)
    return lessons


def _gathered(
    paths: Sequence[Path], take: Callable[[Scene], One]
) -> tuple[list[One], list[str]]:
    """Return what is taken of each lesson, and all that is wrong with the others."""
    from model3d import LessonError, read_scene

    lessons: list[One] = []
    mistakes: list[str] = []
    for path in paths:
        files, wrong = scene_files([path])
        mistakes += wrong
        here: list[tuple[float, One]] = []
        found = 0
        for file in files:
            try:
                with unusable_explained(file):
                    scene = read_scene(file)
                    if scene.lesson is None and file != path:
                        continue
                    if scene.lesson is None:
                        msg = "found no lesson, right is a scene with a lesson"
                        raise LessonError(msg)
                    here.append((scene.lesson.number or inf, take(scene)))
            except UnusableError as error:
                mistakes += error.mistakes
            found += 1
        lessons += [one for _, one in sorted(here, key=itemgetter(0))]
        if files and not found:
            mistakes.append(
                f"{path}: found no lesson in this folder, right is a folder with one"
            )
    return lessons, mistakes
