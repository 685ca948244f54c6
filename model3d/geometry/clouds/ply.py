"""The points of PLY files, text or binary (G. Turk, The PLY Polygon File Format)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds.faults import TOO_SHORT, PointFileError, require_few
from model3d.geometry.clouds.point_rows import rows_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_LONGEST_HEADER: Final = 2**16
_NO_HEADER: Final = "its PLY header cannot be read"
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
_ORDERS: Final = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}


def ply_points(data: bytes) -> Points:
    """Read the places of a PLY file's vertices, whatever else it holds.

    Raises:
        PointFileError: It is not whole, or no PLY file, or its vertices do not come
            first.
    """
    start, order, count, names, sorts = _header(data)
    require_few(count)
    if not set("xyz") <= {*names}:
        msg = "its points have no x, y and z"
        raise PointFileError(msg)
    if not order:
        columns = [names.index(axis) for axis in "xyz"]
        return rows_of(data[start:], columns, count=count)
    row = np.dtype([(f"{n}", f"{order}{sort}") for n, sort in enumerate(sorts)])
    if len(data) - start < count * row.itemsize:
        raise PointFileError(TOO_SHORT)
    rows = np.frombuffer(data, row, count, start)
    chosen = [rows[f"{names.index(axis)}"] for axis in "xyz"]
    return np.column_stack(chosen).astype(np.float64)


def _header(data: bytes) -> tuple[int, str, int, list[str], list[str]]:
    """Return where rows begin, their order of bytes, how many, and their numbers."""
    end = data.find(b"end_header", 0, _LONGEST_HEADER)
    start = data.find(b"\n", end) + 1
    if data[:3] != b"ply" or end < 0 or not start:
        msg = "it has no PLY header"
        raise PointFileError(msg)
    order: str | None = None
    elements: list[tuple[str, int]] = []
    names: list[str] = []
    sorts: list[str] = []
    for line in _lines(data[:end]):
        match line.split():
            case ["format", word, *_] if word in _ORDERS:
                order = _ORDERS[word]
            case ["element", name, count] if count.isdecimal() and len(count) < 19:  # noqa: PLR2004 - of more digits it is too large anyway
                elements.append((name, int(count)))
            case ["property", sort, name] if elements and sort in _SORTS:
                if len(elements) == 1:
                    names.append(name)
                    sorts.append(_SORTS[sort])
            case ["property", "list", _, _, _] if len(elements) > 1:
                pass  # of what stands behind the points, which is not read
            case _:
                raise PointFileError(_NO_HEADER)
    if order is None or not elements:
        raise PointFileError(_NO_HEADER)
    if elements[0][0] != "vertex":
        msg = "its points do not come first"
        raise PointFileError(msg)
    return start, order, elements[0][1], names, sorts


def _lines(head: bytes) -> list[str]:
    """Return the lines of a header that say something of what follows."""
    lines = head.decode("ascii", "replace").splitlines()[1:]
    heard = [line for line in lines if line.strip()]
    return [line for line in heard if line.split()[0] not in {"comment", "obj_info"}]
