"""Judge scenes by every rule."""

from __future__ import annotations

import sys
import textwrap
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument, scenes_argument
from viewer.cli.given.checked import checked_scenes, refused_lines
from viewer.cli.given.files import scene_files
from viewer.cli.given.target import check_target
from viewer.cli.given.watch import watch
from viewer.report.formats import DEFAULT, about_formats, formats, tells_remedies
from viewer.wording.cleaning import clean
from viewer.wording.refusal import Refused, UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from pathlib import Path

RANK: Final = 1
_FORMATS: Final = textwrap.fill(
    f"{about_formats()} A scene that cannot be used is told in its place among the "
    "others, and all its mistakes on standard error, a line each.",
    86,
)
MORE: Final = f"""\
examples:
  standclear check room.yaml
  standclear check room.yaml --rules nec-2026 --measures either
  standclear check rooms annex.yaml --format json -o reports.jsonl
  standclear check rooms --format csv -o judgements.csv
  standclear check room.yaml --watch

{_FORMATS}

exit status: 0 nothing is not met, 1 something is, 2 the input could not be used
"""
NOTHING_NOT_MET: Final = 0
SOMETHING_NOT_MET: Final = 1


def take(parser: ArgumentParser) -> None:
    """Take scenes, and how to judge and report them."""
    scenes_argument(parser, "; or - for one that is read from standard input")
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
    parser.add_argument(
        "--watch",
        action="store_true",
        help="check again whenever a file is saved, until Ctrl-C",
    )
    output_argument(parser)


def run(arguments: Namespace) -> int:
    """Check scenes, write the reports and return the exit status.

    Raises:
        UnusableError: A scene cannot be used; with all mistakes of all of them. The
            others are written before.
        OSError: The output cannot be written.
    """
    _refuse_contradictions(arguments)
    if arguments.watch:
        return _watched(arguments)
    files, mistakes = scene_files(arguments.scenes)
    if arguments.output is not None:
        check_target(arguments.output, "a report", scenes=files)
    if mistakes:
        raise UnusableError(mistakes)
    return _told(arguments, files)


def _refuse_contradictions(arguments: Namespace) -> None:
    found = []
    if arguments.mend and not tells_remedies(formats()[arguments.format]):
        told = [word for word, one in formats().items() if tells_remedies(one)]
        found.append(
            f"--mend: found --format {arguments.format}, which has no place for "
            f"remedies, right is {' or '.join(told)}"
        )
    if arguments.watch and arguments.output is not None:
        found.append("--watch: found -o beside it, right is --watch without a file")
    if found:
        raise UnusableError(found)


def _watched(arguments: Namespace) -> int:
    """Check again after every change; Ctrl-C ends it, as the exit status tells."""

    def tell(files: list[Path]) -> None:
        try:
            _told(arguments, files)
        except UnusableError as error:
            for line in error.mistakes:
                print(clean(line), file=sys.stderr)
        print("Watching; Ctrl-C ends it.", file=sys.stderr)

    watch(arguments.scenes, tell)
    return NOTHING_NOT_MET


def _told(arguments: Namespace, files: list[Path]) -> int:
    """Check scenes and write what came of them; return the exit status.

    Raises:
        UnusableError: Some cannot be used; they are told in their places.
    """
    checked = checked_scenes(files, rules=arguments.rules, measures=arguments.measures)
    lines = refused_lines(checked)
    if not lines or len(files) > 1:
        form = formats()[arguments.format]
        form.write(checked, arguments.output, mend=arguments.mend)
    if lines:
        raise UnusableError(lines)
    passed = all(one.passed for one in checked if not isinstance(one, Refused))
    return NOTHING_NOT_MET if passed else SOMETHING_NOT_MET
