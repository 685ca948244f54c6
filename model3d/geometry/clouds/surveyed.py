"""Files of surveyors: LAS and LAZ by laspy, E57 by pye57; both are extras."""

from __future__ import annotations

import importlib.util
import io
import struct
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.clouds import faults, survey_reader
from model3d.geometry.clouds.faults import PointFileError
from model3d.geometry.files.apart import ApartError, answer_of

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]


_POINTS: Final = np.lib.format.MAGIC_PREFIX
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
    _require_records(data)
    return _read("laspy", "las", data)


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
    return _read("pye57", "e57", b"", str(path))


def _read(library: str, extra: str, data: bytes, file: str = "") -> Points:
    """Return what another process reads: damaged files end the libraries' own."""
    if importlib.util.find_spec(library) is None:
        msg = f"it needs the extra standclear[{extra}]"
        raise PointFileError(msg)
    try:
        said, _ = answer_of(survey_reader, data, file, str(faults.MOST_POINTS))
    except ApartError as error:
        raise PointFileError(str(error)) from error
    if not said.startswith(_POINTS):
        raise PointFileError(said.decode())
    found: Points = np.load(io.BytesIO(said), allow_pickle=False)
    return found
