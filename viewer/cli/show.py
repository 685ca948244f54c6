"""Open a window with a room."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import scene_argument, size_argument
from viewer.cli.given.scene import unusable_explained
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from pathlib import Path

    from model3d import Scene
    from viewer.stage import Stage

RANK: Final = 4
MORE: Final = """\
examples:
  standclear show room.yaml

Turn the room with the mouse, step through the judgements and the lesson by keys, click
a number or a thing, hide layers, cut the room open. Press K for the keys. Nothing is
moved here: to move things, and to keep what you move, use `standclear serve`.
"""


def take(parser: ArgumentParser) -> None:
    """Take a scene and the size of the window."""
    scene_argument(parser)
    size_argument(parser, (1280, 820), "the window")


def run(arguments: Namespace) -> int:
    """Open the window, and return the exit status when it is closed.

    Raises:
        UnusableError: The scene cannot be used, or no window can be opened here.
    """
    from model3d import read_scene
    from viewer.picture.drawing.display import held_display
    from viewer.picture.drawing.graphics import DrawingError

    file: Path = arguments.scene
    _check_size(arguments.size)
    with unusable_explained(file):
        scene = read_scene(file)
    try:
        with held_display() as wait:
            with unusable_explained(file):
                stage = _stage(scene)
            from viewer.window.app import App

            wait()
            app = App(stage, arguments.size)
    except DrawingError as error:
        raise UnusableError([f"standclear: {error}"]) from error
    app.run()
    return 0


def _check_size(size: tuple[int, int]) -> None:
    from viewer.picture.still import LARGEST
    from viewer.window.division import SMALLEST

    for one, least, most in zip(size, SMALLEST, LARGEST, strict=True):
        if not least <= one <= most:
            msg = (
                f"found a window of {size[0]} x {size[1]} pixels, right is from "
                f"{SMALLEST[0]} x {SMALLEST[1]} to {LARGEST[0]} x {LARGEST[1]}"
            )
            raise UnusableError([f"standclear: {msg}"])


def _stage(scene: Scene) -> Stage:
    from model3d import check
    from viewer.stage import build_stage
    from viewer.stage.taught.lesson import lesson_stage

    if scene.lesson is None:
        return build_stage(scene, check(scene))
    return lesson_stage(scene)
