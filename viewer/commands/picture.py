"""``standclear picture``: a still picture of a room, or of one item and its spaces."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.graphics import DrawingError
from viewer.onescene import checked_scene
from viewer.output import emit
from viewer.refusal import UnusableError
from viewer.still import check_size, picture

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
        scene, report = checked_scene(arguments.scene)
        picture(
            scene,
            report,
            target,
            of=arguments.of,
            looking_from=arguments.looking_from,
            size=arguments.size,
        )
    except (ValueError, DrawingError) as error:
        raise UnusableError([f"standclear: {error}"]) from error
    emit(f"{target}\n")
    return 0
