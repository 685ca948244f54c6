"""``standclear show``: a window with the room, to be turned and looked into."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d import check, read_scene
from viewer.cli.one_scene import explained
from viewer.picture.display import held_display
from viewer.picture.graphics import DrawingError
from viewer.picture.still import LARGEST
from viewer.stage import build_stage
from viewer.stage.lesson import lesson_stage
from viewer.window.frame import SMALLEST
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace
    from pathlib import Path

    from model3d import Scene
    from viewer.stage import Stage


def run(arguments: Namespace) -> int:
    """Open the window, and return the exit status when it is closed.

    Raises:
        UnusableError: The scene cannot be used, or no window can be opened here.
    """
    file: Path = arguments.scene
    _check_size(arguments.size)
    with explained(file):
        scene = read_scene(file)
    try:
        with held_display() as wait:
            with explained(file):
                stage = _stage(scene)
            from viewer.window.app import App  # noqa: PLC0415 - it loads graphics

            wait()
            app = App(stage, arguments.size)
    except DrawingError as error:
        raise UnusableError([f"standclear: {error}"]) from error
    app.run()
    return 0


def _check_size(size: tuple[int, int]) -> None:
    for one, least, most in zip(size, SMALLEST, LARGEST, strict=True):
        if not least <= one <= most:
            msg = (
                f"a window of {size[0]} x {size[1]} pixels: from {SMALLEST[0]} x "
                f"{SMALLEST[1]} to {LARGEST[0]} x {LARGEST[1]}"
            )
            raise UnusableError([f"standclear: {msg}"])


def _stage(scene: Scene) -> Stage:
    if scene.lesson is None:
        return build_stage(scene, check(scene))
    return lesson_stage(scene)
