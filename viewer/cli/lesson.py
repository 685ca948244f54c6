"""Run lessons, step by step."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument
from viewer.cli.given.files import scene_files
from viewer.cli.given.target import check_target
from viewer.output.whole import emit
from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from model3d import Scene
    from model3d.lessons import StepResult
    from viewer.report.lesson_text import Told

RANK: Final = 2
MORE: Final = """\
examples:
  standclear lesson scenes/lessons/three-depth-conditions.yaml
  standclear lesson scenes/lessons
  standclear lesson scenes/lessons --format json -o lessons.jsonl

Each step is applied and checked; what it says of an item must come true. With --format
json every lesson is one object on a line of its own, with a report for each step.

exit status: 0 every lesson comes out as it says, 1 one does not, 2 the input could not
be used, or has no lesson
"""
AS_SAID: Final = 0
NOT_AS_SAID: Final = 1


def take(parser: ArgumentParser) -> None:
    """Take scenes with lessons, and how to tell what comes of them."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file with a lesson, or a folder: every scene with a lesson in it "
        "and below",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    output_argument(parser)


def run(arguments: Namespace) -> int:
    """Run lessons, write what comes of them and return the exit status.

    Raises:
        UnusableError: A scene cannot be used or has no lesson; with all mistakes of
            all scenes.
        OSError: The output cannot be written.
    """
    from model3d.lessons import lesson_document
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.lesson_text import lessons_text

    output: Path | None = arguments.output
    if output is not None:
        check_target(output, "a lesson", scenes=scene_files(arguments.scenes)[0])
    lessons = _lessons(arguments.scenes)
    if arguments.format == "json":
        lines = [
            f"{json.dumps(lesson_document(*one), ensure_ascii=False)}\n"
            for one in lessons
        ]
        emit("".join(lines), output, exact=True)
    else:
        stream = None if output else sys.stdout
        width, colour = width_of(stream), wants_colour(stream)
        emit(lessons_text(lessons, width=width, colour=colour), output)
    passed = all(one.passed for _, results in lessons for one in results)
    return AS_SAID if passed else NOT_AS_SAID


def _lessons(paths: list[Path]) -> list[Told]:
    """Run the lessons that are meant.

    A file that is named must have one. In a folder the scenes without one are passed
    over, but one must have some.
    """
    lessons: list[Told] = []
    mistakes: list[str] = []
    for path in paths:
        files, wrong = scene_files([path])
        mistakes += wrong
        found = 0
        for file in files:
            try:
                scene = _scene(file)
                if scene.lesson is not None or file == path:
                    lessons.append((scene, _results(scene)))
                    found += 1
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


def _scene(file: Path) -> Scene:
    from model3d import SceneError, read_scene

    try:
        return read_scene(file)
    except SceneError as error:
        raise UnusableError(map(str, error.mistakes)) from error


def _results(scene: Scene) -> tuple[StepResult, ...]:
    from model3d import BookError, MeshError
    from model3d.lessons import LessonError, run_lesson

    try:
        return run_lesson(scene)
    except (BookError, LessonError, MeshError) as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{scene.file}: {line}" for line in lines) from error
    except OSError as error:
        raise UnusableError([f"{scene.file}: {refused(error)}"]) from error
