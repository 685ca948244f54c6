"""``standclear serve``: show a room live, to be worked on in the browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d import BookError, SceneError
from model3d.scene.meshes import MeshError
from viewer.live.server import serve
from viewer.output.whole import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace


def run(arguments: Namespace) -> int:
    """Serve the scene until it is interrupted, and return the exit status.

    Raises:
        UnusableError: The scene cannot be used.
        OSError: The port is taken.
    """
    try:
        serve(
            arguments.scene,
            port=arguments.port,
            open_browser=not arguments.no_browser,
            say=lambda url: emit(f"{url}\nStop it with Ctrl-C.\n"),
        )
    except SceneError as error:
        raise UnusableError(map(str, error.mistakes)) from error
    except (BookError, MeshError) as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{arguments.scene}: {line}" for line in lines) from error
    return 0
