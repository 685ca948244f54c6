"""What each command takes, told to the parser."""

from __future__ import annotations

from argparse import ArgumentTypeError
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argparse import ArgumentParser


def check_arguments(parser: ArgumentParser) -> None:
    """Take scenes, and how to judge and report them."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file, or a folder: every .yaml, .yml and .json scene in it and "
        "below",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
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


def lesson_arguments(parser: ArgumentParser) -> None:
    """Take scenes with lessons, and how to tell what comes of them."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file with a lesson, or a folder: every scene with a lesson in it "
        "and below",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    output_argument(parser)


def rules_arguments(parser: ArgumentParser) -> None:
    """Take a rule book, or none."""
    parser.add_argument(
        "book",
        metavar="BOOK",
        nargs="?",
        help="a rule book, or an amendment file; without it the books are listed",
    )


def page_arguments(parser: ArgumentParser) -> None:
    """Take a scene and where its page goes."""
    scene_argument(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="the page; without it the scene's name with .html, in this folder",
    )
    parser.add_argument(
        "--still",
        action="store_true",
        help="put in a still picture for browsers that draw no 3D",
    )


def serve_arguments(parser: ArgumentParser) -> None:
    """Take a scene and how it is served."""
    scene_argument(parser)
    parser.add_argument(
        "--port",
        type=int,
        choices=range(65536),
        metavar="PORT",
        default=0,
        help="of this computer; without it a free one is taken",
    )
    parser.add_argument(
        "--no-browser",
        action="store_true",
        help="print the address only, and do not open a browser",
    )


def show_arguments(parser: ArgumentParser) -> None:
    """Take a scene and the size of the window."""
    scene_argument(parser)
    _size_argument(parser, (1280, 820), "the window")


def picture_arguments(parser: ArgumentParser) -> None:
    """Take a scene, and what is seen from where."""
    scene_argument(parser)
    _file_argument(parser, "the picture", "png")
    parser.add_argument(
        "--of",
        metavar="ITEM",
        help="of this item, its spaces and their sizes, instead of the whole place",
    )
    parser.add_argument(
        "--from",
        dest="looking_from",
        metavar="DIRECTION",
        help="where the viewer stands: south-east, north, ..., above; without it "
        "where least is hidden",
    )
    parser.add_argument(
        "--step",
        metavar="N",
        type=int,
        help="of this step of the scene's lesson, the first is 1, with what is said "
        "at it",
    )
    _size_argument(parser, (1600, 1000), "the picture")


def film_arguments(parser: ArgumentParser) -> None:
    """Take a scene, and what is filmed."""
    scene_argument(parser)
    _file_argument(parser, "the film: .gif, .webp or .png", "gif")
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "--turn", action="store_true", help="once about the room; the default"
    )
    what.add_argument(
        "--door",
        metavar="ITEM[:LEAF]",
        help="a door that opens until something stops it; leaves count from 1",
    )
    what.add_argument("--lesson", action="store_true", help="the scene's lesson")
    _size_argument(parser, (960, 640), "the film")


def scene_argument(parser: ArgumentParser) -> None:
    """Take one scene."""
    parser.add_argument("scene", metavar="SCENE", type=Path, help="a scene file")


def output_argument(parser: ArgumentParser) -> None:
    """Take a file to write to."""
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="write to this file, whole or not at all, instead of the terminal",
    )


def _file_argument(parser: ArgumentParser, what: str, ending: str) -> None:
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help=f"{what}; without it the scene's name with .{ending}, in this folder",
    )


def _size_argument(parser: ArgumentParser, size: tuple[int, int], what: str) -> None:
    parser.add_argument(
        "--size",
        metavar="WIDTHxHEIGHT",
        type=_size,
        default=size,
        help=f"of {what}, pixels; default: {size[0]}x{size[1]}",
    )


def _size(text: str) -> tuple[int, int]:
    """Read a size.

    >>> _size("1600x1000")
    (1600, 1000)
    """
    width, _, height = text.lower().partition("x")
    if not (width.isdecimal() and height.isdecimal()):
        msg = f"found {text}, right is width x height in pixels, like 1600x1000"
        raise ArgumentTypeError(msg)
    return int(width), int(height)
