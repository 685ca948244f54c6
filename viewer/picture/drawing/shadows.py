"""Soft shadows in corners, drawn by themselves and laid over a picture.

They are soft, so half the size of the finished picture is enough: drawn in the larger
one, to be shrunk, they take longer than all the rest of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PIL import Image, ImageChops, ImageFilter
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
)

from viewer.picture.drawing.passes import in_order
from viewer.picture.drawing.pixels import pixels

if TYPE_CHECKING:
    from collections.abc import Iterable

_ALONE = 1
"""Pixels about one that its shadow is mixed with: samples so few leave a grain."""
_WITHOUT_GRAIN = [min(shade + 8, 255) for shade in range(256)]
"""What is as faint as the grain is none, on walls that are seen along them too."""


class Shadows:
    """What is solid in white, darker where light comes to it from few sides.

    Attributes:
        renderer: Its camera is to be where that of the picture is.
    """

    def __init__(self, size: tuple[int, int], samples: int) -> None:
        """Take the size of the finished picture, and samples at each pixel."""
        self._window: Any = vtkRenderWindow()
        self._window.OffScreenRenderingOn()
        self._window.SetMultiSamples(0)
        self._window.SetSize(*((side + 1) // 2 for side in size))
        self.renderer: Any = vtkRenderer()
        self.renderer.SetPass(in_order(samples))
        self.renderer.SetBackground(1.0, 1.0, 1.0)
        self._window.AddRenderer(self.renderer)

    def close(self) -> None:
        """Give the memory of the graphics back."""
        self._window.Finalize()

    def show(self, actors: Iterable[Any]) -> None:
        """Show these bodies of faces, those of them that are opaque, and no others."""
        self.renderer.RemoveAllViewProps()
        for actor in actors:
            surface = actor.GetProperty()
            if surface.GetOpacity() < 1.0:
                continue
            mapper: Any = vtkPolyDataMapper()
            mapper.SetInputData(actor.GetMapper().GetInput())
            mapper.ScalarVisibilityOff()
            white: Any = vtkActor()
            white.SetMapper(mapper)
            look = white.GetProperty()
            look.SetBackfaceCulling(surface.GetBackfaceCulling())
            look.SetLighting(surface.GetLighting())
            look.SetAmbient(1.0)
            look.SetDiffuse(0.0)
            look.SetSpecular(0.0)
            self.renderer.AddActor(white)

    def laid_over(self, picture: Image.Image) -> Image.Image:
        """Return a picture with the shadows on it."""
        self._window.Render()
        drawn = pixels(self._window).getchannel(0)
        soft = drawn.filter(ImageFilter.BoxBlur(_ALONE)).point(_WITHOUT_GRAIN)
        wide = soft.resize(picture.size, Image.Resampling.BILINEAR)
        return ImageChops.multiply(picture, Image.merge("RGB", [wide] * 3))
