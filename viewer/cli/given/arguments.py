"""What several commands take, told to the parser."""

from __future__ import annotations

from argparse import ArgumentTypeError
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argparse import ArgumentParser


def scene_argument(parser: ArgumentParser) -> None:
    """Take one scene."""
    parser.add_argument("scene", metavar="SCENE", type=Path, help="a scene file")


def scenes_argument(parser: ArgumentParser, more: str = "") -> None:
    """Take scenes and folders of scenes, and what else ``more`` says."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file, or a folder: every .yaml, .yml and .json scene in it and "
        f"below{more}",
    )


def paper_argument(parser: ArgumentParser) -> None:
    """Take the paper that is drawn on."""
    parser.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="default: a4"
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


def file_argument(parser: ArgumentParser, what: str, ending: str | None) -> None:
    """Take the file that is made; with an ending, one in this folder by itself."""
    more = f"; without it the scene's name with .{ending}, in this folder"
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        help=f"{what}{more if ending else ''}",
    )


def whole_number(text: str, least: int, most: int) -> int:
    """Read a whole number within bounds, however many digits are written.

    >>> whole_number("8017", 0, 65535)
    8017

    Raises:
        ValueError: It is none, with what was found and what is right.
    """
    if text.isascii() and text.isdecimal() and len(text) <= len(str(most)):
        number = int(text)
        if least <= number <= most:
            return number
    msg = f"found {text}, right is a whole number from {least} to {most}"
    raise ValueError(msg)


def size_argument(parser: ArgumentParser, size: tuple[int, int], what: str) -> None:
    """Take a size in pixels."""
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
