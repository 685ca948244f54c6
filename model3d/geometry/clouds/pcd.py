"""PCD files: text, binary, and binary packed by LZF (PCD file format, version 0.7)."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds.faults import TOO_SHORT, PointFileError, require_few
from model3d.geometry.clouds.point_rows import rows_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_LONGEST_HEADER: Final = 2**16
_NO_HEADER: Final = "its PCD header cannot be read"
_MOST_ROW: Final = 2**12
"""Bytes of one point with all that is said of it."""
_MOST_UNPACKED: Final = 512 * 2**20
"""Bytes; as large as a file that is not packed may be."""


@dataclass(frozen=True, slots=True)
class _Head:
    """What a header says: the numbers of a point, how many points, and how written."""

    names: tuple[str, ...]
    sorts: tuple[np.dtype[np.void] | np.dtype[np.float64], ...]
    counts: tuple[int, ...]
    points: int
    data: str

    @property
    def row(self) -> int:
        """Bytes of one point."""
        return sum(
            sort.itemsize * n for sort, n in zip(self.sorts, self.counts, strict=True)
        )


def pcd_points(data: bytes) -> Points:
    """Read the places of a PCD file; a row without any number is no measurement.

    Raises:
        PointFileError: It is not whole, or no PCD file.
    """
    head, start = _header(data)
    require_few(head.points)
    match head.data:
        case "ascii":
            firsts = dict(zip(head.names, _starts(head), strict=True))
            columns = [firsts[axis] for axis in "xyz"]
            found = rows_of(data[start:], columns, count=head.points)
        case "binary":
            found = _interleaved(head, data, start)
        case "binary_compressed":
            found = _packed(head, data, start)
        case _:
            raise PointFileError(_NO_HEADER)
    # The format's own sign for a ray that came back from nowhere.
    return found[~np.isnan(found).all(axis=1)]


def _header(data: bytes) -> tuple[_Head, int]:
    said: dict[str, list[str]] = {}
    start = 0
    while "DATA" not in said:
        end = data.find(b"\n", start, _LONGEST_HEADER)
        if end < 0:
            msg = "it has no PCD header"
            raise PointFileError(msg)
        words = data[start:end].decode("ascii", "replace").split()
        if words and not words[0].startswith("#"):
            said[words[0].upper()] = words[1:]
        start = end + 1
    try:
        names = tuple(word.lower() for word in said["FIELDS"])
        counts = tuple(map(int, said.get("COUNT", ["1"] * len(names))))
        sorts = tuple(
            np.dtype(f"<{ {'F': 'f', 'I': 'i', 'U': 'u'}[sort] }{int(size)}")
            for sort, size in zip(said["TYPE"], said["SIZE"], strict=True)
        )
        grid = int(said["WIDTH"][0]) * int(said["HEIGHT"][0])
        points = int(said["POINTS"][0]) if "POINTS" in said else grid
        head = _Head(names, sorts, counts, points, said["DATA"][0].lower())
        is_right = len(names) == len(sorts) == len(counts) and min(counts) > 0
    except (KeyError, ValueError, IndexError, TypeError) as error:
        raise PointFileError(_NO_HEADER) from error
    if not is_right or head.row > _MOST_ROW:
        raise PointFileError(_NO_HEADER)
    if grid != points:
        msg = f"its header says {points} points, and {grid} by width and height"
        raise PointFileError(msg)
    if not set("xyz") <= {*names}:
        msg = "its points have no x, y and z"
        raise PointFileError(msg)
    return head, start


def _starts(head: _Head) -> list[int]:
    """Return in which column of a row each number begins."""
    return [sum(head.counts[:place]) for place in range(len(head.counts))]


def _interleaved(head: _Head, data: bytes, start: int) -> Points:
    if len(data) - start < head.points * head.row:
        raise PointFileError(TOO_SHORT)
    sort = np.dtype(
        [
            (f"{place}", one, (count,))
            for place, (one, count) in enumerate(
                zip(head.sorts, head.counts, strict=True)
            )
        ]
    )
    rows = np.frombuffer(data, sort, head.points, start)
    chosen = [rows[f"{head.names.index(axis)}"][:, 0] for axis in "xyz"]
    return np.column_stack(chosen).astype(np.float64)


def _packed(head: _Head, data: bytes, start: int) -> Points:
    if len(data) - start < 8:  # noqa: PLR2004 - two counts of four bytes
        raise PointFileError(TOO_SHORT)
    packed, size = struct.unpack_from("<II", data, start)
    if len(data) - start - 8 < packed:
        raise PointFileError(TOO_SHORT)
    if size != head.points * head.row:
        msg = "its packed part is not as long as its header says"
        raise PointFileError(msg)
    if size > _MOST_UNPACKED:
        msg = f"its packed part holds more than {_MOST_UNPACKED // 2**20} MiB"
        raise PointFileError(msg)
    body = unpacked(data[start + 8 : start + 8 + packed], size)
    # Here all numbers of one name stand together.
    places, at = {}, 0
    for name, sort, count in zip(head.names, head.sorts, head.counts, strict=True):
        places[name] = (sort, at, count)
        at += sort.itemsize * count * head.points
    chosen = []
    for axis in "xyz":
        sort, at, count = places[axis]
        whole = np.frombuffer(body, sort, head.points * count, at)
        chosen.append(whole.reshape(-1, count)[:, 0])
    return np.column_stack(chosen).astype(np.float64)


def unpacked(data: bytes, size: int) -> bytes:
    """Return what LZF packed.

    A byte below 32 is followed by that many and one bytes as they are; any other has a
    length in its upper three bits, one byte more where they are full, and how far back
    the same bytes stand.

    Args:
        data: What was packed.
        size: How many bytes it must give.

    Raises:
        PointFileError: It gives another number, or points before its own beginning.

    >>> unpacked(bytes([1, 97, 98, 0x60, 1]), 7)
    b'abababa'
    """
    made = bytearray()
    at = 0
    try:
        while at < len(data) and len(made) <= size:
            mark = data[at]
            at += 1
            if mark < 32:  # noqa: PLR2004 - the upper three bits are empty
                made += data[at : at + mark + 1]
                at += mark + 1
                continue
            length = mark >> 5
            if length == 7:  # noqa: PLR2004 - they are full
                length += data[at]
                at += 1
            back = ((mark & 31) << 8) + data[at] + 1
            at += 1
            start = len(made) - back
            if start < 0:
                break
            piece = made[start : start + length + 2]
            made += (piece * (-(-(length + 2) // len(piece))))[: length + 2]
    except IndexError:
        made.clear()
    if len(made) != size or at != len(data):
        msg = "its packed part is damaged"
        raise PointFileError(msg)
    return bytes(made)
