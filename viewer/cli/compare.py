"""Tell what changed."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument, scenes_argument
from viewer.cli.given.files import scene_files
from viewer.cli.given.scene import unusable_explained
from viewer.cli.given.target import check_target
from viewer.output.whole import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from pathlib import Path

    from model3d import Report
    from viewer.report.comparison_text import Compared

RANK: Final = 11
MORE: Final = """\
examples:
  standclear compare before.yaml after.yaml
  standclear compare room.yaml --rules nec-2020 --rules nec-2023
  standclear compare rooms --rules nec-2020 --rules nec-2023 --format json
  standclear compare before.yaml after.yaml -o changes.html

exit status: 0 nothing changed, 1 something did, 2 an input could not be used
"""
NOTHING_CHANGED: Final = 0
SOMETHING_CHANGED: Final = 1
_TWO: Final = 2
_ENDINGS: Final = ("html", "txt", "json", "jsonl")


def take(parser: ArgumentParser) -> None:
    """Take two scenes, or scenes and two rule books."""
    scenes_argument(parser)
    parser.add_argument(
        "--rules",
        metavar="BOOK",
        action="append",
        help="given twice: judge the scene by the one and by the other rule book",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    file_argument(parser, "write to this file: .html, or the text or JSON", None)


def run(arguments: Namespace) -> int:
    """Compare, write what differs and return the exit status.

    Raises:
        UnusableError: A scene cannot be used, with all mistakes of all of them; or
            it is not said what is compared with what.
        OSError: The output cannot be written.
    """
    kind = arguments.format
    if arguments.output is not None:
        files, _ = scene_files(arguments.scenes)
        ending = check_target(arguments.output, "a comparison", _ENDINGS, files)
        kind = {"html": "html", "txt": "text"}.get(ending, "json")
    compared = _compared(arguments)
    text = _text(compared, kind, arguments.output)
    emit(text, arguments.output, exact=kind != "text")
    changed = any(changes for _, _, changes in compared)
    return SOMETHING_CHANGED if changed else NOTHING_CHANGED


def _text(compared: list[Compared], kind: str, output: Path | None) -> str:
    from model3d.comparison import comparison_document
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.comparison_part import comparison_report
    from viewer.report.comparison_text import comparisons_text
    from viewer.report.html_report import html_report

    if kind == "html":
        return html_report(comparison_report(compared))
    if kind == "json":
        documents = (comparison_document(names, found) for _, names, found in compared)
        lines = (json.dumps(one, ensure_ascii=False) for one in documents)
        return "".join(f"{line}\n" for line in lines)
    stream = None if output else sys.stdout
    return comparisons_text(
        compared, width=width_of(stream), colour=wants_colour(stream)
    )


def _compared(arguments: Namespace) -> list[Compared]:
    from model3d.comparison import compare

    rules: list[str] = arguments.rules or []
    if not rules:
        return [_two_scenes(arguments.scenes)]
    if len(rules) != _TWO:
        times = "once" if len(rules) == 1 else f"{len(rules)} times"
        msg = f"found --rules {times}, right is twice: the one and the other"
        raise UnusableError([f"standclear: {msg}"])
    files, mistakes = scene_files(arguments.scenes)
    found: list[Compared] = []
    for file in files:
        try:
            old, new = _report(file, rules[0]), _report(file, rules[1])
            found.append((old.scene, (rules[0], rules[1]), compare(old, new)))
        except UnusableError as error:
            mistakes += [line for line in error.mistakes if line not in mistakes]
    if mistakes:
        raise UnusableError(mistakes)
    return found


def _two_scenes(paths: list[Path]) -> Compared:
    from model3d.comparison import compare

    if len(paths) != _TWO:
        msg = (
            f"found {len(paths)} scene{'' if len(paths) == 1 else 's'}, right are two: "
            "the old one and the new one; or one with --rules A --rules B"
        )
        raise UnusableError([f"standclear: {msg}"])
    reports: list[Report] = []
    mistakes: list[str] = []
    for file in paths:
        try:
            reports.append(_report(file, None))
        except UnusableError as error:
            mistakes += error.mistakes
    if mistakes:
        raise UnusableError(mistakes)
    old, new = reports
    names = (str(paths[0]), str(paths[1]))
    return new.scene, names, compare(old, new)


def _report(file: Path, rules: str | None) -> Report:
    from model3d import check, read_scene

    with unusable_explained(file):
        scene = read_scene(file)
        if rules is not None:
            scene = scene.model_copy(update={"rules": rules})
        return check(scene)
