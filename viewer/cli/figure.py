"""Draw a room or an item to scale, with dimensions."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument, paper_argument, scene_argument
from viewer.cli.given.scene import checked_scene
from viewer.cli.given.target import check_target, tell_file
from viewer.output.outlet import write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable

    from model3d import Report
    from viewer.figure.drafting.drawing import Figure
    from viewer.figure.things.subject import Subject

    Makes = Callable[[float, float], Figure]

RANK: Final = 9
MORE: Final = """\
examples:
  standclear figure room.yaml -o plan.svg
  standclear figure room.yaml LP1 -o lp1.pdf
  standclear figure room.yaml LP1 --view side -o lp1.dxf
  standclear figure room.yaml LP1 --view ways -o way.svg

Without ITEM the plan of the room is drawn. Views of an item: plan, front, side, sheet
(all three), reach (what stands out above or below), rack (tier by tier), ways (each way
out that is not met or open; where none is, the one that is met). PDF and PNG need the
extra [pdf], DXF the extra [dxf].
"""
_ENDINGS: Final = ("svg", "pdf", "png", "dxf")


def take(parser: ArgumentParser) -> None:
    """Take a scene, an item of it, and how it is drawn."""
    scene_argument(parser)
    parser.add_argument(
        "item", metavar="ITEM", nargs="?", help="id of an item; else the whole room"
    )
    parser.add_argument(
        "--view",
        choices=("plan", "front", "side", "sheet", "reach", "rack", "ways"),
        help="without it plan of the room, or sheet of an item",
    )
    paper_argument(parser)
    file_argument(parser, "the figure: .svg, .pdf, .png or .dxf", "svg")


def run(arguments: Namespace) -> int:
    """Draw the figure and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, or what is asked for cannot be drawn.
        OSError: The figure cannot be written.
    """
    from viewer.figure.files.dxf import check_writer, dxf
    from viewer.figure.files.page_frame import framed
    from viewer.figure.files.printed import check_printer, printed
    from viewer.figure.files.svg import svg

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
    try:
        make = _maker(report, item, arguments.view)
    except UnusableError as error:
        lines = [f"{arguments.scene}: {one}" for one in error.mistakes]
        raise UnusableError(lines) from error
    figure = framed(report, arguments.paper, make)
    if kind == "svg":
        data = svg(figure).encode()
    elif kind == "dxf":
        data = dxf(figure)
    else:
        data = printed(figure, kind)
    write_whole(target, data)
    tell_file(target)
    return 0


def _maker(report: Report, item: str | None, view: str | None) -> Makes:
    """Return what draws what is asked for.

    Raises:
        UnusableError: There is no such item, or the view goes without one.
    """
    from viewer.figure.item.rack_front import rack_figure
    from viewer.figure.item.reach_detail import reach_figure
    from viewer.figure.item.three_sides import ALL, item_figure
    from viewer.figure.plans.room import room_figure
    from viewer.figure.plans.ways_sheet import ways_of

    if item is None:
        if view not in {None, "plan"}:
            words = f"--view {view} is of one item: name it"
            raise _refused(words)
        return partial(room_figure, report)
    subject = _subject(report, item)
    if view == "ways":
        return ways_of(report, item)
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
    from model3d.scene.words.nearest import hint
    from viewer.figure.things.subject import subject_of

    subject = subject_of(report, item)
    if subject is not None:
        return subject
    arrangement = report.arrangement
    names = (
        [one.id for one in arrangement.items.values() if not one.of_room]
        if arrangement
        else []
    )
    if item in report.no_place:
        words = f"{item} has no place yet: there is nothing to draw of it"
        raise _refused(words)
    if item in names:
        words = f"{item} requires no space: there is nothing to draw of it"
        raise _refused(words)
    right = "right is the id of an item of the scene"
    words = f"found {item}, {right}{hint(item, names)}"
    raise _refused(words)


def _refused(words: str) -> UnusableError:
    return UnusableError([words])
