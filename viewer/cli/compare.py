"""Tell what changed."""

from __future__ import annotations

import json
import sys
from functools import partial
from typing import TYPE_CHECKING, Final

from viewer.cli.given.answers import LOST, answers
from viewer.cli.given.arguments import file_argument, scenes_argument
from viewer.cli.given.portfolio import jobs_of, portfolio_arguments, shard_files
from viewer.cli.given.scene import unusable_explained
from viewer.cli.given.scene_files import scene_files
from viewer.cli.given.target import check_target
from viewer.output.outlet import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from pathlib import Path

    from model3d import Report
    from viewer.report.editions import RoomChanges
    from viewer.report.text.comparison import Compared
    from viewer.wording.refusal import Refused

RANK: Final = 11
MORE: Final = """\
examples:
  standclear compare before.yaml after.yaml
  standclear compare room.yaml --rules nec-2020 --rules nec-2023
  standclear compare rooms --rules nec-2020 --rules nec-2023 --jobs 4
  standclear compare rooms --rules nec-2020 --rules nec-2023 -o editions.html
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
        help="given twice: judge the scenes by the one and by the other rule book; of "
        "several, only what changes is told",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    portfolio_arguments(parser)
    file_argument(parser, "write to this file: .html, or the text or JSON", None)


def run(arguments: Namespace) -> int:
    """Compare, write what differs and return the exit status.

    Raises:
        UnusableError: A scene cannot be used, with all mistakes of all of them; or
            it is not said what is compared with what. Of several scenes the others
            are written before.
        OSError: The output cannot be written.
    """
    jobs_of(arguments)
    kind = arguments.format
    if arguments.output is not None:
        files, _ = scene_files(arguments.scenes)
        ending = check_target(arguments.output, "a comparison", _ENDINGS, files)
        kind = {"html": "html", "txt": "text"}.get(ending, "json")
    if arguments.rules:
        return _by_rules(arguments, kind)
    alone = [f"--{word}" for word in ("jobs", "shard") if _is_said(arguments, word)]
    if alone:
        msg = f"found {alone[0]} without --rules, right is --rules A --rules B"
        raise UnusableError([f"standclear: {msg}"])
    compared = _two_scenes(arguments.scenes)
    emit(
        _text([compared], kind, arguments.output),
        arguments.output,
        exact=kind == "json",
    )
    return SOMETHING_CHANGED if compared[2] else NOTHING_CHANGED


def _is_said(arguments: Namespace, word: str) -> bool:
    return getattr(arguments, word) not in {None, "1"}


def _by_rules(arguments: Namespace, kind: str) -> int:
    from viewer.report.editions import changed
    from viewer.wording.refusal import Refused

    rules: list[str] = arguments.rules
    if len(rules) != _TWO:
        times = "once" if len(rules) == 1 else f"{len(rules)} times"
        msg = f"found --rules {times}, right is twice: the one and the other"
        raise UnusableError([f"standclear: {msg}"])
    named, mistakes = scene_files(arguments.scenes)
    if mistakes:
        raise UnusableError(mistakes)
    books = (rules[0], rules[1])
    rooms = _rooms(arguments, named, books)
    lines = [line for one in rooms if isinstance(one, Refused) for line in one.lines]
    if len(named) > 1:
        text = _rooms_text(rooms, books, kind, arguments.output)
        emit(text, arguments.output, exact=kind == "json")
    elif not lines:
        found = [
            (one.title, books, one.changes)
            for one in rooms
            if not isinstance(one, Refused)
        ]
        text = _text(found, kind, arguments.output)
        emit(text, arguments.output, exact=kind == "json")
    if lines:
        raise UnusableError(lines)
    return SOMETHING_CHANGED if changed(rooms) else NOTHING_CHANGED


def _rooms(
    arguments: Namespace, named: list[Path], books: tuple[str, str]
) -> list[RoomChanges | Refused]:
    from viewer.portfolio.editions import room_changes
    from viewer.portfolio.pool import Lost
    from viewer.portfolio.unusable import unusable

    files = shard_files(arguments, named)
    work = partial(room_changes, books=books)
    found = answers(work, files, files, jobs_of(arguments))
    return [
        unusable(file, LOST.format(one.why)) if isinstance(one, Lost) else one
        for file, one in zip(files, found, strict=True)
    ]


def _rooms_text(
    rooms: list[RoomChanges | Refused],
    books: tuple[str, str],
    kind: str,
    output: Path | None,
) -> str:
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.document.editions_part import editions_documents, editions_report
    from viewer.report.document.html import html_report
    from viewer.report.text.editions import editions_text

    if kind == "html":
        return html_report(editions_report(rooms, books))
    if kind == "json":
        return "".join(
            f"{json.dumps(one, ensure_ascii=False)}\n"
            for one in editions_documents(rooms, books)
        )
    stream = None if output else sys.stdout
    return editions_text(
        rooms, books, width=width_of(stream), colour=wants_colour(stream)
    )


def _text(compared: list[Compared], kind: str, output: Path | None) -> str:
    from model3d.comparison import comparison_document
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.document.comparison_part import comparison_report
    from viewer.report.document.html import html_report
    from viewer.report.text.comparison import comparisons_text

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
            reports.append(_report(file))
        except UnusableError as error:
            mistakes += error.mistakes
    if mistakes:
        raise UnusableError(mistakes)
    old, new = reports
    names = (str(paths[0]), str(paths[1]))
    return new.scene, names, compare(old, new)


def _report(file: Path) -> Report:
    from model3d import check, read_scene

    with unusable_explained(file):
        return check(read_scene(file))
