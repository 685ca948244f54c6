"""Offer the smallest changes that put right what is not met."""

from __future__ import annotations

import json
import os
import sys
from argparse import ArgumentTypeError
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument, scene_argument
from viewer.cli.given.target import check_target
from viewer.output.outlet import emit, write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Sequence

    from model3d import Scene
    from model3d.mending.remedies import Mend
    from model3d.scene.parts.lesson import Change

RANK: Final = 13
MORE: Final = """\
examples:
  standclear mend room.yaml
  standclear mend room.yaml --step "1/2 in"
  standclear mend room.yaml --take 2 --write mended.yaml
  standclear mend room.yaml --all --write mended.yaml
  standclear mend room.yaml --slack
  standclear mend room.yaml --format json

Every change that is offered was made, and the whole room checked: what it cures is met,
and nothing is worse. Structure and room doors stay. NEW keeps the order and the
comments of the scene.

exit status: 0 done, 2 the input could not be used
"""


def take(parser: ArgumentParser) -> None:
    """Take a scene, and what is to be done with what is offered."""
    scene_argument(parser)
    parser.add_argument(
        "--step",
        metavar="LENGTH",
        help='what changes are rounded to; default: 10 mm, or "1/2 in" in a scene in '
        "feet or inches",
    )
    parser.add_argument(
        "--all",
        action="store_true",
        help="look for one set of changes that cures all that can be cured",
    )
    parser.add_argument(
        "--slack",
        action="store_true",
        help="tell instead how far near things may come before what is met fails",
    )
    parser.add_argument(
        "--take",
        metavar="N[,N]",
        type=_numbers,
        default=(),
        help="take these remedies, by their numbers; with --write",
    )
    parser.add_argument(
        "--write",
        metavar="NEW",
        type=Path,
        help="write the scene with the changes into this new file",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    output_argument(parser)


def _numbers(text: str) -> tuple[int, ...]:
    """Read numbers.

    >>> _numbers("1,3")
    (1, 3)
    """
    parts = [part.strip() for part in text.split(",")]
    if not all(part.isdecimal() and int(part) > 0 for part in parts):
        msg = f"found {text}, right is the number of a remedy, or several by commas"
        raise ArgumentTypeError(msg)
    return tuple(int(part) for part in parts)


def run(arguments: Namespace) -> int:
    """Look for remedies, print or write them and return the exit status.

    Raises:
        UnusableError: The scene or the command line cannot be used.
        OSError: The output cannot be written.
    """
    from model3d import read_scene
    from model3d.judging.unseen import no_judging, not_looked_at
    from model3d.mending.altogether import mend_all
    from model3d.mending.remedies import bench_of, document, mends
    from model3d.mending.slack import document as slack_document
    from model3d.mending.slack import slacks
    from viewer.cli.given.scene import unusable_explained
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text.mend import (
        all_text,
        mend_text,
        slack_text,
    )

    file: Path = arguments.scene
    _refuse(_mistakes(arguments))
    if arguments.output is not None:
        check_target(arguments.output, "a list of remedies", scenes=[file])
    if arguments.write is not None:
        check_target(arguments.write, "a scene")  # which one it may be, is told below
    with unusable_explained(file):
        scene = read_scene(file)
        _refuse(_unwritable(scene, arguments.write))
        step = _step(arguments.step, scene)
        stream = None if arguments.output else sys.stdout
        look = {"width": width_of(stream), "colour": wants_colour(stream)}
        if arguments.slack:
            _refuse([f"{file}: {why}" for why in [no_judging(scene)] if why])
            tight = slacks(scene)
            told, text = slack_document(scene, tight), slack_text(scene, tight, **look)  # type: ignore[arg-type]
            do: Sequence[Change] = ()
        elif arguments.all:
            whole = mend_all(scene, step)
            told, text = whole.document(), all_text(scene, whole, **look)  # type: ignore[arg-type]
            do = whole.do
        else:
            bench = bench_of(scene, step)
            found = mends(bench)
            do = _taken(found, arguments.take)
            if do and (report := bench.after(do)) is not None:
                _refuse_worse([one.subject for one in bench.worse(report)])
            told, text = document(found), mend_text(scene, found, **look)  # type: ignore[arg-type]
        if arguments.write is not None:
            _write(file, scene, do, arguments.write)
    if arguments.format == "json":
        unread = not_looked_at(scene)
        told |= {"not_read": unread} if unread else {}
        line = f"{json.dumps(told, ensure_ascii=False)}\n"
        emit(line, arguments.output, exact=True)
    else:
        emit(text, arguments.output)
    return 0


def _refuse(mistakes: list[str]) -> None:
    if mistakes:
        raise UnusableError(mistakes)


def _refuse_worse(subjects: list[str]) -> None:
    if subjects:
        names = ", ".join(dict.fromkeys(subjects))
        msg = f"--take: taken together they make {names} worse, right is one at a time"
        raise UnusableError([msg])


def _mistakes(arguments: Namespace) -> list[str]:
    """Return what of the command line does not go together."""
    found = []
    if arguments.write is not None and not (arguments.take or arguments.all):
        found.append("--write: found no --take and no --all, right is one of them")
    if arguments.take and arguments.write is None:
        found.append("--take: found no --write, right is --write NEW beside it")
    if arguments.slack and (arguments.take or arguments.all or arguments.write):
        found.append("--slack: changes nothing, right is --slack alone")
    if arguments.take and arguments.all:
        found.append("--take: found --all beside it, right is one of them")
    return found


def _unwritable(scene: Scene, new: Path | None) -> list[str]:
    """Return why a scene cannot be written to a file."""
    if new is None or scene.file is None:
        return []
    there, here = Path(os.path.realpath(new)), Path(os.path.realpath(scene.file))
    if there == here:
        return [f"{new}: is the scene itself, right is a new file"]
    away = there.parent != here.parent
    drawn = any(item.mesh or item.points for item in scene.items)
    other = scene.types_from or scene.rules.endswith(".toml")
    if away and (drawn or other):
        return [f"{new}: is in another folder than the scene's own other files"]
    return []


def _step(text: str | None, scene: Scene) -> float | None:
    from model3d.units import LengthError, check_length, to_metres

    if text is None:
        return None
    try:
        length = check_length(text, above_zero=True)
    except LengthError as error:
        msg = f"--step: found {text}, right is {error}"
        raise UnusableError([msg]) from error
    return to_metres(length, scene.units)


def _taken(found: Sequence[Mend], numbers: Sequence[int]) -> list[Change]:
    """Return the changes of remedies by their numbers."""
    offered = [remedy for one in found for remedy in one.remedies]
    unknown = [number for number in numbers if number > len(offered)]
    if unknown:
        msg = f"--take: found {unknown[0]}, right is 1 to {len(offered)}"
        raise UnusableError(
            [msg if offered else f"--take: found {unknown[0]}, but there is no remedy"]
        )
    return [change for number in numbers for change in offered[number - 1].do]


def _write(file: Path, scene: Scene, do: Sequence[Change], new: Path) -> None:
    from model3d.mending.proof.sketch import changed
    from model3d.scene.text.file_content import scene_bytes
    from viewer.live.saving.save import SaveError, edited

    after = changed(scene, do)
    if after is None:
        msg = f"{file}: the changes do not go together"
        raise UnusableError([msg])
    try:
        text = edited(scene_bytes(file).decode(), scene, after, file)
    except SaveError as error:
        raise UnusableError([f"{new}: {error}"]) from error
    write_whole(new, text.encode())
