"""Surfaces and lines as pyvista's meshes, in the colours of their cells."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import pyvista as pv

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from viewer.stage.drawn import Faces, Points

COLOURS: Final = "rgb"
"""Name of the colours of the cells."""
_SHARP: Final = 30.0
"""Degrees. Faces that meet at more are shaded apart, else as one that is round."""


def surface(
    vertices: Points, faces: Faces, colours: NDArray[np.uint8], *, lit: bool
) -> pv.PolyData:
    """Return triangles; where they are lit, with what is needed to shade them."""
    corners = np.full((len(faces), 1), 3)
    mesh = pv.PolyData(vertices, np.hstack([corners, faces]).ravel())
    mesh.cell_data[COLOURS] = colours
    if not lit:
        return mesh
    shaded: pv.PolyData = mesh.compute_normals(
        cell_normals=False,
        split_vertices=True,
        feature_angle=_SHARP,
        consistent_normals=False,
    )
    return shaded


def lines(ends: Points, colours: NDArray[np.uint8]) -> pv.PolyData:
    """Return straight lines by their two ends, shape (k, 2, 3)."""
    points = ends.reshape(-1, 3)
    cells = np.arange(len(points)).reshape(-1, 2)
    counted = np.column_stack([np.full(len(cells), 2), cells])
    mesh = pv.PolyData(points, lines=counted.ravel())
    mesh.cell_data[COLOURS] = colours
    return mesh
