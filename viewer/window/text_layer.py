"""What lies over and beside the room: text, and the picture of its signs."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkRenderingCore import vtkPolyDataMapper2D, vtkTexturedActor2D

from viewer.sheet.letters import font_file

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from viewer.window.texts import Words


class TextLayer:
    """Writes on a renderer that fills the whole window."""

    def __init__(self, renderer: pv.Renderer) -> None:
        """Write on nothing yet."""
        self._renderer = renderer
        self._texts: dict[Words, pv.Text] = {}
        self._signs: Any = None

    def write(self, words: Iterable[Words], height: int) -> None:
        """Write these lines and no others.

        Args:
            words: Places are pixels from the top.
            height: Of the window, pixels.
        """
        wanted = dict.fromkeys(words)
        for one in self._texts.keys() - wanted.keys():
            self._renderer.RemoveViewProp(self._texts.pop(one))
        for one in wanted:
            text = self._texts.get(one)
            if text is None:
                text = self._texts[one] = pv.Text(one.text)
                text.prop = _letters(one.size, one.colour, bold=one.bold)
                self._renderer.AddViewProp(text)
            text.position = one.at[0], height - one.at[1]

    def put_signs(self, pixels: NDArray[np.uint8], left: float, bottom: float) -> None:
        """Show a picture over the room, its lower left corner at a pixel."""
        tall, wide, _ = pixels.shape
        corners = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], dtype=np.float32)
        points, cells, quad = vtkPoints(), vtkCellArray(), vtkPolyData()
        for u, v in corners.tolist():
            points.InsertNextPoint(left + u * wide, bottom + v * tall, 0.0)
        cells.InsertNextCell(4, [0, 1, 2, 3])
        quad.SetPoints(points)
        quad.SetPolys(cells)
        quad.GetPointData().SetTCoords(pv.convert_array(corners, deep=True))
        mapper, actor = vtkPolyDataMapper2D(), vtkTexturedActor2D()
        mapper.SetInputData(quad)
        actor.SetMapper(mapper)
        texture: Any = pv.Texture(pixels)  # type: ignore[no-untyped-call]
        texture.InterpolateOff()
        actor.SetTexture(texture)
        if self._signs is not None:
            self._renderer.RemoveViewProp(self._signs)
        self._signs = actor
        self._renderer.AddViewProp(actor)


@cache
def _letters(size: float, colour: str, *, bold: bool) -> pv.TextProperty:
    found = pv.TextProperty(
        color=colour,
        font_size=round(size),
        justification_horizontal="left",
        justification_vertical="center",
    )
    file = font_file(bold=bold)
    if file is not None:
        found.set_font_file(str(file))
    return found
