"""The lessons that files and folders of a command line mean."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from viewer.cli.given.files import scene_files
from viewer.cli.given.scene import unusable_explained
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from model3d import Report, Scene
    from viewer.report.text.lesson import Told

One = TypeVar("One")


def run_lessons(paths: Sequence[Path]) -> list[Told]:
    """Run the lessons that are meant, see ``lessons_of``.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    from model3d.lessons import run_lesson

    return lessons_of(paths, lambda scene: (scene, run_lesson(scene)))


def checked_lessons(paths: Sequence[Path]) -> list[tuple[Scene, Report]]:
    """Check the scenes of the lessons that are meant, see ``lessons_of``.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    from model3d import check

    return lessons_of(paths, lambda scene: (scene, check(scene)))


def lessons_of(paths: Sequence[Path], take: Callable[[Scene], One]) -> list[One]:
    """Return what is taken of each lesson that is meant.

    A file that is named must have one. In a folder the scenes without one are passed
    over, but one must have some.

    Raises:
        UnusableError: With all mistakes of all scenes.
    """
    from model3d import LessonError, read_scene

    lessons: list[One] = []
    mistakes: list[str] = []
    for path in paths:
        files, wrong = scene_files([path])
        mistakes += wrong
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
                    lessons.append(take(scene))
            except UnusableError as error:
                mistakes += error.mistakes
            found += 1
        if files and not found:
            mistakes.append(
                f"{path}: found no lesson in this folder, right is a folder with one"
            )
    if mistakes:
        raise UnusableError(mistakes)
    return lessons
