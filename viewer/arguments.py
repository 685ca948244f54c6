"""What each command takes, told to the parser."""

from __future__ import annotations

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
