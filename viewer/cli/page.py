"""Write a room as one file for any browser."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument
from viewer.cli.given.lessons import course_rooms
from viewer.cli.given.portfolio import cores, jobs_argument, jobs_of
from viewer.cli.given.scene import checked_scene
from viewer.cli.given.scene_files import scene_files
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
  standclear page scenes/lessons -o course.html

A folder, or several scenes, give one page with all their lessons and an index; a page
of a lesson asks its questions, checks what is dragged and keeps the score.
The page is one file that needs no network: turn the room, pick a judgement, cut it
open, play the lesson. Drag a thing in it or type its place: what the page can judge by
itself is told at once, provisional; the rest is open. The same scene gives the same
bytes; with --still on one machine, for what draws may differ from one to the other.
"""
_ENDINGS: Final = ("html", "htm")
_STILL: Final = (960, 600)
"""Pixels of the still picture."""
_COLOURS: Final = 64


def take(parser: ArgumentParser) -> None:
    """Take a scene, or the lessons of several, and where the page goes."""
    parser.add_argument(
        "scenes",
        metavar="SCENE",
        nargs="+",
        type=Path,
        help="a scene file; or several with lessons, or a folder: every scene with a "
        "lesson in it and below",
    )
    file_argument(parser, "the page", "html")
    parser.add_argument(
        "--still",
        action="store_true",
        help="put in a still picture for browsers that draw no 3D",
    )
    jobs_argument(
        parser,
        "so many processes work at several lessons side by side, with the same result; "
        "default: one for each core",
        str(cores()),
    )


def run(arguments: Namespace) -> int:
    """Write the page and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, or no still can be drawn here.
        OSError: The page cannot be written.
    """
    from model3d.lessons import LessonError
    from viewer.page import html

    paths: list[Path] = arguments.scenes
    jobs_of(arguments)
    if len(paths) > 1 or paths[0].is_dir():
        return _write_course(arguments)
    (file,) = paths
    target: Path = arguments.output or Path(f"{file.stem}.html")
    check_target(target, "a page", _ENDINGS, [file])
    scene, report = checked_scene(file)
    still = _still(scene, report) if arguments.still else None
    try:
        html.write(scene, report, target, still=still)
    except LessonError as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{file}: {line}" for line in lines) from error
    tell_file(target)
    return 0


def _write_course(arguments: Namespace) -> int:
    """Write the page of several lessons.

    Raises:
        UnusableError: A scene cannot be used or has no lesson, or a still is asked for.
    """
    from viewer.page.html import write_course

    target: Path = arguments.output or Path("course.html")
    check_target(target, "a page", _ENDINGS, scene_files(arguments.scenes)[0])
    if arguments.still:
        msg = "found --still with several lessons, right is with one scene"
        raise UnusableError([f"standclear: {msg}"])
    write_course(course_rooms(arguments.scenes, jobs_of(arguments)), target)
    tell_file(target)
    return 0


def _still(scene: Scene, report: Report) -> bytes:
    from model3d.disk.scratch import scratch
    from viewer.picture.drawing.graphics import DrawingError
    from viewer.picture.still import picture

    with scratch() as folder:
        file = folder / "still.png"
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
