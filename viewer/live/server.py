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

from viewer.live.lines import Lines
from viewer.live.session import ConflictError, LiveRoom, MoveError
from viewer.page.html import page
from viewer.wording.refusal import fault

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from types import TracebackType

Tree = dict[str, Any]

HOST: Final = "127.0.0.1"
LARGEST_BODY: Final = 16 * 1024
"""Bytes; a move takes some hundred."""
_WATCH: Final = 0.4
"""Seconds between two looks at the scene file."""
_WAIT: Final = 25.0
"""Seconds until a page that waits for news is told that there are none."""
_PATIENCE: Final = 10.0
"""Seconds a request may take to come in."""
_TAKING: Final = 60.0
"""Seconds an answer may take to be taken."""
_IDLE: Final = 60.0
"""Seconds a line may wait for its next request."""
_WAITING: Final = 512
"""Lines that may wait to be taken in a burst."""
_DIGITS: Final = 15
"""Of a number in an address or a header."""
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
    request_queue_size = _WAITING

    def __init__(self, room: LiveRoom, port: int = 0) -> None:
        """Listen on a port of this computer; 0 takes a free one.

        Raises:
            OSError: The port is taken.
        """
        super().__init__((HOST, port), _Handler)
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
        return self.lines.take(request, _PATIENCE)

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


class _Handler(BaseHTTPRequestHandler):
    server: LiveServer
    protocol_version = "HTTP/1.1"
    # Small answers go out at once and whole: 5 ms a move instead of 48.
    disable_nagle_algorithm = True
    wbufsize = 65536
    timeout = 60
    server_version = "standclear"
    sys_version = ""
    # A request that does not say is answered with headers like any other.
    default_request_version = "HTTP/1.0"

    def handle_one_request(self) -> None:
        """Wait for a request, for a while, and answer it."""
        if getattr(self, "command", None) is not None:
            self.server.lines.keep(self.connection, _IDLE, idle=True)
        super().handle_one_request()

    def parse_request(self) -> bool:
        """Read a request whose first line is there."""
        self.server.lines.keep(self.connection, _PATIENCE)
        return super().parse_request()

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

    def _answer(self, ways: dict[str, Callable[[str, Tree], None]]) -> None:
        try:
            path, query = self._checked()
            body = self._body() if self.command == "POST" else {}
            # What is asked for may take its time, and for news one waits.
            self.server.lines.keep(self.connection)
            ways.get(path, self._nothing)(query, body)
        except RequestError as error:
            self.close_connection = True  # there may be a body that was not read
            self._send_json(error.status, {"message": str(error)})
        except ConflictError as error:
            self._send_json(HTTPStatus.CONFLICT, {"message": str(error)})
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
        try:
            parts = urlsplit(self.path)
        except ValueError:
            message = "the address is none"
            raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
        token, slash, path = parts.path.removeprefix("/").partition("/")
        given = token.encode("utf-8", "replace")
        if not (slash and hmac.compare_digest(given, self.server.token.encode())):
            raise RequestError(HTTPStatus.NOT_FOUND, "there is no such page")
        return path, parts.query

    def _nothing(self, _query: str, _body: Tree) -> None:
        raise RequestError(HTTPStatus.NOT_FOUND, "there is no such page")

    def _page(self, _query: str, _body: Tree) -> None:
        room = self.server.room
        state = room.state()
        self._send(HTTPStatus.OK, "text/html", page(room.stage, live=state))

    def _events(self, query: str, _body: Tree) -> None:
        try:
            asked = parse_qs(query, max_num_fields=10)
            version, notice = (_whole(asked[name][0]) for name in ("version", "notice"))
        except (KeyError, ValueError):
            message = "version and notice must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
        room = self.server.room
        if room.wait(version, notice, _WAIT):
            self._send_json(HTTPStatus.OK, room.reply(version))
        else:
            self._send(HTTPStatus.NO_CONTENT, "text/plain", b"")

    def _lesson(self, _query: str, _body: Tree) -> None:
        self._send_json(HTTPStatus.OK, self.server.room.lesson())

    def _map(self, query: str, _body: Tree) -> None:
        item = parse_qs(query).get("item", [""])[0]
        if not item or len(item) > _LONGEST:
            raise RequestError(HTTPStatus.BAD_REQUEST, "item must be the id of an item")
        self._send_json(HTTPStatus.OK, self.server.room.map_of(item))

    def _bodies(self, _query: str, _body: Tree) -> None:
        self._send_json(HTTPStatus.OK, self.server.room.bodies())

    def _try(self, _query: str, body: Tree) -> None:
        row, number, version = (body.get(name) for name in ("row", "number", "version"))
        if not all(type(one) is int for one in (row, number, version)):
            message = "row, number and version must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message)
        self.server.room.attempt(row, number, version)  # type: ignore[arg-type]
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _keep(self, _query: str, body: Tree) -> None:
        self.server.room.keep()
        self._send_json(HTTPStatus.OK, self.server.room.reply(_version(body)))

    def _move(self, _query: str, body: Tree) -> None:
        item = body.get("id")
        if not isinstance(item, str) or len(item) > _LONGEST:
            raise RequestError(HTTPStatus.BAD_REQUEST, "id must be the id of an item")
        if ("to" in body) == ("by" in body):
            raise RequestError(HTTPStatus.BAD_REQUEST, "right is either to or by")
        gesture = body.get("gesture")
        if not (gesture is None or isinstance(gesture, str)):
            raise RequestError(HTTPStatus.BAD_REQUEST, "gesture must be text")
        place = _numbers(body.get("to", body.get("by")))
        room, version = self.server.room, _version(body)
        room.move(item, place, by="by" in body, gesture=gesture, seen=version)
        self._send_json(HTTPStatus.OK, room.reply(version))

    def _undo(self, _query: str, body: Tree) -> None:
        version = _version(body)
        self.server.room.undo(seen=version)
        self._send_json(HTTPStatus.OK, self.server.room.reply(version))

    def _save(self, _query: str, body: Tree) -> None:
        version = _version(body)
        self.server.room.save()
        self._send_json(HTTPStatus.OK, self.server.room.reply(version))

    def _body(self) -> Tree:
        """Return the JSON object that was sent.

        Raises:
            RequestError: It is none, or too large.
        """
        kind = self.headers.get_content_type()
        if "Content-Type" not in self.headers or kind != "application/json":
            status = HTTPStatus.UNSUPPORTED_MEDIA_TYPE
            raise RequestError(status, "right is application/json")
        lengths = self.headers.get_all("Content-Length", [])
        if "Transfer-Encoding" in self.headers or not lengths:
            raise RequestError(HTTPStatus.LENGTH_REQUIRED, "how long is it?")
        try:
            (length,) = {_whole(one) for one in lengths}
        except ValueError:
            message = "its length must be one whole number"
            raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
        if length > LARGEST_BODY:
            status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
            raise RequestError(status, f"right is {LARGEST_BODY} bytes or less")
        try:
            body = json.loads(self.rfile.read(length))
        except (ValueError, RecursionError):
            body = None
        if not isinstance(body, dict):
            raise RequestError(HTTPStatus.BAD_REQUEST, "right is a JSON object")
        return body

    def _send_json(self, status: HTTPStatus, content: Tree) -> None:
        data = json.dumps(content, separators=(",", ":")).encode()
        self._send(status, "application/json", data)

    def send_error(
        self, code: int, message: str | None = None, explain: str | None = None
    ) -> None:
        """Answer what the base class refuses as everything else that is refused."""
        self.close_connection = True
        status = HTTPStatus(code)
        words = status.phrase if message is None else message.partition("(")[0].strip()
        self._send_json(status, {"message": explain or words.lower()})

    def end_headers(self) -> None:
        """End the headers of any answer with those that every one has."""
        self.send_header("Cache-Control", "no-store")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("X-Frame-Options", "DENY")
        self.send_header("Content-Security-Policy", "frame-ancestors 'none'")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        super().end_headers()

    def _send(self, status: HTTPStatus, kind: str, data: bytes) -> None:
        self.server.lines.keep(self.connection, _TAKING)
        try:
            self.send_response(status)
            self.send_header("Content-Type", f"{kind}; charset=utf-8")
            self.send_header("Content-Length", str(len(data)))
            if self.close_connection:
                self.send_header("Connection", "close")
            self.end_headers()
            if self.command != "HEAD":
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


def _version(body: Tree) -> int | None:
    """Return the version a page shows, or None where it does not say.

    Raises:
        RequestError: It is no whole number.
    """
    version = body.get("version")
    if version is None or (isinstance(version, int) and not isinstance(version, bool)):
        return version
    raise RequestError(HTTPStatus.BAD_REQUEST, "version must be a whole number")


def _whole(text: str) -> int:
    """Return a whole number that is written plainly.

    Raises:
        ValueError: It is none, or beyond all that is meant here.

    >>> _whole("0012")
    12
    """
    digits = text.strip(" \t").lstrip("0") or "0"
    if not (text.strip(" \t").isdecimal() and text.isascii()):
        msg = "no whole number"
        raise ValueError(msg)
    return int(digits) if len(digits) <= _DIGITS else 10**_DIGITS
