"""What the commands take that hand something over: figure, report, compare."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.arguments import scene_argument

if TYPE_CHECKING:
    from argparse import ArgumentParser

FIGURE_MORE: Final = """\
examples:
  standclear figure room.yaml -o plan.svg
  standclear figure room.yaml LP1 -o lp1.pdf
  standclear figure room.yaml LP1 --view side -o lp1.dxf
  standclear figure room.yaml LP1 --view ways -o way.svg

Without ITEM the plan of the room is drawn. Views of an item: plan, front, side, sheet
(all three), reach (what stands out above or below), rack (tier by tier), ways (the way
out). PDF and PNG need the extra [pdf], DXF the extra [dxf].
"""
REPORT_MORE: Final = """\
examples:
  standclear report room.yaml -o report.html
  standclear report rooms -o report.pdf --paper letter
  standclear report room.yaml --all --rules nec-2026 -o report.html

The report tells each room from what is not met to what it rests on, with a drawing to
scale of every item that has something to say, and a place to sign. HTML is one file
that needs no network and prints well; PDF needs the extra [pdf].
"""
COMPARE_MORE: Final = """\
examples:
  standclear compare before.yaml after.yaml
  standclear compare room.yaml --rules nec-2020 --rules nec-2023
  standclear compare rooms --rules nec-2020 --rules nec-2023 --format json
  standclear compare before.yaml after.yaml -o changes.html

exit status: 0 nothing changed, 1 something did, 2 an input could not be used
"""


def figure_arguments(parser: ArgumentParser) -> None:
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
    _paper_argument(parser)
    _file_argument(parser, "the figure: .svg, .pdf, .png or .dxf", "svg")


def report_arguments(parser: ArgumentParser) -> None:
    """Take scenes, and how they are reported."""
    _scenes_argument(parser)
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
    _paper_argument(parser)
    _file_argument(parser, "the report: .html or .pdf", "html")


def compare_arguments(parser: ArgumentParser) -> None:
    """Take two scenes, or scenes and two rule books."""
    _scenes_argument(parser)
    parser.add_argument(
        "--rules",
        metavar="BOOK",
        action="append",
        help="given twice: judge the scene by the one and by the other rule book",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    _file_argument(parser, "write to this file: .html, or the text or JSON", None)


def _scenes_argument(parser: ArgumentParser) -> None:
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file, or a folder: every scene in it and below",
    )


def _paper_argument(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="default: a4"
    )


def _file_argument(parser: ArgumentParser, what: str, ending: str | None) -> None:
    more = f"; without it the scene's name with .{ending}, in this folder"
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help=f"{what}{more if ending else ''}",
    )
