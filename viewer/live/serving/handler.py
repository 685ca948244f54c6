"""The answers of the live page's server: who asks, for what, and what comes of it."""

from __future__ import annotations

import hmac
import json
import re
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler
from typing import TYPE_CHECKING, Final, Protocol
from urllib.parse import parse_qs

from viewer.live.change import ConflictError, MoveError
from viewer.live.serving.request import (
    RequestError,
    address_of,
    body_of,
    numbers,
    version_of,
    whole,
)
from viewer.page.html import page
from viewer.wording.refusal import fault

if TYPE_CHECKING:
    from collections.abc import Callable

    from viewer.live.serving.connections import Lines
    from viewer.live.serving.request import Tree
    from viewer.live.session import LiveRoom

PATIENCE: Final = 10.0
"""Seconds a request may take to come in."""
_WAIT: Final = 25.0
"""Seconds until a page that waits for news is told that there are none."""
_TAKING: Final = 60.0
"""Seconds an answer may take to be taken."""
_IDLE: Final = 60.0
"""Seconds a line may wait for its next request."""
_LONGEST: Final = 100
"""Characters of an id, as in the scene format, and of a gesture."""
_OLDEST: Final = "HTTP/1.0"
_VERSION: Final = re.compile(rb"[ \t]HTTP/[1-9]\.[0-9][ \t]*\r?\n?\Z")
"""How a first line ends. HTTP/0.9 has no headers, nor an end of them to wait for."""


class Served(Protocol):
    """What a handler knows of the server that it works for."""

    room: LiveRoom
    lines: Lines
    token: str

    @property
    def names(self) -> frozenset[str]:
        """What a browser on this computer may call the server."""


class Handler(BaseHTTPRequestHandler):
    """Answers one line after the other."""

    server: Served  # type: ignore[assignment]
    protocol_version = "HTTP/1.1"
    # Small answers go out at once and whole: 5 ms a move instead of 48.
    disable_nagle_algorithm = True
    wbufsize = 65536
    timeout = 60
    raw_requestline: bytes
    server_version = "standclear"
    sys_version = ""
    # A request that does not say is answered with headers like any other.
    default_request_version = _OLDEST

    def handle_one_request(self) -> None:
        """Wait for a request, for a while, and answer it."""
        if getattr(self, "command", None) is not None:
            self.server.lines.keep(self.connection, _IDLE, idle=True)
        super().handle_one_request()

    def parse_request(self) -> bool:
        """Read a request whose first line is there."""
        self.server.lines.keep(self.connection, PATIENCE, idle=True)
        # An empty line is closed without a word by the class above.
        if not _VERSION.search(self.raw_requestline):
            self.requestline, self.request_version, self.command = "", _OLDEST, ""
            self.send_error(HTTPStatus.BAD_REQUEST, "the first line names no HTTP")
            return False
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
            body = body_of(self.headers, self.rfile) if self.command == "POST" else {}
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
        parts = address_of(self.path, self.headers, self.server.names)
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
            version, notice = (whole(asked[name][0]) for name in ("version", "notice"))
        except (KeyError, ValueError):
            message = "version and notice must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
        room = self.server.room
        # Whoever only waits makes room where all lines are taken.
        self.server.lines.keep(self.connection, _WAIT + _TAKING, idle=True)
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
        self._send_json(HTTPStatus.OK, self.server.room.moment().map_of(item))

    def _bodies(self, _query: str, _body: Tree) -> None:
        self._send_json(HTTPStatus.OK, self.server.room.moment().bodies())

    def _try(self, _query: str, body: Tree) -> None:
        row, number, version = (body.get(name) for name in ("row", "number", "version"))
        if not all(type(one) is int for one in (row, number, version)):
            message = "row, number and version must be whole numbers"
            raise RequestError(HTTPStatus.BAD_REQUEST, message)
        self.server.room.attempt(row, number, version)  # type: ignore[arg-type]
        self._send_json(HTTPStatus.OK, self.server.room.reply(version_of(body)))

    def _keep(self, _query: str, body: Tree) -> None:
        self.server.room.keep()
        self._send_json(HTTPStatus.OK, self.server.room.reply(version_of(body)))

    def _move(self, _query: str, body: Tree) -> None:
        item = body.get("id")
        if not isinstance(item, str) or len(item) > _LONGEST:
            raise RequestError(HTTPStatus.BAD_REQUEST, "id must be the id of an item")
        if ("to" in body) == ("by" in body):
            raise RequestError(HTTPStatus.BAD_REQUEST, "right is either to or by")
        gesture = body.get("gesture")
        if not (gesture is None or isinstance(gesture, str)):
            raise RequestError(HTTPStatus.BAD_REQUEST, "gesture must be text")
        place = numbers(body.get("to", body.get("by")))
        room, version = self.server.room, version_of(body)
        room.move(item, place, by="by" in body, gesture=gesture, seen=version)
        self._send_json(HTTPStatus.OK, room.reply(version))

    def _undo(self, _query: str, body: Tree) -> None:
        version = version_of(body)
        self.server.room.undo(seen=version)
        self._send_json(HTTPStatus.OK, self.server.room.reply(version))

    def _save(self, _query: str, body: Tree) -> None:
        version = version_of(body)
        self.server.room.save()
        self._send_json(HTTPStatus.OK, self.server.room.reply(version))

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
