"""Surfaces and lines as the graphics take them, in the colours of their cells.

Made with the toolkit itself: a library over it takes longer to load than a picture
takes to draw.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
from vtkmodules.util.numpy_support import numpy_to_vtk
from vtkmodules.vtkCommonCore import VTK_ID_TYPE, vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from viewer.stage.drawn import Faces, Points

COLOURS: Final = "rgb"
"""Name of the colours of the cells."""
_SHARP: Final = 30.0
"""Degrees. Faces that meet at more are shaded apart, else as one that is round."""


def surface(
    vertices: Points, faces: Faces, colours: NDArray[np.uint8], *, lit: bool
) -> Any:  # noqa: ANN401 - no types
    """Return triangles; where they are lit, with what is needed to shade them."""
    flat = _mesh(vertices, colours)
    flat.SetPolys(_cells(faces))
    if not lit:
        return flat
    shaded: Any = vtkPolyDataNormals()
    shaded.SetInputData(flat)
    shaded.SetFeatureAngle(_SHARP)
    shaded.ConsistencyOff()
    shaded.Update()
    return shaded.GetOutput()


def lines(ends: Points, colours: NDArray[np.uint8]) -> Any:  # noqa: ANN401 - no types
    """Return straight lines by their two ends, shape (k, 2, 3)."""
    points = ends.reshape(-1, 3)
    mesh = _mesh(points, colours)
    mesh.SetLines(_cells(np.arange(len(points)).reshape(-1, 2)))
    return mesh


def _mesh(vertices: Points, colours: NDArray[np.uint8]) -> Any:  # noqa: ANN401 - no types
    points: Any = vtkPoints()
    points.SetData(_array(vertices))
    mesh: Any = vtkPolyData()
    mesh.SetPoints(points)
    shown = _array(colours)
    shown.SetName(COLOURS)
    mesh.GetCellData().AddArray(shown)
    return mesh


def _cells(corners: NDArray[np.int64]) -> Any:  # noqa: ANN401 - no types
    """Return cells that have the same number of corners each."""
    cells: Any = vtkCellArray()
    corners = corners.astype(np.int64)
    offsets = np.arange(len(corners) + 1) * corners.shape[1]
    cells.SetData(_array(offsets, VTK_ID_TYPE), _array(corners.ravel(), VTK_ID_TYPE))
    return cells


def _array(numbers: NDArray[Any], kind: int | None = None) -> Any:  # noqa: ANN401 - no types
    to_graphics: Any = numpy_to_vtk
    return to_graphics(np.ascontiguousarray(numbers), deep=True, array_type=kind)
