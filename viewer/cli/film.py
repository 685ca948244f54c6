"""Make a film of a room."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument, scene_argument, size_argument
from viewer.cli.given.progress import counted
from viewer.cli.given.scene import checked_scene, unusable_explained
from viewer.cli.given.target import check_target, tell_file
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable

    from model3d import Report, Scene

RANK: Final = 6
MORE: Final = """\
examples:
  standclear film room.yaml -o turn.gif
  standclear film room.yaml -o door.gif --door PCP1:1
  standclear film room.yaml -o lesson.webp --lesson
"""
_ENDINGS: Final = ("gif", "webp", "png")


def take(parser: ArgumentParser) -> None:
    """Take a scene, and what is filmed."""
    scene_argument(parser)
    file_argument(parser, "the film: .gif, .webp or .png", "gif")
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
    size_argument(parser, (960, 640), "the film")


def run(arguments: Namespace) -> int:
    """Make the film and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, nothing can be drawn here, or what is
            asked for cannot be.
        OSError: The film cannot be written.
    """
    from viewer.picture.drawing.graphics import DrawingError
    from viewer.picture.still import check_size

    target: Path = arguments.output or Path(f"{arguments.scene.stem}.{_ENDINGS[0]}")
    check_target(target, "a film", _ENDINGS, [arguments.scene])
    try:
        check_size(arguments.size)
        scene, report = checked_scene(arguments.scene)
        with counted() as progress:
            _film(arguments, scene, report, target, progress)
    except (ValueError, DrawingError) as error:
        raise UnusableError([f"standclear: {error}"]) from error
    tell_file(target)
    return 0


def _film(
    arguments: Namespace,
    scene: Scene,
    report: Report,
    target: Path,
    progress: Callable[[int, int], None],
) -> None:
    from viewer.picture.moving.film import door_film, lesson_film, turn_film
    from viewer.stage.taught.lesson import lesson_stage

    size = arguments.size
    if arguments.lesson:
        with unusable_explained(arguments.scene):
            stage = lesson_stage(scene)
        lesson_film(stage, target, size=size, progress=progress)
    elif arguments.door is not None:
        leaf = _leaf(scene, report, arguments.door)
        door_film(scene, report, target, leaf, size=size, progress=progress)
    else:
        turn_film(scene, report, target, size=size, progress=progress)


def _leaf(scene: Scene, report: Report, asked: str) -> tuple[str, int]:
    """Return the item or door that is meant, and which of its leaves, from 0."""
    from model3d.scene.words.nearest import hint

    leaves = _leaves(scene, report)
    name, _, number = asked.rpartition(":")
    if asked in leaves:
        name, number = asked, "1"
    if name not in leaves:
        msg = (
            f"found {asked}, right is the id of an item or a door{hint(asked, leaves)}"
        )
        raise ValueError(msg)
    count = leaves[name]
    if number not in map(str, range(1, count + 1)):
        there = {0: "no leaf that is stated", 1: "one leaf"}.get(
            count, f"{count} leaves"
        )
        msg = f"found leaf {number} of {name}, which has {there}"
        raise ValueError(msg)
    return name, int(number) - 1


def _leaves(scene: Scene, report: Report) -> dict[str, int]:
    """Return how many leaves each item and each door of the room has."""
    from model3d.standing.leaves import stated_leaves

    placed = report.arrangement.items if report.arrangement else {}
    found = {
        one.id: len(stated_leaves(placed[one.id], scene) or ())
        for one in scene.standing().items
    }
    for door in scene.room.doors if scene.room else ():
        found[door.id] = 2 if door.hinge == "pair" else 1
    return found
