"""``standclear show``: a window with the room, to be turned, picked at and worked on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d import read_scene
from model3d.following import Following
from model3d.lessons import run_lesson
from viewer.graphics import DrawingError
from viewer.onescene import explained
from viewer.refusal import UnusableError
from viewer.stage.lesson import lesson_stage
from viewer.window.display import require_display
from viewer.window.state import WindowState

if TYPE_CHECKING:
    from argparse import Namespace
    from pathlib import Path


def run(arguments: Namespace) -> int:
    """Open the window, and return the exit status when it is closed.

    Raises:
        UnusableError: The scene cannot be used, or no window can be opened here.
    """
    file: Path = arguments.scene
    with explained(file):
        scene = read_scene(file)
    try:
        require_display()
    except DrawingError as error:
        raise UnusableError([f"standclear: {error}"]) from error
    with explained(file):
        following = Following(scene)
        if scene.lesson is None:
            state = WindowState((scene,), following)
        else:
            results = run_lesson(scene)
            scenes = (scene, *(result.scene for result in results))
            state = WindowState(scenes, following, lesson_stage(scene, results))
    from viewer.window.app import App  # noqa: PLC0415 - it loads graphics

    App(state, arguments.size).run()
    return 0
