"""The live page: a server for one scene and one person, on this computer only.

It answers nobody else: it listens on the loopback address, wants a secret in every
address and its own name in every request, and takes changes only as JSON, which pages
of other sites cannot send here.
"""

from __future__ import annotations

import hmac
import json
import math
import os
import secrets
import threading
import webbrowser
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING, Any, Final, Self
from urllib.parse import parse_qs, urlsplit

from viewer.live.session import LiveRoom, MoveError
from viewer.page.html import page
from viewer.wording.refusal import fault

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from types import TracebackType

HOST: Final = "127.0.0.1"
LARGEST_BODY: Final = 16 * 1024
"""Bytes; a move takes some hundred."""
_WATCH: Final = 0.4
"""Seconds between two looks at the scene file."""
_WAIT: Final = 25.0
"""Seconds until a page that waits for news is told that there are none."""
_FARTHEST: Final = 1e6
_AXES: Final = 3
_LONGEST: Final = 100
"""Characters of an id, as in the scene format, and of a gesture."""


class RequestError(Exception):
    """A request that is not answered; the message says why."""

    def __init__(self, status: HTTPStatus, message: str) -> None:
        super().__init__(message)
        self.status = status


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

    def __init__(self, room: LiveRoom, port: int = 0) -> None:
        """Listen on a port of this computer; 0 takes a free one.

        Raises:
            OSError: The port is taken.
        """
        super().__init__((HOST, port), _Handler)
        self.room = room
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
            self.room.follow()

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


class _Handler(BaseHTTPRequestHandler):
    server: LiveServer
    protocol_version = "HTTP/1.1"
    # Small answers go out at once and whole: 5 ms a move instead of 48.
    disable_nagle_algorithm = True
    wbufsize = 65536
    timeout = 60
    server_version = "standclear"
    sys_version = ""

    def do_GET(self) -> None:
        """Answer the page, or the news when there are some."""
        self._answer(
            {
                "": self._page,
                "events": self._events,
                "lesson": self._lesson,
                "map": self._map,
                "bodies": self._bodies,
            }
        )

    def do_POST(self) -> None:
        """Change the room."""
        self._answer(
            {
                "move": self._move,
                "undo": self._undo,
                "save": self._save,
                "try": self._try,
                "keep": self._keep,
            }
        )

    def _answer(self, ways: dict[str, Callable[[str], None]]) -> None:
        try:
            path, query = self._checked()
            ways.get(path, self._nothing)(query)
        except RequestError as error:
            self.close_connection = True  # there may be a body that was not read
            self._send_json(error.status, {"message": str(error)})
        except MoveError as error:
            self._send_json(HTTPStatus.UNPROCESSABLE_ENTITY, {"message": str(error)})
        except OSError:
            self.close_connection = True  # the browser has gone
        except Exception as error:  # noqa: BLE001 - the page says it, the room stays
            status = HTTPStatus.INTERNAL_SERVER_ERROR
            self._send_json(status, {"message": fault(error)})

    def _checked(self) -> tuple[str, str]:
        """Return what is asked for, once it is certain who asks.

        Raises:
            RequestError: It may be somebody else.
        """
        names = self.server.names
        if self.headers.get("Host") not in names:
            raise RequestError(HTTPStatus.FORBIDDEN, "another host is asked for")
        origin = self.headers.get("Origin")
        if origin is not None and origin.removeprefix("http://") not in names:
            raise RequestError(HTTPStatus.FORBIDDEN, "another site asks")
        parts = urlsplit(self.path)
        token, slash, path = parts.path.removeprefix("/").partition("/")
        given = token.encode("utf-8", "replace")
        if not (slash and hmac.compare_digest(given, self.server.token.encode())):
            raise RequestError(HTTPStatus.NOT_FOUND, "there is no such page")
        return path, parts.query

    def _nothing(self, _: str) -> None:
        raise RequestError(HTTPStatus.NOT_FOUND, "there is no such page")

    def _page(self, _: str) -> None:
        room = self.server.room
        state = room.state()
        self._send(HTTPStatus.OK, "text/html", page(room.stage, live=state))

    def _events(self, query: str) -> None:
        asked = parse_qs(query)
        try:
            version, notice = (int(asked[name][0]) for name in ("version", "notice"))
        except (KeyError, ValueError):
            message = "version and notice must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
        room = self.server.room
        if room.wait(version, notice, _WAIT):
            self._send_json(HTTPStatus.OK, room.reply(version))
        else:
            self._send(HTTPStatus.NO_CONTENT, "text/plain", b"")

    def _lesson(self, _: str) -> None:
        self._send_json(HTTPStatus.OK, self.server.room.lesson())

    def _map(self, query: str) -> None:
        item = parse_qs(query).get("item", [""])[0]
        if not item or len(item) > _LONGEST:
            raise RequestError(HTTPStatus.BAD_REQUEST, "item must be the id of an item")
        self._send_json(HTTPStatus.OK, self.server.room.map_of(item))

    def _bodies(self, _: str) -> None:
        self._send_json(HTTPStatus.OK, self.server.room.bodies())

    def _try(self, _: str) -> None:
        body = self._body()
        row, number, version = (body.get(name) for name in ("row", "number", "version"))
        if not all(type(one) is int for one in (row, number, version)):
            message = "row, number and version must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message)
        self.server.room.attempt(row, number, version)  # type: ignore[arg-type]
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _keep(self, _: str) -> None:
        body = self._body()
        self.server.room.keep()
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _move(self, _: str) -> None:
        body = self._body()
        item = body.get("id")
        if not isinstance(item, str) or len(item) > _LONGEST:
            raise RequestError(HTTPStatus.BAD_REQUEST, "id must be the id of an item")
        if ("to" in body) == ("by" in body):
            raise RequestError(HTTPStatus.BAD_REQUEST, "right is either to or by")
        gesture = body.get("gesture")
        if not (gesture is None or isinstance(gesture, str)):
            raise RequestError(HTTPStatus.BAD_REQUEST, "gesture must be text")
        place = _numbers(body.get("to", body.get("by")))
        room = self.server.room
        room.move(item, place, by="by" in body, gesture=gesture)
        self._send_json(HTTPStatus.OK, room.reply(_version(body)))

    def _undo(self, _: str) -> None:
        body = self._body()
        self.server.room.undo()
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _save(self, _: str) -> None:
        body = self._body()
        self.server.room.save()
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _body(self) -> dict[str, Any]:
        """Return the JSON object that was sent.

        Raises:
            RequestError: It is none, or too large.
        """
        kind = self.headers.get_content_type()
        if "Content-Type" not in self.headers or kind != "application/json":
            status = HTTPStatus.UNSUPPORTED_MEDIA_TYPE
            raise RequestError(status, "right is application/json")
        length = self.headers.get("Content-Length", "")
        if "Transfer-Encoding" in self.headers or not length.isdecimal():
            raise RequestError(HTTPStatus.LENGTH_REQUIRED, "how long is it?")
        if int(length[:_LONGEST]) > LARGEST_BODY:
            status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
            raise RequestError(status, f"right is {LARGEST_BODY} bytes or less")
        try:
            body = json.loads(self.rfile.read(int(length)))
        except (ValueError, RecursionError):
            body = None
        if not isinstance(body, dict):
            raise RequestError(HTTPStatus.BAD_REQUEST, "right is a JSON object")
        return body

    def _send_json(self, status: HTTPStatus, content: dict[str, Any]) -> None:
        data = json.dumps(content, separators=(",", ":")).encode()
        self._send(status, "application/json", data)

    def _send(self, status: HTTPStatus, kind: str, data: bytes) -> None:
        try:
            self.send_response(status)
            self.send_header("Content-Type", f"{kind}; charset=utf-8")
            self.send_header("Content-Length", str(len(data)))
            self.send_header("Cache-Control", "no-store")
            self.send_header("Referrer-Policy", "no-referrer")
            self.send_header("X-Content-Type-Options", "nosniff")
            self.send_header("X-Frame-Options", "DENY")
            self.send_header("Cross-Origin-Resource-Policy", "same-origin")
            if self.close_connection:
                self.send_header("Connection", "close")
            self.end_headers()
            self.wfile.write(data)
            self.wfile.flush()
        except OSError:
            self.close_connection = True  # the browser has gone

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Keep the terminal clear: the address with its secret is nobody's business."""


def _numbers(value: object) -> tuple[float, float, float]:
    if isinstance(value, list) and len(value) == _AXES:
        good = [
            float(one)
            for one in value
            if isinstance(one, int | float)
            and not isinstance(one, bool)
            and -_FARTHEST <= one <= _FARTHEST
            and math.isfinite(one)
        ]
        if len(good) == _AXES:
            return good[0], good[1], good[2]
    message = "right is a list of three numbers: east, north, up"
    raise RequestError(HTTPStatus.BAD_REQUEST, message)


def _version(body: dict[str, Any]) -> int:
    version = body.get("version", 0)
    return version if isinstance(version, int) else 0
