"""``standclear picture``: a still picture of a room, an item, or a lesson's step."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d import read_scene
from viewer.cli.one_scene import checked_scene, unusable_explained
from viewer.output.whole import emit
from viewer.picture.graphics import DrawingError
from viewer.picture.still import check_size, picture, step_picture
from viewer.stage.lesson import lesson_stage
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace

_ENDING: Final = ".png"


def run(arguments: Namespace) -> int:
    """Draw the picture and return the exit status.

    Raises:
        UnusableError: The scene cannot be used, nothing can be drawn here, or what is
            asked for cannot be.
        OSError: The picture cannot be written.
    """
    target: Path = arguments.output or Path(f"{arguments.scene.stem}{_ENDING}")
    if target.suffix.lower() != _ENDING:
        msg = f"a picture ends in {_ENDING}, not {target.name!r}"
        raise UnusableError([f"standclear: {msg}"])
    try:
        check_size(arguments.size)
        if arguments.step is None:
            _of_place(arguments, target)
        else:
            _of_step(arguments, target)
    except (ValueError, DrawingError) as error:
        raise UnusableError([f"standclear: {error}"]) from error
    emit(f"{target}\n")
    return 0


def _of_place(arguments: Namespace, target: Path) -> None:
    scene, report = checked_scene(arguments.scene)
    picture(
        scene,
        report,
        target,
        of=arguments.of,
        looking_from=arguments.looking_from,
        size=arguments.size,
    )


def _of_step(arguments: Namespace, target: Path) -> None:
    if arguments.of is not None:
        msg = "a step of a lesson says what it looks at: --step goes without --of"
        raise ValueError(msg)
    with unusable_explained(arguments.scene):
        stage = lesson_stage(read_scene(arguments.scene))
    step_picture(
        stage,
        arguments.step,
        target,
        looking_from=arguments.looking_from,
        size=arguments.size,
    )
