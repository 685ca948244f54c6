"""Files of surveyors: LAS and LAZ by laspy, E57 by pye57; both are extras."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.clouds.faults import PointFileError, require_few

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]


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
