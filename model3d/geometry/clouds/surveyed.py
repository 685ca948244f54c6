"""Files of surveyors: LAS and LAZ by laspy, E57 by pye57; both are extras."""

from __future__ import annotations

import io
import struct
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds.faults import PointFileError, require_few

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]


_LAS_HEAD: Final = 227
_LAS_HEAD_1_4: Final = 375
_WITH_MORE: Final = 4
"""The minor version from which on records may stand behind the points too."""
_LAS_RECORD: Final = 54
_LAS_MORE: Final = 60
"""Bytes of the head of a record before, and behind, the points."""


def las_points(data: bytes) -> Points:
    """Read the places of a LAS or LAZ file.

    Raises:
        PointFileError: It cannot be read, or the extra is not installed.
    """
    try:
        import laspy  # noqa: PLC0415 - an extra
    except ImportError as error:
        msg = "it needs the extra standclear[las]"
        raise PointFileError(msg) from error
    _require_records(data)
    try:
        with laspy.open(io.BytesIO(data)) as reader:
            count = int(reader.header.point_count)
            require_few(count)
            found = np.array(reader.read().xyz, dtype=np.float64).reshape(-1, 3)
    except PointFileError:
        raise
    except BaseException as error:
        # Of damaged packed points its other half, in Rust, raises no Exception.
        if isinstance(error, KeyboardInterrupt | SystemExit):
            raise
        msg = "it is damaged, or no LAS file"
        raise PointFileError(msg) from error
    if len(found) != count:
        msg = f"its header says {count} points, and it has {len(found)}"
        raise PointFileError(msg)
    return found


def _require_records(data: bytes) -> None:
    """Make sure that there is room for as many records as a LAS header speaks of.

    Source: ASPRS, LAS Specification 1.4 R15, tables 3 and 5.

    Raises:
        PointFileError: There is not.
    """
    if data[:4] != b"LASF" or len(data) < _LAS_HEAD:
        msg = "it is damaged, or no LAS file"
        raise PointFileError(msg)
    size, points, count = struct.unpack_from("<HII", data, 94)
    is_short = size + count * _LAS_RECORD > min(points, len(data))
    if data[25] >= _WITH_MORE and len(data) >= _LAS_HEAD_1_4:
        start, more = struct.unpack_from("<QI", data, 235)
        is_short |= bool(more) and start + more * _LAS_MORE > len(data)
    if is_short:
        msg = "its header says more records than it has room for"
        raise PointFileError(msg)


def e57_points(path: Path) -> Points:
    """Read the places of all scans of an E57 file, each where it was taken.

    Raises:
        PointFileError: It cannot be read, or the extra is not installed.
    """
    try:
        import pye57  # noqa: PLC0415 - an extra
    except ImportError as error:
        msg = "it needs the extra standclear[e57]"
        raise PointFileError(msg) from error
    try:
        file = pye57.E57(str(path))
        scans = range(file.scan_count)
        require_few(sum(file.get_header(scan).point_count for scan in scans))
        parts = [
            file.read_scan(scan, ignore_missing_fields=True, transform=True)
            for scan in scans
        ]
        file.close()
        places = [
            np.column_stack([part[f"cartesian{axis}"] for axis in "XYZ"])
            for part in parts
        ]
        return np.concatenate(places).astype(np.float64)
    except PointFileError:
        raise
    except Exception as error:
        msg = "it is damaged, or no E57 file"
        raise PointFileError(msg) from error
