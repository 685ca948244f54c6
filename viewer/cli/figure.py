"""``standclear figure``: a dimensioned drawing of a room, or of one item in it."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.scene.nearest import hint
from viewer.cli.one_scene import checked_scene
from viewer.cli.target import check_target
from viewer.figure.dxf import check_writer, dxf
from viewer.figure.frame import framed
from viewer.figure.item_sheet import ALL, item_figure
from viewer.figure.printed import check_printer, printed
from viewer.figure.rack_front import rack_figure
from viewer.figure.reach_detail import reach_figure
from viewer.figure.room_plan import room_figure
from viewer.figure.subject import subject_of
from viewer.figure.svg import svg
from viewer.figure.way_plan import way_of
from viewer.output.whole import emit, write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable

    from model3d import Report
    from viewer.figure.drawing import Figure
    from viewer.figure.subject import Subject

    Makes = Callable[[float, float], Figure]

_ENDINGS: Final = ("svg", "pdf", "png", "dxf")


def run(arguments: Namespace) -> int:
    """Draw the figure and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, or what is asked for cannot be drawn.
        OSError: The figure cannot be written.
    """
    item = arguments.item
    name = arguments.scene.stem if item is None else f"{arguments.scene.stem}-{item}"
    plain = "".join(sign if sign.isalnum() or sign in "-_." else "-" for sign in name)
    target: Path = arguments.output or Path(f"{plain}.svg")
    kind = check_target(target, "a figure", _ENDINGS, [arguments.scene])
    if kind == "dxf":
        check_writer()
    elif kind != "svg":
        check_printer(kind)
    _, report = checked_scene(arguments.scene)
    make = _maker(report, item, arguments.view)
    figure = framed(report, arguments.paper, make)
    if kind == "svg":
        data = svg(figure).encode()
    elif kind == "dxf":
        data = dxf(figure)
    else:
        data = printed(figure, kind)
    write_whole(target, data)
    emit(f"{target}\n")
    return 0


def _maker(report: Report, item: str | None, view: str | None) -> Makes:
    """Return what draws what is asked for.

    Raises:
        UnusableError: There is no such item, or the view goes without one.
    """
    if item is None:
        if view not in {None, "plan"}:
            words = f"--view {view} is of one item: name it"
            raise _refused(words)
        return partial(room_figure, report)
    subject = _subject(report, item)
    if view == "ways":
        return way_of(report, item)
    if view == "reach":
        return partial(reach_figure, subject)
    if view == "rack":
        return partial(rack_figure, subject)
    if not subject.judgements:
        words = f"{item} requires no space: there is nothing to draw of it"
        raise _refused(words)
    for which in ALL:
        if view == which:
            return partial(item_figure, subject, (which,))
    return partial(item_figure, subject, ALL)


def _subject(report: Report, item: str) -> Subject:
    subject = subject_of(report, item)
    if subject is not None:
        return subject
    arrangement = report.arrangement
    names = (
        [one.id for one in arrangement.items.values() if not one.of_room]
        if arrangement
        else []
    )
    if item in names:
        words = f"{item} requires no space: there is nothing to draw of it"
        raise _refused(words)
    words = f"found {item}, right is the id of an item{hint(item, names)}"
    raise _refused(words)


def _refused(words: str) -> UnusableError:
    return UnusableError([f"standclear: {words}"])
