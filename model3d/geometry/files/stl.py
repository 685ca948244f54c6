"""STL files (3D Systems, StereoLithography Interface Specification).

Of those of text the reader of meshes takes every three points for a triangle, whatever
stands between them, and leaves out all that follows a number that is none.
"""

from __future__ import annotations

import re
import struct
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.files.announced import TOO_SHORT, MeshFileError, require_few

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_HEAD: Final = 84
_TRIANGLE: Final = 50
"""Bytes of a binary file."""
_TAIL: Final = 2**16
"""Bytes at the end of a text in which its last word stands."""
_SOLID: Final = re.compile(
    rb"""(?xi)
    \s* solid \b [^\n]* \n \s*
    (?P<facets> (?:
        facet \s++ normal (?: \s++ \S++ ){3} \s++ outer \s++ loop \s++
        (?: vertex (?: [ \t]++ [-+]? (?: \d++ (?: \. \d*+ )? | \. \d++ )
            (?: e [-+]? \d++ )? ){3} [ \t\r]*+ \n \s*+ ){3}
        endloop \s++ endfacet \s++
    )*+ )
    """
)
"""A solid up to its last facet that is whole; a point is the rest of its line."""
_END: Final = re.compile(rb"(?i)endsolid\b[^\n]*(?:\n\s*|\Z)")
_POINT: Final = re.compile(rb"(?i)vertex([^\n]*)")


def require_stl(data: bytes) -> None:
    """Make sure that an STL file is whole as far as its size tells, not too large.

    Raises:
        MeshFileError: It is not.
    """
    if is_text_stl(data):
        require_few(0, data.lower().count(b"endfacet"))
        if b"endsolid" not in data[-_TAIL:].lower():
            raise MeshFileError(TOO_SHORT)
        return
    if len(data) < _HEAD:
        raise MeshFileError(TOO_SHORT)
    (count,) = struct.unpack_from("<I", data, _HEAD - 4)
    if len(data) < _HEAD + count * _TRIANGLE:
        raise MeshFileError(TOO_SHORT)
    require_few(0, count, len(data))


def stl_corners(text: bytes) -> Points:
    """Return the corners of an STL file's triangles, shape (3n, 3).

    Args:
        text: What is in it.

    Raises:
        MeshFileError: Something in it is no facet of three points.
    """
    found = [np.zeros(0)]
    at = 0
    while at < len(text):
        solid = _SOLID.match(text, at)
        stop = solid.end() if solid else at
        end = _END.match(text, stop)
        if solid is None or end is None:
            line = text.count(b"\n", 0, stop) + 1
            msg = f"what begins in its line {line} is no facet of three points"
            raise MeshFileError(msg)
        numbers = b" ".join(_POINT.findall(text, solid.start("facets"), stop))
        found.append(np.fromstring(numbers.decode("ascii"), sep=" "))
        at = end.end()
    return np.concatenate(found).reshape(-1, 3)


def is_text_stl(data: bytes) -> bool:
    """Tell whether an STL file is text; a binary one may begin with its word too."""
    if data[:5].lower() != b"solid":
        return False
    if len(data) < _HEAD:
        return True
    (count,) = struct.unpack_from("<I", data, _HEAD - 4)
    return len(data) != _HEAD + int(count) * _TRIANGLE
