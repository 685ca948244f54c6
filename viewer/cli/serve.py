"""Work on a room live in the browser."""

from __future__ import annotations

from argparse import ArgumentTypeError
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import scene_argument, whole_number
from viewer.output.outlet import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

RANK: Final = 8
MORE: Final = """\
examples:
  standclear serve room.yaml
  standclear serve room.yaml --port 8017 --no-browser

Only this computer can reach it, at an address with a secret in it. Drag an item or type
its place, and the room is checked again; what is picked shows where it may stand, and a
judgement what puts it right: try, keep, undo. Save into the scene file, whose comments
stay. The page follows when the file is edited elsewhere.
"""

_LAST: Final = 65535
"""The greatest number of a port (RFC 9293)."""


def take(parser: ArgumentParser) -> None:
    """Take a scene and how it is served."""
    scene_argument(parser)
    parser.add_argument(
        "--port",
        type=_port,
        metavar="PORT",
        default=0,
        help="of this computer; without it a free one is taken",
    )
    parser.add_argument(
        "--no-browser",
        action="store_true",
        help="print the address only, and do not open a browser",
    )


def _port(text: str) -> int:
    """Read the number of a port."""
    try:
        return whole_number(text, 0, _LAST)
    except ValueError as error:
        raise ArgumentTypeError(str(error)) from error


def run(arguments: Namespace) -> int:
    """Serve the scene until it is interrupted, and return the exit status.

    Raises:
        UnusableError: The scene cannot be used.
        OSError: The port is taken.
    """
    from model3d import BookError, SceneError
    from model3d.scene.shape_files.meshes import MeshError
    from viewer.live.serving.server import serve

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
