"""Write a room as one file for any browser."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument, scene_argument
from viewer.cli.given.scene import checked_scene
from viewer.cli.given.target import check_target, tell_file
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from model3d import Report, Scene

RANK: Final = 7
MORE: Final = """\
examples:
  standclear page room.yaml -o room.html
  standclear page room.yaml -o room.html --still

The page is one file that needs no network: turn the room, pick a judgement, cut it
open, play the lesson. Drag a thing in it or type its place: what the page can judge by
itself is told at once, provisional; the rest is open. The same scene gives the same
bytes; with --still on one machine, for what draws may differ from one to the other.
"""
_STILL: Final = (960, 600)
"""Pixels of the still picture."""
_COLOURS: Final = 64


def take(parser: ArgumentParser) -> None:
    """Take a scene and where its page goes."""
    scene_argument(parser)
    file_argument(parser, "the page", "html")
    parser.add_argument(
        "--still",
        action="store_true",
        help="put in a still picture for browsers that draw no 3D",
    )


def run(arguments: Namespace) -> int:
    """Write the page and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, or no still can be drawn here.
        OSError: The page cannot be written.
    """
    from model3d.lessons import LessonError
    from viewer.page import html

    target: Path = arguments.output or Path(f"{arguments.scene.stem}.html")
    check_target(target, "a page", ("html", "htm"), [arguments.scene])
    scene, report = checked_scene(arguments.scene)
    still = _still(scene, report) if arguments.still else None
    try:
        html.write(scene, report, target, still=still)
    except LessonError as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{arguments.scene}: {line}" for line in lines) from error
    tell_file(target)
    return 0


def _still(scene: Scene, report: Report) -> bytes:
    import tempfile

    from viewer.picture.graphics import DrawingError
    from viewer.picture.still import picture

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "still.png"
        try:
            picture(scene, report, file, size=_STILL)
        except DrawingError as error:
            raise UnusableError([f"standclear: {error}"]) from error
        return _light(file)


def _light(picture: Path) -> bytes:
    """Return a PNG of few colours: a drawing needs no more, and a page is mailed."""
    import io

    from PIL import Image

    with Image.open(picture) as image:
        few = image.convert("RGB").quantize(_COLOURS, dither=Image.Dither.NONE)
    stream = io.BytesIO()
    few.save(stream, "PNG", optimize=True)
    return stream.getvalue()
