"""``standclear check``: judge scenes by every rule."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Final

from model3d import BookError, MeshError, SceneError, check, read_scene
from viewer.cli.scene_files import scene_files
from viewer.output.terminal import wants_colour, width_of
from viewer.output.whole import emit
from viewer.report.text import reports_text
from viewer.wording.refusal import UnusableError, fault, refused

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Iterable
    from pathlib import Path

    from model3d import Report

NOTHING_NOT_MET: Final = 0
SOMETHING_NOT_MET: Final = 1


def run(arguments: Namespace) -> int:
    """Check scenes, write the reports and return the exit status.

    Raises:
        UnusableError: A scene cannot be used; with all mistakes of all of them.
        OSError: The output cannot be written.
    """
    reports = _reports(arguments)
    if arguments.format == "json":
        lines = [f"{_json(report, mend=arguments.mend)}\n" for report in reports]
        emit("".join(lines), arguments.output, exact=True)
    else:
        stream = None if arguments.output else sys.stdout
        width, colour = width_of(stream), wants_colour(stream)
        text = reports_text(reports, width=width, colour=colour)
        if arguments.mend:
            text += _remedies_text(reports, width, colour=colour)
        emit(text, arguments.output)
    passed = all(report.passed for report in reports)
    return NOTHING_NOT_MET if passed else SOMETHING_NOT_MET


def _json(report: Report, *, mend: bool) -> str:
    """Return a report as JSON; with remedies only where they are asked for."""
    if not mend or report.arrangement is None:
        return report.json()
    from model3d.mending.remedies import (  # noqa: PLC0415 - a plain check has no use
        bench_of_report,
        mends,
        with_remedies,
    )

    found = mends(bench_of_report(report))
    return json.dumps(with_remedies(report, found), ensure_ascii=False)


def _remedies_text(reports: list[Report], width: int, *, colour: bool) -> str:
    from model3d.mending.remedies import bench_of_report, mends  # noqa: PLC0415
    from viewer.report.mend_text import mend_text  # noqa: PLC0415

    return "".join(
        "\n"
        + mend_text(
            report.arrangement.scene,
            mends(bench_of_report(report)),
            width=width,
            colour=colour,
        )
        for report in reports
        if report.arrangement is not None and not report.passed
    )


def _reports(arguments: Namespace) -> list[Report]:
    files, mistakes = scene_files(arguments.scenes)
    if _is_among(arguments.output, files):
        mistakes.append(f"{arguments.output}: is a scene, right is another file")
    reports = []
    for file in files:
        try:
            reports.append(_report(file, arguments.rules, arguments.measures))
        except UnusableError as error:
            mistakes += error.mistakes
    if mistakes:
        raise UnusableError(mistakes)
    return reports


def _report(file: Path, rules: str | None, measures: str | None) -> Report:
    asked = {"rules": rules, "measures": measures}
    said = {key: value for key, value in asked.items() if value is not None}
    try:
        return check(read_scene(file).model_copy(update=said))
    except SceneError as error:
        raise UnusableError(map(str, error.mistakes)) from error
    except (BookError, MeshError) as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{file}: {line}" for line in lines) from error
    except OSError as error:
        raise UnusableError([f"{file}: {refused(error)}"]) from error
    except Exception as error:
        # One scene that the program fails on does not hide the others' mistakes.
        raise UnusableError([f"{file}: {fault(error)}"]) from error


def _is_among(output: Path | None, files: Iterable[Path]) -> bool:
    if output is None or not output.exists():
        return False
    return any(file.exists() and output.samefile(file) for file in files)
