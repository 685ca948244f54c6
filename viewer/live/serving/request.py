"""What a page sends, taken for no more than it is: numbers, a version, a body."""

from __future__ import annotations

import json
import math
import re
from http import HTTPStatus
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import urlsplit

if TYPE_CHECKING:
    from collections.abc import Collection
    from email.message import Message
    from io import BufferedIOBase
    from urllib.parse import SplitResult

Tree = dict[str, Any]

LARGEST_BODY: Final = 16 * 1024
"""Bytes; a move takes some hundred."""
_DIGITS: Final = 15
"""Of a number in an address or a header."""
_SIGN: Final = r"[\w.~!$&'()*+,;=:@/-]|%[0-9a-f]{2}"
_PAGE: Final = rf"/(?:{_SIGN})*(?:\?(?:{_SIGN}|\?)*)?"
_HOST: Final = r"(?:[\w.~!$&'()*+,;=%-]+|\[[0-9a-f:.]+\])(?::[0-9]*)?"
_PLAIN: Final = re.ASCII | re.IGNORECASE
_WHOLE: Final = rf"[a-z][a-z0-9+.-]*://{_HOST}(?:{_PAGE})?"
_ADDRESS: Final = re.compile(rf"{_PAGE}|{_WHOLE}", _PLAIN)
"""What an address is written like (RFC 3986): of a page here, or a whole one. No name
of anybody stands before its host (RFC 9110, 4.2.4), no place in the page behind it."""
_CALLED: Final = re.compile(rf"(?:{_HOST})?", _PLAIN)
_FARTHEST: Final = 1e6
_AXES: Final = 3


class RequestError(Exception):
    """A request that is not answered; the message says why."""

    def __init__(self, status: HTTPStatus, message: str) -> None:
        super().__init__(message)
        self.status = status


def address_of(path: str, headers: Message, names: Collection[str]) -> SplitResult:
    """Return what is asked for, once it is certain that we are asked, by ourselves.

    Args:
        path: As the request's first line has it; a whole address counts there as the
            Host header does (RFC 9112, 3.2.2).
        headers: Of the request.
        names: What a browser on this computer may call the server.

    Raises:
        RequestError: The address or the host is none, or there is not one host (RFC
            9112, 3.2); another host is asked for, or another site asks.
    """
    hosts = [one.strip(" \t") for one in headers.get_all("Host", [])]
    called = hosts[0] if len(hosts) == 1 and not headers.defects else "no host"
    if not (_ADDRESS.fullmatch(path) and _CALLED.fullmatch(called)):
        raise RequestError(HTTPStatus.BAD_REQUEST, "the address or a header is none")
    try:
        parts = urlsplit(path)
    except ValueError:  # a host in brackets that is none
        message = "the address or a header is none"
        raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
    if not path.startswith("/"):
        hosts.append(parts.netloc if parts.scheme == "http" else "")
    if any(host not in names for host in hosts):
        raise RequestError(HTTPStatus.FORBIDDEN, "another host is asked for")
    origins = headers.get_all("Origin", [])
    if any(origin.removeprefix("http://") not in names for origin in origins):
        raise RequestError(HTTPStatus.FORBIDDEN, "another site asks")
    return parts


def body_of(headers: Message, stream: BufferedIOBase) -> Tree:
    """Return the JSON object that was sent.

    Raises:
        RequestError: It is none, or too large.
    """
    kind = headers.get_content_type()
    if "Content-Type" not in headers or kind != "application/json":
        status = HTTPStatus.UNSUPPORTED_MEDIA_TYPE
        raise RequestError(status, "right is application/json")
    lengths = headers.get_all("Content-Length", [])
    if "Transfer-Encoding" in headers or not lengths:
        raise RequestError(HTTPStatus.LENGTH_REQUIRED, "how long is it?")
    try:
        (length,) = {whole(one) for one in lengths}
    except ValueError:
        message = "its length must be one whole number"
        raise RequestError(HTTPStatus.BAD_REQUEST, message) from None
    if length > LARGEST_BODY:
        status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
        raise RequestError(status, f"right is {LARGEST_BODY} bytes or less")
    try:
        body = json.loads(stream.read(length))
    except (ValueError, RecursionError):
        body = None
    if not isinstance(body, dict):
        raise RequestError(HTTPStatus.BAD_REQUEST, "right is a JSON object")
    return body


def numbers(value: object) -> tuple[float, float, float]:
    """Return east, north and up.

    Raises:
        RequestError: They are no three finite numbers.
    """
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


def version_of(body: Tree) -> int | None:
    """Return the version a page shows, or None where it does not say.

    Raises:
        RequestError: It is no whole number.
    """
    version = body.get("version")
    if version is None or (isinstance(version, int) and not isinstance(version, bool)):
        return version
    raise RequestError(HTTPStatus.BAD_REQUEST, "version must be a whole number")


def whole(text: str) -> int:
    """Return a whole number that is written plainly.

    Raises:
        ValueError: It is none, or beyond all that is meant here.

    >>> whole("0012")
    12
    """
    digits = text.strip(" \t").lstrip("0") or "0"
    if not (text.strip(" \t").isdecimal() and text.isascii()):
        msg = "no whole number"
        raise ValueError(msg)
    return int(digits) if len(digits) <= _DIGITS else 10**_DIGITS
