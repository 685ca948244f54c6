"""``standclear compare``: what changed between two scenes, or by two rule books."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Final

from model3d import check, read_scene
from model3d.comparison import compare, comparison_document
from viewer.cli.one_scene import explained
from viewer.cli.scene_files import scene_files
from viewer.cli.target import check_target
from viewer.output.terminal import wants_colour, width_of
from viewer.output.whole import emit
from viewer.report.comparison_part import comparison_report
from viewer.report.comparison_text import comparisons_text
from viewer.report.html_report import html_report
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace
    from pathlib import Path

    from model3d import Report
    from viewer.report.comparison_text import Compared

NOTHING_CHANGED: Final = 0
SOMETHING_CHANGED: Final = 1
_TWO: Final = 2
_ENDINGS: Final = ("html", "txt", "json", "jsonl")


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
    rules: list[str] = arguments.rules or []
    if not rules:
        return [_two_scenes(arguments.scenes)]
    if len(rules) != _TWO:
        msg = f"found --rules {len(rules)} times, right is twice: the one and the other"
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
    with explained(file):
        scene = read_scene(file)
        if rules is not None:
            scene = scene.model_copy(update={"rules": rules})
        return check(scene)
