"""Binary PLY files of triangles alone, as scans are (G. Turk, The PLY Format)."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.files.announced import MeshFileError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    _Rows = NDArray[np.void]

_LONGEST_HEADER: Final = 2**16
_SORTS: Final = {
    **dict.fromkeys(("char", "int8"), "i1"),
    **dict.fromkeys(("uchar", "uint8"), "u1"),
    **dict.fromkeys(("short", "int16"), "i2"),
    **dict.fromkeys(("ushort", "uint16"), "u2"),
    **dict.fromkeys(("int", "int32"), "i4"),
    **dict.fromkeys(("uint", "uint32"), "u4"),
    **dict.fromkeys(("float", "float32"), "f4"),
    **dict.fromkeys(("double", "float64"), "f8"),
}
_ORDERS: Final = {b"binary_little_endian": "<", b"binary_big_endian": ">"}
_CORNERS: Final = ("vertex_indices", "vertex_index")
_PLAIN: Final = re.compile(
    rb"""(?x) ply\s+ format \s (?P<order>binary_\w+) \s 1\.0\s+
    element \s vertex \s (?P<points>\d{1,18})\s+ (?P<point>(?:property\s\w+\s\w+\s+)+)
    element \s face \s (?P<faces>\d{1,18})\s+
    property \s list \s (?P<of>\w+) \s (?P<each>\w+) \s (?P<name>\w+)\s+
    (?P<more>(?:property\s\w+\s\w+\s+)*)
    (?: element \s \w+ \s 0\s+ (?:property\s[^\n]*\s+)* )*
    end_header\r?\n"""
)
_REMARK: Final = re.compile(rb"(?m)^(?:comment|obj_info)\b[^\n]*\n")


def ply_triangles(data: bytes) -> tuple[Points, Faces]:
    """Return points and faces of a binary PLY file that is large and plain.

    Plain is: points, then faces, each of three corners, and nothing else.

    Raises:
        MeshFileError: It is less plain.
    """
    rows = _rows(data)
    if rows is None or (rows[1][" count"] != 3).any():  # noqa: PLR2004 - a triangle
        msg = "it is large, and not only points and triangles, which is not read"
        raise MeshFileError(msg)
    places, faces = rows
    return (
        np.column_stack([places[axis].astype(np.float64) for axis in "xyz"]),
        faces[" corners"].astype(np.int64),
    )


def _rows(data: bytes) -> tuple[_Rows, _Rows] | None:
    """Return the rows of points and of faces, or None where there is more."""
    end = data.find(b"end_header", 0, _LONGEST_HEADER)
    start = data.find(b"\n", end) + 1
    plain = _PLAIN.fullmatch(_REMARK.sub(b"", data[:start]))
    if plain is None or plain["order"] not in _ORDERS:
        return None
    order = _ORDERS[plain["order"]]
    of, each, name = (plain[word].decode() for word in ("of", "each", "name"))
    point, more = _columns(plain["point"], order), _columns(plain["more"], order)
    if point is None or more is None or name not in _CORNERS:
        return None
    if not set("xyz") <= {name for name, _ in point} or not {of, each} <= {*_SORTS}:
        return None
    corner = np.dtype(point)
    sorts = f"{order}{_SORTS[of]}", f"{order}{_SORTS[each]}"
    face = np.dtype([(" count", sorts[0]), (" corners", sorts[1], 3), *more])
    points, faces = int(plain["points"]), int(plain["faces"])
    behind = start + points * corner.itemsize
    if len(data) < behind + faces * face.itemsize:
        return None
    return (
        np.frombuffer(data, corner, points, start),
        np.frombuffer(data, face, faces, behind),
    )


def _columns(text: bytes, order: str) -> list[tuple[str, str]] | None:
    """Return names and sorts of numbers in a row, or None of an unknown sort."""
    words = text.decode("ascii", "replace").split()
    sorts, names = words[1::3], words[2::3]
    if len({*names}) != len(names) or not {*sorts} <= {*_SORTS}:
        return None
    return [
        (name, f"{order}{_SORTS[sort]}")
        for sort, name in zip(sorts, names, strict=True)
    ]
