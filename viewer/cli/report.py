"""``standclear report``: a document of one room or of many, to sign and to file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from model3d import check, read_scene
from viewer.cli.one_scene import explained
from viewer.cli.progress import progress
from viewer.cli.scene_files import scene_files
from viewer.cli.target import check_target
from viewer.output.whole import emit, write_whole
from viewer.report.dossier import dossier
from viewer.report.html_report import html_report
from viewer.report.pdf_report import check_typesetter, pdf_report
from viewer.report.room_part import subjects
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable

    from model3d import Report


def run(arguments: Namespace) -> int:
    """Write the report and return the exit status.

    Raises:
        UnusableError: A scene cannot be used, with all mistakes of all of them; or
            the extra that is needed is missing.
        OSError: The report cannot be written.
    """
    files, mistakes = scene_files(arguments.scenes)
    stem = arguments.scenes[0].resolve().stem
    target: Path = arguments.output or Path(f"{stem}.html")
    kind = check_target(target, "a report", ("html", "pdf"), files)
    if kind == "pdf":
        check_typesetter()
    with progress(len(files)) as told:
        reports = _reports(files, mistakes, arguments.rules, told)
    sheets = sum(len(subjects(one, every=arguments.all)) + 1 for one in reports)
    with progress(sheets) as told:
        document = dossier(
            reports, paper=arguments.paper, every=arguments.all, told=told
        )
        as_pdf = kind == "pdf"
        data = pdf_report(document) if as_pdf else html_report(document).encode()
    write_whole(target, data)
    emit(f"{target}\n")
    return 0


def _reports(
    files: list[Path],
    mistakes: list[str],
    rules: str | None,
    told: Callable[[str], None],
) -> list[Report]:
    found = []
    for file in files:
        told(file.name)
        try:
            with explained(file):
                scene = read_scene(file)
                if rules is not None:
                    scene = scene.model_copy(update={"rules": rules})
                found.append(check(scene))
        except UnusableError as error:
            mistakes += error.mistakes
    if mistakes:
        raise UnusableError(mistakes)
    return found
