"""Surfaces and lines as meshes of the graphics, in the colours of their cells.

They are made without pyvista: to load it takes an eighth of a still.

From one picture of a film to the next little changes, so meshes are kept. They go by
the numbers they are made from: a leaf is turned anew for each picture.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
from vtkmodules.util.numpy_support import numpy_to_vtk
from vtkmodules.vtkCommonCore import VTK_ID_TYPE, vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals

from viewer.stage import palette
from viewer.stage.bodies.surfaces import Surface, one_surface

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence

    from numpy.typing import NDArray

    from viewer.stage.drawn import Faces, Points, Shape
    from viewer.stage.kept import Kept

COLOURS: Final = "rgb"
"""Name of the colours of the cells."""
_SHARP: Final = 30.0
"""Degrees. Faces that meet at more are shaded apart, else as one that is round."""


def faces_of(
    group: Sequence[Shape], kept: Kept, name: Hashable, *, lit: bool
) -> vtkPolyData:
    """Return the faces of shapes as one mesh.

    Args:
        group: Shapes with faces.
        kept: Of the pictures before; what is as it was in them is not made again.
        name: Of the group, one of its own in a picture.
        lit: Shaded by the lamps.
    """
    whole = one_surface([Surface(one.vertices, one.faces, one.edges) for one in group])
    counts = [len(one.faces) for one in group]
    colours = np.repeat(_colours([one.colour for one in group]), counts, 0)
    return kept.again(
        ("faces", name),
        (whole.vertices.tobytes(), whole.faces.tobytes(), colours.tobytes()),
        lambda: surface(whole.vertices, whole.faces, colours, lit=lit),
    )


def edges_of(group: Sequence[Shape], kept: Kept, name: Hashable) -> vtkPolyData:
    """Return the edges of shapes as one mesh, as ``faces_of`` does their faces."""
    ends = np.concatenate([one.edges for one in group])
    counts = [len(one.edges) for one in group]
    colours = np.repeat(_colours([one.edge_colour for one in group]), counts, 0)
    return kept.again(
        ("edges", name),
        (ends.tobytes(), colours.tobytes()),
        lambda: lines(ends, colours),
    )


def _colours(colours: list[str]) -> NDArray[np.uint8]:
    return np.array([palette.channels(one) for one in colours], dtype=np.uint8)


def surface(
    vertices: Points, faces: Faces, colours: NDArray[np.uint8], *, lit: bool
) -> vtkPolyData:
    """Return triangles; where they are lit, with what is needed to shade them."""
    mesh = _mesh(vertices, colours)
    mesh.SetPolys(_cells(faces))
    if not lit:
        return mesh
    normals: Any = vtkPolyDataNormals()
    normals.SetInputData(mesh)
    normals.SplittingOn()
    normals.SetFeatureAngle(_SHARP)
    normals.ConsistencyOff()
    normals.Update()
    shaded: vtkPolyData = normals.GetOutput()
    return shaded


def lines(ends: Points, colours: NDArray[np.uint8]) -> vtkPolyData:
    """Return straight lines by their two ends, shape (k, 2, 3)."""
    points = ends.reshape(-1, 3)
    mesh = _mesh(points, colours)
    mesh.SetLines(_cells(np.arange(len(points)).reshape(-1, 2)))
    return mesh


def _mesh(points: Points, colours: NDArray[np.uint8]) -> vtkPolyData:
    """Return points and the colours of cells that are still to come."""
    mesh: Any = vtkPolyData()
    held: Any = vtkPoints()
    held.SetData(_copied(points))
    mesh.SetPoints(held)
    of_cells = _copied(colours)
    of_cells.SetName(COLOURS)
    mesh.GetCellData().AddArray(of_cells)
    return mesh  # type: ignore[no-any-return] # the graphics have no types


def _cells(corners: NDArray[np.integer]) -> Any:  # noqa: ANN401 - no types
    """Return cells by the numbers of their corners, shape (k, corners of each)."""
    count, each = corners.shape
    starts = np.arange(0, count * each + 1, each, dtype=np.int64)
    numbers = corners.ravel().astype(np.int64)
    cells: Any = vtkCellArray()
    cells.SetData(_copied(starts, VTK_ID_TYPE), _copied(numbers, VTK_ID_TYPE))
    return cells


def _copied(numbers: NDArray[np.generic], kind: int | None = None) -> Any:  # noqa: ANN401 - no types
    """Return numbers as the graphics hold them, of a kind or of their own."""
    even = np.ascontiguousarray(numbers)
    return numpy_to_vtk(even, deep=True, array_type=kind)  # type: ignore[no-untyped-call]
