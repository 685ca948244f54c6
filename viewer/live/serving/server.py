"""The live page: a server for one scene and one person, on this computer only.

It answers nobody else: it listens on the loopback address, wants a secret in every
address and its own name in every request, and takes changes only as JSON, which pages
of other sites cannot send here.
"""

from __future__ import annotations

import os
import secrets
import threading
import webbrowser
from http.server import ThreadingHTTPServer
from typing import TYPE_CHECKING, Any, Final, Self

from viewer.live.serving.connections import Lines
from viewer.live.serving.handler import PATIENCE, Handler
from viewer.live.session import LiveRoom

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from types import TracebackType

HOST: Final = "127.0.0.1"
_WATCH: Final = 0.4
"""Seconds between two looks at the scene file."""
_WAITING: Final = 512
"""Lines that may wait to be taken in a burst."""


class LiveServer(ThreadingHTTPServer):
    """Serves one room; use it as a context.

    Attributes:
        room: What is served.
        token: The secret that stands in every address.
    """

    daemon_threads = True
    block_on_close = False  # a page that waits for news would hold up the end
    # On Windows this would let others listen beside us; elsewhere it lets a server
    # start again on the port it has just left.
    allow_reuse_address = os.name != "nt"
    request_queue_size = _WAITING

    def __init__(self, room: LiveRoom, port: int = 0) -> None:
        """Listen on a port of this computer; 0 takes a free one.

        Raises:
            OSError: The port is taken.
        """
        super().__init__((HOST, port), Handler)
        self.room = room
        self.lines = Lines()
        self.token = secrets.token_urlsafe(24)
        self._end = threading.Event()
        self._beside = [
            threading.Thread(target=run, daemon=True)
            for run in (self._watch, self.room.work, self.room.advise)
        ]

    @property
    def url(self) -> str:
        """The address of the page."""
        return f"http://{HOST}:{self.server_port}/{self.token}/"

    @property
    def names(self) -> frozenset[str]:
        """What a browser on this computer may call the server."""
        return frozenset(f"{name}:{self.server_port}" for name in (HOST, "localhost"))

    def __enter__(self) -> Self:
        for thread in self._beside:
            thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end.set()
        self.room.close()
        self.server_close()

    def _watch(self) -> None:
        while not self._end.wait(_WATCH):
            self.lines.cut_late()
            self.room.follow()

    def verify_request(self, request: Any, _: Any) -> bool:  # noqa: ANN401
        """Tell whether there is room for one more line."""
        return self.lines.take(request, PATIENCE)

    def close_request(self, request: Any) -> None:  # noqa: ANN401
        """Close a line."""
        self.lines.leave(request)
        super().close_request(request)

    def handle_error(self, request: Any, client_address: Any) -> None:  # noqa: ANN401
        """Pass over a browser that has gone; what else fails is told to the page."""


def serve(
    scene: Path,
    *,
    port: int = 0,
    open_browser: bool = True,
    say: Callable[[str], None] = lambda _: None,
) -> None:
    """Serve a scene until it is interrupted.

    Args:
        scene: The scene file; moved items are saved in it when that is asked for.
        port: Of this computer; 0 takes a free one.
        open_browser: Show the page at once.
        say: Is told the address.

    Raises:
        SceneError: The scene cannot be used; so too BookError and MeshError.
        OSError: The port is taken.
    """
    with LiveServer(LiveRoom(scene), port) as server:
        say(server.url)
        if open_browser:
            webbrowser.open(server.url)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            return
