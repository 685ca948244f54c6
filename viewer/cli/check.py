"""Judge scenes by every rule."""

from __future__ import annotations

import errno
import sys
import textwrap
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.again import watch
from viewer.cli.given.answers import LOST, answers
from viewer.cli.given.arguments import output_argument, scenes_argument
from viewer.cli.given.cluster import cluster_arguments, cluster_faults
from viewer.cli.given.portfolio import jobs_of, portfolio_arguments, shard_files
from viewer.cli.given.scene_files import STANDARD_INPUT, scene_files
from viewer.cli.given.target import check_target
from viewer.portfolio.version import version
from viewer.report.formats import (
    DEFAULT,
    Manner,
    about_formats,
    format_of,
    formats,
    is_for_files,
    is_read_again,
    tells_remedies,
)
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping, Sequence

    from viewer.portfolio.question import Question
    from viewer.portfolio.room import RoomOutcome, RoomTask
    from viewer.report.rows_kept import Row

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
  standclear check rooms --jobs 8 -o results.parquet
  standclear check rooms --changed-since results.parquet -o results.parquet
  standclear check room.yaml --watch

{_FORMATS}

exit status: 0 nothing is not met, 1 something is, 2 the input could not be used
"""
_OTHER_ENDINGS: Final = frozenset(
    {".pdf", ".html", ".htm", ".doc", ".docx", ".xls", ".xlsx", ".jpg", ".png", ".svg"}
)
"""No text would be looked for in such a file."""
NOTHING_NOT_MET: Final = 0
SOMETHING_NOT_MET: Final = 1


def take(parser: ArgumentParser) -> None:
    """Take scenes, and how to judge and report them."""
    scenes_argument(parser, "; or - for one that is read from standard input")
    parser.add_argument(
        "--format",
        choices=(*formats(),),
        help=f"default: what the ending of the file with -o says, else {DEFAULT}",
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
    portfolio_arguments(parser)
    cluster_arguments(parser)
    parser.add_argument(
        "--changed-since",
        metavar="RESULTS",
        type=Path,
        help="keep the rows of this .parquet or .jsonl file of rooms that are as they "
        "were, judged as they would be now, and judge only the others",
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
    ending = arguments.output.suffix.lower() if arguments.output else ""
    if arguments.format is None and ending in _OTHER_ENDINGS:
        right = ".txt, .csv, .json, .jsonl or .parquet (report writes .html and .pdf)"
        found.append(f"{arguments.output}: found {ending}, right is {right}")
    arguments.format = format_of(arguments.format, arguments.output)
    form = formats()[arguments.format]
    if arguments.mend and not tells_remedies(form):
        told = [word for word, one in formats().items() if tells_remedies(one)]
        found.append(
            f"--mend: found --format {arguments.format}, which has no place for "
            f"remedies, right is {' or '.join(told)}"
        )
    if arguments.watch and arguments.output is not None:
        found.append("--watch: found -o beside it, right is --watch without a file")
    if is_for_files(form) and arguments.output is None:
        found.append(
            f"--format {arguments.format}: found no -o FILE, right is one: it is no "
            "text for a terminal"
        )
    if arguments.changed_since is not None and not is_read_again(form):
        kept = [word for word, one in formats().items() if is_read_again(one)]
        found.append(
            f"--changed-since: found --format {arguments.format}, which keeps no rows, "
            f"right is {' or '.join(kept)}"
        )
    found += cluster_faults(arguments)
    if found:
        raise UnusableError(found)
    jobs_of(arguments)
    if hasattr(form, "ready"):
        form.ready()


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


def _told(arguments: Namespace, named: list[Path]) -> int:
    """Check scenes and write what came of them; return the exit status.

    Raises:
        UnusableError: Some cannot be used; they are told in their places. Or which
            scenes are meant, or what is kept of them, cannot be made out.
    """
    files = shard_files(arguments, named)
    earlier = _earlier(arguments.changed_since)
    question = _question(arguments)
    rooms = [_room(file, earlier) for file in files]
    found, lines = _answers(arguments, rooms, question)
    lines += [line for one in found for line in one.lines]
    if not lines or len(named) > 1:
        parts = [
            earlier[room.file.as_posix()] if one.kept else one.part
            for room, one in zip(rooms, found, strict=True)
        ]
        form = formats()[question.form]
        form.write(parts, arguments.output, question.manner)
    if lines:
        raise UnusableError(lines)
    passed = all(
        _passed(earlier[room.file.as_posix()]) if one.kept else one.passed
        for room, one in zip(rooms, found, strict=True)
    )
    return NOTHING_NOT_MET if passed else SOMETHING_NOT_MET


def _answers(
    arguments: Namespace, rooms: Sequence[RoomTask], question: Question
) -> tuple[list[RoomOutcome], list[str]]:
    """Return what comes of each room, and what is said of the run itself."""
    if arguments.cluster is not None:
        from viewer.cli.given.cluster import cluster_answers_of

        return cluster_answers_of(arguments, rooms, question)
    from viewer.portfolio.pool import Lost
    from viewer.portfolio.room import answer, lost

    work = partial(answer, question=question)
    found = answers(work, rooms, [room.file for room in rooms], jobs_of(arguments))
    judged = [
        lost(room, question, LOST.format(one.why)) if isinstance(one, Lost) else one
        for room, one in zip(rooms, found, strict=True)
    ]
    return judged, []


def _question(arguments: Namespace) -> Question:
    from viewer.portfolio.question import Question

    hashed = is_read_again(formats()[arguments.format])
    return Question(
        arguments.rules,
        arguments.measures,
        arguments.format,
        _manner(arguments),
        hashed,
        version() if hashed else "",
    )


def _manner(arguments: Namespace) -> Manner:
    stream = None if arguments.output else sys.stdout
    if stream is None or not stream.isatty():
        return Manner(arguments.mend)
    from viewer.output.terminal import wants_colour, width_of

    return Manner(arguments.mend, width_of(stream), wants_colour(stream))


def _room(file: Path, earlier: Mapping[str, list[Row]]) -> RoomTask:
    from viewer.portfolio.room import RoomTask

    if file == STANDARD_INPUT:
        from model3d.scene.text.file_content import LARGEST

        if sys.stdin is None:
            raise OSError(errno.EBADF, "it is closed", "standard input")
        # Other processes have another.
        return RoomTask(file, sys.stdin.buffer.read(LARGEST + 1))
    rows = earlier.get(file.as_posix())
    if not rows:
        return RoomTask(file)
    from viewer.report.rows_kept import basis_of

    return RoomTask(file, before=basis_of(rows[0]))


def _earlier(file: Path | None) -> Mapping[str, list[Row]]:
    if file is None:
        return {}
    from viewer.portfolio.earlier import earlier_rows

    return earlier_rows(file)


def _passed(rows: Sequence[Row]) -> bool:
    return all(row["verdict"] != "not-met" for row in rows)
