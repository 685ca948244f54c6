"""Draw a room, or one item."""

from __future__ import annotations

from argparse import BooleanOptionalAction
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import file_argument, scene_argument, size_argument
from viewer.cli.given.scene import checked_scene, unusable_explained
from viewer.cli.given.target import check_target, tell_file
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

RANK: Final = 5
MORE: Final = """\
examples:
  standclear picture room.yaml -o room.png
  standclear picture room.yaml -o lp1.png --of LP1 --from south-east
  standclear picture room.yaml -o small.png --size 900x600
  standclear picture lesson.yaml -o step-3.png --step 3
  standclear picture room.yaml -o places.png --free LP1
  standclear picture room.yaml -o print.png --of LP1 --section --grey --person
"""
_ENDING: Final = "png"


def take(parser: ArgumentParser) -> None:
    """Take a scene, and what is seen from where."""
    scene_argument(parser)
    file_argument(parser, "the picture", _ENDING)
    parser.add_argument(
        "--of",
        metavar="ITEM",
        help="of this item or room door, its spaces and their sizes, instead of the "
        "whole place",
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
    parser.add_argument(
        "--free",
        metavar="ITEM",
        help="of where this item may be put, on the floor or along the walls, with "
        "the best place; from above unless --from says otherwise",
    )
    size_argument(parser, (1600, 1000), "the picture")
    parser.add_argument(
        "--section",
        action="store_true",
        help="cut open through the item of --of, seen straight from its side; --from "
        "says from which",
    )
    parser.add_argument(
        "--grey",
        action="store_true",
        help="in shades of grey; what is in the way is hatched in any case",
    )
    parser.add_argument(
        "--person",
        action=BooleanOptionalAction,
        help="with a grey person, 1.75 m tall, who stands at the work; by itself in "
        "steps of a lesson",
    )


def run(arguments: Namespace) -> int:
    """Draw the picture and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, nothing can be drawn here, or what is
            asked for cannot be.
        OSError: The picture cannot be written.
    """
    from viewer.picture.drawing.graphics import DrawingError
    from viewer.picture.still import check_size

    target: Path = arguments.output or Path(f"{arguments.scene.stem}.{_ENDING}")
    check_target(target, "a picture", (_ENDING,), [arguments.scene])
    try:
        check_size(arguments.size)
        if arguments.free is not None:
            _of_free(arguments, target)
        elif arguments.step is None:
            _of_place(arguments, target)
        else:
            _of_step(arguments, target)
    except (ValueError, DrawingError) as error:
        raise UnusableError([f"standclear: {error}"]) from error
    tell_file(target)
    return 0


def _of_place(arguments: Namespace, target: Path) -> None:
    from viewer.picture.still import Looks, picture

    scene, report = checked_scene(arguments.scene)
    picture(
        scene,
        report,
        target,
        of=arguments.of,
        looking_from=arguments.looking_from,
        size=arguments.size,
        looks=Looks(
            grey=arguments.grey,
            person=bool(arguments.person),
            section=arguments.section,
        ),
    )


def _of_free(arguments: Namespace, target: Path) -> None:
    from model3d.mending.map.places import WAYS, PlaceError, free_places
    from model3d.mending.placing.answer import answer
    from viewer.picture.still import Looks, free_picture

    if arguments.of is not None or arguments.step is not None or arguments.section:
        msg = (
            "a map of free places is of the whole room: --free goes without --of, "
            "--step and --section"
        )
        raise ValueError(msg)
    scene, report = checked_scene(arguments.scene)
    try:
        found = answer(free_places(scene, arguments.free, ways=WAYS))
    except PlaceError as error:
        raise UnusableError([f"{arguments.scene}: {error}"]) from error
    free_picture(
        scene,
        report,
        found,
        target,
        looking_from=arguments.looking_from,
        size=arguments.size,
        looks=Looks(grey=arguments.grey, person=bool(arguments.person)),
    )


def _of_step(arguments: Namespace, target: Path) -> None:
    from model3d import read_scene
    from viewer.picture.still import Looks, step_picture
    from viewer.stage.taught.lesson import lesson_stage

    if arguments.of is not None:
        msg = "a step of a lesson says what it looks at: --step goes without --of"
        raise ValueError(msg)
    if arguments.section:
        msg = "a section goes through an item: --step goes without --section"
        raise ValueError(msg)
    with unusable_explained(arguments.scene):
        stage = lesson_stage(read_scene(arguments.scene))
    step_picture(
        stage,
        arguments.step,
        target,
        looking_from=arguments.looking_from,
        size=arguments.size,
        looks=Looks(grey=arguments.grey, person=arguments.person is not False),
    )
