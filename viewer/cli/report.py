"""Write a report of rooms, to sign and to file."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import (
    file_argument,
    paper_argument,
    scenes_argument,
)
from viewer.cli.given.progress import progress
from viewer.cli.given.scene import unusable_explained
from viewer.cli.given.scene_files import scene_files
from viewer.cli.given.target import check_target, tell_file
from viewer.output.outlet import write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable

    from model3d import Report

RANK: Final = 10
MORE: Final = """\
examples:
  standclear report room.yaml -o report.html
  standclear report rooms -o report.pdf --paper letter
  standclear report room.yaml --all --rules nec-2026 -o report.html

The report tells each room from what is not met to what it rests on, with a drawing to
scale of every item that has something to say, and a place to sign. Its cures are
proved: the whole room is checked with each, which may take a while. HTML is one file
that needs no network and prints well; PDF needs the extra [pdf].
"""


def take(parser: ArgumentParser) -> None:
    """Take scenes, and how they are reported."""
    scenes_argument(parser)
    parser.add_argument(
        "--all",
        action="store_true",
        help="a sheet for every item, not only where there is something to say",
    )
    parser.add_argument(
        "--rules",
        metavar="BOOK",
        help="judge by this rule book instead of the scene's own",
    )
    paper_argument(parser)
    file_argument(parser, "the report: .html or .pdf", "html")


def run(arguments: Namespace) -> int:
    """Write the report and return the exit status.

    Raises:
        UnusableError: A scene cannot be used, with all mistakes of all of them; or
            the extra that is needed is missing.
        OSError: The report cannot be written.
    """
    from viewer.report.document.dossier import dossier
    from viewer.report.document.html import html_report
    from viewer.report.document.pdf import check_typesetter, pdf_report
    from viewer.report.document.room_part import subjects

    files, mistakes = scene_files(arguments.scenes)
    stem = Path(os.path.realpath(arguments.scenes[0])).stem
    target: Path = arguments.output or Path(f"{stem}.html")
    kind = check_target(target, "a report", ("html", "pdf"), files)
    if kind == "pdf":
        check_typesetter()
    with progress(len(files)) as told:
        reports = _reports(files, mistakes, arguments.rules, told)
    sheets = sum(len(subjects(one, every=arguments.all)) + 2 for one in reports)
    with progress(sheets) as told:
        document = dossier(
            reports, paper=arguments.paper, every=arguments.all, told=told
        )
        as_pdf = kind == "pdf"
        data = pdf_report(document) if as_pdf else html_report(document).encode()
    write_whole(target, data)
    tell_file(target)
    return 0


def _reports(
    files: list[Path],
    mistakes: list[str],
    rules: str | None,
    told: Callable[[str], None],
) -> list[Report]:
    from model3d import check, read_scene

    found = []
    for file in files:
        told(file.name)
        try:
            with unusable_explained(file):
                scene = read_scene(file)
                if rules is not None:
                    scene = scene.model_copy(update={"rules": rules})
                found.append(check(scene))
        except UnusableError as error:
            mistakes += error.mistakes
    if mistakes:
        raise UnusableError(mistakes)
    return found
