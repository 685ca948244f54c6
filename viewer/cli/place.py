"""Tell where an item may stand."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentTypeError
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument, scene_argument
from viewer.cli.given.target import check_target
from viewer.output.outlet import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from model3d import Scene

RANK: Final = 12
MORE: Final = """\
examples:
  standclear place room.yaml LP1
  standclear place room.yaml T1 --facing north,east
  standclear place room.yaml LP9 --like LP1
  standclear place room.yaml DS9 --kind disconnect --size 400x160x400
  standclear place room.yaml LP1 --format json

An item at a wall is tried along every wall, one on the floor anywhere in its own
facing; its height and the gap behind it stay. The best place is checked as a whole.
Places that shut somebody in are barred; where ways out were not asked, because there is
too much to ask, or are open, places are free and told as left open.

exit status: 0 done, 2 the input could not be used
"""


def take(parser: ArgumentParser) -> None:
    """Take a scene, an item, and what it is like where it is new."""
    scene_argument(parser)
    parser.add_argument(
        "item", metavar="ITEM", help="its id; a new one with --like, ..."
    )
    new = parser.add_mutually_exclusive_group()
    new.add_argument("--like", metavar="OTHER", help="a new item, like this one")
    new.add_argument("--type", metavar="NAME", help="a new item, of this type")
    new.add_argument("--kind", metavar="KIND", help="a new item, of this kind")
    parser.add_argument(
        "--size", metavar="WxDxH", help="of a new item: width, depth and height"
    )
    parser.add_argument(
        "--facing",
        metavar="WAY",
        type=_facings,
        default=(),
        help="on the floor: north, east, south, west or degrees; several by commas",
    )
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="default: text"
    )
    output_argument(parser)


def _facings(text: str) -> tuple[str | float, ...]:
    """Read facings.

    >>> _facings("north,30")
    ('north', 30.0)
    """
    words = ("north", "east", "south", "west")
    found: list[str | float] = []
    for word in text.split(","):
        try:
            found.append(word if word in words else float(word))
        except ValueError:
            msg = f"found {word}, right is north, east, south, west or degrees"
            raise ArgumentTypeError(msg) from None
    return tuple(found)


def run(arguments: Namespace) -> int:
    """Map an item's places, print them and return the exit status.

    Raises:
        UnusableError: The scene or the item cannot be used; with all mistakes.
        OSError: The output cannot be written.
    """
    from model3d import read_scene
    from model3d.judging.unseen import not_looked_at
    from model3d.mending.map.places import WAYS, PlaceError, free_places
    from model3d.mending.placing.answer import answer
    from model3d.mending.placing.new_item import with_new_item
    from viewer.cli.given.scene import unusable_explained
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text.place import place_text

    file = arguments.scene
    if arguments.output is not None:
        check_target(arguments.output, "a map", scenes=[file])
    with unusable_explained(file):
        scene: Scene = read_scene(file)
        try:
            scene = with_new_item(
                scene,
                arguments.item,
                like=arguments.like,
                kind=arguments.kind,
                named=arguments.type,
                size=arguments.size,
            )
            places = free_places(scene, arguments.item, arguments.facing, ways=WAYS)
        except PlaceError as error:
            raise UnusableError([f"{file}: {error}"]) from error
        found = answer(places)
    if arguments.format == "json":
        unread = not_looked_at(scene)
        told = found.document() | ({"not_read": unread} if unread else {})
        text = json.dumps(told, ensure_ascii=False)
        emit(f"{text}\n", arguments.output, exact=True)
        return 0
    stream = None if arguments.output else sys.stdout
    width, colour = width_of(stream), wants_colour(stream)
    emit(
        place_text(scene, found.document(), width=width, colour=colour),
        arguments.output,
    )
    return 0
