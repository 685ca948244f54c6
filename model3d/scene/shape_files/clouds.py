"""Clouds of points that a scene names: in metres, sifted, turned as it asks for."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.geometry.clouds.reader import read_points
from model3d.geometry.clouds.sifting import Sifted, sift
from model3d.scene.shape_files.meshes import MeshError, turned
from model3d.units import METRES

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model3d.scene.parts.item import Item
    from model3d.scene.scene import Scene

    Points = NDArray[np.float64]
    Spot = tuple[float, float]

AT_SCANNER: Final = 0.6
"""Metres in plan. So near to where the scanner stood points are its own, or of the
tripod or the person that carried it."""


def cloud_of(item: Item, scene: Scene) -> tuple[Points, Sifted]:
    """Return the points that count, in metres where they stand, and what was read.

    Raises:
        MeshError: The file cannot be used, or none of its points count.
    """
    folder = scene.file.parent if scene.file else Path()
    path = folder / str(item.points)
    # Metres are the unit of E57 (ASTM E2807); of the other files nobody says.
    unit = item.units or ("m" if path.suffix.lower() == ".e57" else scene.units)
    factor = item.scale * METRES[unit]
    scanner = item.scanner
    spot = None if scanner is None else (scanner[0] * factor, scanner[1] * factor)
    try:
        found = _sifted(path, path.stat().st_mtime_ns, factor, spot)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        msg = f'found "{item.points}" ({reason}), right is a file with points'
        raise MeshError(msg) from error
    if not len(found.points):
        msg = (
            f'found "{item.points}" (of its {found.read} points none counts: they are '
            "strays, or at the scanner), right is a file with points that belong "
            "together, in the right units"
        )
        raise MeshError(msg)
    points = turned(found.points, item)
    if item.shift is not None:
        points = points + [scene.metres(length) for length in item.shift]
    return points, found


@lru_cache(maxsize=16)
def _sifted(path: Path, _changed: int, factor: float, spot: Spot | None) -> Sifted:
    return sift(read_points(path) * factor, spot, AT_SCANNER)
