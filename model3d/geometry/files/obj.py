"""OBJ files (Wavefront, Object Files): their lines as a plain reader wants them.

The reader of meshes takes every number of a point that counts back as counted from the
end of the file, the point 0 as the last one, and leaves out what is no face.
"""

from __future__ import annotations

import math
import re
from typing import Final

from model3d.geometry.files.announced import MeshFileError, shown

_MARGIN: Final = re.compile(rb"(?m)^ |\t")
_CORNERS: Final = 3
_AXES: Final = 3
_LONGEST: Final = 18
"""Digits of a number that is read; one with more names no point anyway."""
_ODD: Final = (
    re.compile(rb"\nf[^\n]*[ /](?:0|-)"),
    re.compile(rb"\nf +[^\s\\]+(?: +[^\s\\]+)? *[\r\n]"),
)
"""A face that counts back, or from 0; one of fewer than three corners."""


def plain_obj(data: bytes) -> bytes:
    """Return an OBJ file with its words at the start of lines, and points by number.

    The reader of meshes leaves out a face that has a blank or a tab before it.

    Raises:
        MeshFileError: A line names a point that is not there, or is no face.
    """
    if _MARGIN.search(data):
        data = re.sub(rb"(?m)^ +", b"", data.replace(b"\t", b" "))
    return numbered(data) if any(odd.search(data) for odd in _ODD) else data


def numbered(data: bytes) -> bytes:
    """Return an OBJ file in which every corner of a face is the number of its point.

    Raises:
        MeshFileError: A line is no point or no face; the message says which.
    """
    found: list[bytes] = []
    before, total = 0, data.count(b"\nv ") + data.startswith(b"v ")
    lines = data.split(b"\n")
    number = 0
    while number < len(lines):
        first, line = number + 1, lines[number].rstrip(b"\r")
        number += 1
        while line.endswith(b"\\") and number < len(lines):
            line = line[:-1] + b" " + lines[number].rstrip(b"\r")
            number += 1
        word, *rest = line.partition(b"#")[0].split() or [b""]
        if word == b"v":
            _require_point(rest, first)
            before += 1
        elif word == b"f":
            corners = [_corner(one, before, total, first) for one in rest]
            if len(corners) < _CORNERS:
                msg = f"its line {first} has {len(corners)} corners, right is 3 or more"
                raise MeshFileError(msg)
            line = b"f " + b" ".join(b"%d" % one for one in corners)
        found.append(line)
    return b"\n".join(found)


def _require_point(words: list[bytes], line: int) -> None:
    try:
        numbers = [float(one) for one in words]
    except ValueError:
        numbers = []
    if len(numbers) < _AXES or not all(map(math.isfinite, numbers)):
        msg = f"its line {line} is no point, right is v and three finite numbers"
        raise MeshFileError(msg)


def _corner(word: bytes, before: int, total: int, line: int) -> int:
    """Return the number of a point; one that counts back does so from its own line."""
    plain = word.partition(b"/")[0]
    try:
        number = int(plain[:_LONGEST])
    except ValueError:
        number = 0
    point = before + 1 + number if number < 0 else number
    if not 1 <= point <= total:
        right = f"right is 1 to {total}" if number >= 0 else f"right is -{before} to -1"
        msg = f"its line {line} names the point {shown(plain)}, {right}"
        raise MeshFileError(msg)
    return point
