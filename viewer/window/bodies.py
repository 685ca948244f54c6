"""Bodies of the graphics: faces, lines and boards, made from arrays and pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkImageData, vtkPolyData
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkPolyDataMapper,
    vtkPolyDataMapper2D,
    vtkTexture,
    vtkTexturedActor2D,
)

from viewer.stage.shading import LIFT, LIGHT, SOLID

if TYPE_CHECKING:
    from viewer.window.batches import FaceBatch, LineBatch
    from viewer.window.ink import Board

_MOST_SMOOTH: Final = 150_000
"""Triangles; more of them take too long to be made smooth."""


def name_of(actor: Any) -> str:  # noqa: ANN401 - has no types
    """Return what tells a body from all others."""
    return str(actor.GetAddressAsString(""))


def face_body(batch: FaceBatch) -> Any:  # noqa: ANN401 - has no types
    """Return a body of faces."""
    light = LIGHT.get(batch.role, SOLID)
    corners = np.full((len(batch.faces), 1), 3)
    mesh = pv.PolyData(batch.vertices, np.hstack([corners, batch.faces]).ravel())
    # Each shape has points of its own; colours are found faster there than by faces.
    colours = np.empty((len(batch.vertices), 3), dtype=np.uint8)
    colours[batch.faces] = batch.rgb[:, None]
    mesh.point_data["rgb"] = colours
    smooth = light.lit and len(batch.faces) <= _MOST_SMOOTH
    if smooth:
        mesh = mesh.compute_normals(
            split_vertices=True, feature_angle=30.0, consistent_normals=False
        )
    actor = _actor(mesh, batch.opacity, batch.lift * LIFT)
    look = actor.GetProperty()
    look.SetAmbient(light.ambient)
    look.SetDiffuse(light.diffuse)
    look.SetSpecular(0.0)
    look.SetLighting(light.lit)
    if not smooth:
        look.SetInterpolationToFlat()
    look.SetBackfaceCulling(batch.one_sided)
    return actor


def line_body(batch: LineBatch, units: float) -> Any:  # noqa: ANN401 - has no types
    """Return a body of lines, brought forward by some units of depth."""
    points = batch.ends.reshape(-1, 3)
    ends = np.arange(len(points)).reshape(-1, 2)
    cells = np.column_stack([np.full(len(ends), 2), ends])
    mesh = pv.PolyData(points, lines=cells.ravel())
    mesh.point_data["rgb"] = np.repeat(batch.rgb, 2, axis=0)
    actor = _actor(mesh, batch.opacity, units)
    actor.GetProperty().LightingOff()
    return actor


def _actor(mesh: pv.PolyData, opacity: float, units: float) -> Any:  # noqa: ANN401
    mapper: Any = vtkPolyDataMapper()
    mapper.SetInputData(mesh)
    mapper.SetScalarModeToUsePointFieldData()
    mapper.SelectColorArray("rgb")
    mapper.SetColorModeToDirectScalars()
    # The switch itself is global to the process, so each body says its own amount.
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0, units)
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(0, units)
    actor: Any = vtkActor()
    actor.SetMapper(mapper)
    actor.GetProperty().SetOpacity(opacity)
    return actor


def board_body(board: Board, height: int) -> Any:  # noqa: ANN401 - has no types
    """Return a picture as a body of the screen; ``height`` is of the window."""
    pixels = np.ascontiguousarray(np.asarray(board.image.convert("RGBA"))[::-1])
    tall, wide, _ = pixels.shape
    image: Any = vtkImageData()
    image.SetDimensions(wide, tall, 1)
    image.GetPointData().SetScalars(_array(pixels.reshape(-1, 4)))
    texture: Any = vtkTexture()
    texture.SetInputData(image)
    texture.InterpolateOff()
    left = round(board.box.left)
    bottom = height - round(board.box.top) - tall
    points: Any = vtkPoints()
    corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    for u, v in corners:
        points.InsertNextPoint(left + u * wide, bottom + v * tall, 0.0)
    cells: Any = vtkCellArray()
    cells.InsertNextCell(4, [0, 1, 2, 3])
    quad: Any = vtkPolyData()
    quad.SetPoints(points)
    quad.SetPolys(cells)
    quad.GetPointData().SetTCoords(_array(np.array(corners, dtype=np.float32)))
    mapper: Any = vtkPolyDataMapper2D()
    mapper.SetInputData(quad)
    actor: Any = vtkTexturedActor2D()
    actor.SetMapper(mapper)
    actor.SetTexture(texture)
    return actor


def _array(numbers: np.ndarray) -> Any:  # noqa: ANN401 - has no types
    return pv.convert_array(numbers, deep=True)
