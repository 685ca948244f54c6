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


def rules_arguments(parser: ArgumentParser) -> None:
    """Take a rule book, or none."""
    parser.add_argument(
        "book",
        metavar="BOOK",
        nargs="?",
        help="a rule book, or an amendment file; without it the books are listed",
    )


def output_argument(parser: ArgumentParser) -> None:
    """Take a file to write to."""
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help="write to this file, whole or not at all, instead of the terminal",
    )
