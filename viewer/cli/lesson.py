"""Run lessons, step by step."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument, paper_argument
from viewer.cli.given.lessons import run_lessons
from viewer.cli.given.scene_files import scene_files
from viewer.cli.given.target import check_target
from viewer.output.outlet import emit, write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from viewer.report.document.content import Paper
    from viewer.report.text.lesson import Told

RANK: Final = 2
MORE: Final = """\
examples:
  standclear lesson scenes/lessons/three-depth-conditions.yaml
  standclear lesson scenes/lessons
  standclear lesson scenes/lessons --format json -o lessons.jsonl
  standclear lesson scenes/lessons -o handout.pdf
  standclear lesson --new working-space --seed 7 -o question.yaml

Each step is applied and checked; what it says of an item must come true. With --format
json every lesson is one object on a line of its own, with a report for each step.
A handout, .html or .pdf, has a sheet for the class with the questions and room for
answers, and one for the trainer with answers, notes and minutes. With --new a fresh
room is drawn by lot, with one question and its checked answer: the same rule and seed
give the same one.

exit status: 0 every lesson comes out as it says, 1 one does not, 2 the input could not
be used, or has no lesson
"""
AS_SAID: Final = 0
NOT_AS_SAID: Final = 1
_HANDOUTS: Final = (".html", ".pdf")


def take(parser: ArgumentParser) -> None:
    """Take scenes with lessons, and how to tell what comes of them."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="*",
        type=Path,
        help="a scene file with a lesson, or a folder: every scene with a lesson in it "
        "and below",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    parser.add_argument(
        "--new",
        metavar="RULE",
        help="write a fresh room with a question about this rule, instead of running "
        "lessons",
    )
    parser.add_argument(
        "--seed",
        metavar="N",
        type=int,
        help="with --new: which of its questions, from 0; default: 0",
    )
    paper_argument(parser)
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
    from viewer.report.text.lesson import lessons_text

    output: Path | None = arguments.output
    if arguments.new is not None:
        return _write_new(arguments, output)
    _check_asked(arguments)
    if output is not None:
        check_target(output, "a lesson", scenes=scene_files(arguments.scenes)[0])
    lessons = run_lessons(arguments.scenes)
    if output is not None and output.suffix.lower() in _HANDOUTS:
        _write_handout(lessons, output, arguments.paper)
    elif arguments.format == "json":
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


def _check_asked(arguments: Namespace) -> None:
    """See that what is asked for can be done.

    Raises:
        UnusableError: It cannot.
    """
    mistakes = []
    if not arguments.scenes:
        mistakes.append("found no SCENE, right is one or more, or --new RULE")
    if arguments.seed is not None:
        mistakes.append("found --seed without --new, right is with --new RULE")
    if mistakes:
        raise UnusableError(f"standclear: {mistake}" for mistake in mistakes)


def _write_new(arguments: Namespace, output: Path | None) -> int:
    """Write a question drawn by lot.

    Raises:
        UnusableError: There is none about the rule, or scenes are named as well.
    """
    from model3d.lessons.drills import DrillError, new_lesson

    if arguments.scenes:
        found = arguments.scenes[0]
        msg = f"found the scene {found} beside --new, right is one of them"
        raise UnusableError([f"standclear: {msg}"])
    if output is not None:
        check_target(output, "a new question", ("yaml", "yml"))
    try:
        text = new_lesson(arguments.new, arguments.seed or 0)
    except DrillError as error:
        raise UnusableError([f"standclear: {error}"]) from error
    emit(text, output, exact=True)
    return AS_SAID


def _write_handout(lessons: list[Told], output: Path, paper: Paper) -> None:
    from viewer.report.document.handout import handout
    from viewer.report.document.html import html_report
    from viewer.report.document.pdf import check_typesetter, pdf_report

    as_pdf = output.suffix.lower() == ".pdf"
    if as_pdf:
        check_typesetter()
    document = handout(lessons, paper=paper)
    write_whole(
        output, pdf_report(document) if as_pdf else html_report(document).encode()
    )
