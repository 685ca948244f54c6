"""Judge scenes by every rule."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument, scenes_argument
from viewer.cli.given.files import scene_files
from viewer.report.formats import DEFAULT, about_formats, formats
from viewer.wording.refusal import UnusableError, fault, refused

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterable
    from pathlib import Path

    from model3d import Report

RANK: Final = 1
_FORMATS: Final = textwrap.fill(
    f"{about_formats()} If a scene cannot be used, the mistakes of all scenes are "
    "listed, a line each, and nothing else is printed.",
    86,
)
MORE: Final = f"""\
examples:
  standclear check room.yaml
  standclear check room.yaml --rules nec-2026 --measures either
  standclear check rooms annex.yaml --format json -o reports.jsonl

{_FORMATS}

exit status: 0 nothing is not met, 1 something is, 2 the input could not be used
"""
NOTHING_NOT_MET: Final = 0
SOMETHING_NOT_MET: Final = 1


def take(parser: ArgumentParser) -> None:
    """Take scenes, and how to judge and report them."""
    scenes_argument(parser)
    parser.add_argument(
        "--format", choices=(*formats(),), default=DEFAULT, help=f"default: {DEFAULT}"
    )
    parser.add_argument(
        "--mend",
        action="store_true",
        help="tell with each breach the changes that cure it, as mend does",
    )
    parser.add_argument(
        "--rules",
        metavar="BOOK",
        help="judge by this rule book, or by an amendment file beside the scene, "
        "instead of the scene's own",
    )
    parser.add_argument(
        "--measures",
        choices=("si", "inch-pound", "either"),
        help="which published figure of a limit counts, instead of the scene's own",
    )
    output_argument(parser)


def run(arguments: Namespace) -> int:
    """Check scenes, write the reports and return the exit status.

    Raises:
        UnusableError: A scene cannot be used; with all mistakes of all of them.
        OSError: The output cannot be written.
    """
    reports = _reports(arguments)
    formats()[arguments.format].write(reports, arguments.output, mend=arguments.mend)
    passed = all(report.passed for report in reports)
    return NOTHING_NOT_MET if passed else SOMETHING_NOT_MET


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
    from model3d import BookError, MeshError, SceneError, check, read_scene

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
