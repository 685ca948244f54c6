"""Files of points: PLY, PCD, text, LAS, LAZ and E57."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.disk.files import content
from model3d.geometry.clouds.faults import PointFileError, finite
from model3d.geometry.clouds.pcd import pcd_points
from model3d.geometry.clouds.ply import ply_points
from model3d.geometry.clouds.point_rows import text_points
from model3d.geometry.clouds.surveyed import e57_points, las_points

if TYPE_CHECKING:
    from pathlib import Path

    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

LARGEST: Final = 512 * 2**20
"""Bytes; as many points as may be, written as text."""
_READERS: Final = {
    ".ply": ply_points,
    ".pcd": pcd_points,
    **dict.fromkeys((".xyz", ".txt", ".csv"), text_points),
    **dict.fromkeys((".las", ".laz"), las_points),
}
POINT_ENDINGS: Final = (*_READERS, ".e57")


def read_points(path: Path) -> Points:
    """Read the points of a file as they stand in it, shape (n, 3).

    Raises:
        PointFileError: It holds none, too many, one that is no place, or is not what
            its ending says.
        OSError: It cannot be read, or is no plain file.
    """
    ending = path.suffix.lower()
    if ending not in POINT_ENDINGS:
        msg = "no ending of a file of points"
        raise PointFileError(msg)
    # What is no plain file is not opened, by a library neither.
    data = content(path, 0 if ending == ".e57" else LARGEST)
    if len(data) > LARGEST or path.stat().st_size > LARGEST:
        msg = f"more than {LARGEST // 2**20} MiB"
        raise PointFileError(msg)
    return finite(e57_points(path) if ending == ".e57" else _READERS[ending](data))
