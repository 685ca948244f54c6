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
        self._size = tuple((side + 1) // 2 for side in size)
        self.renderer: Any = vtkRenderer()
        self.renderer.SetPass(in_order(samples))
        self.renderer.SetBackground(1.0, 1.0, 1.0)

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

    def drawn(self, window: Any) -> Image.Image:  # noqa: ANN401 - no types
        """Draw the shadows alone in a window that shows nothing else for so long."""
        size = window.GetSize()[:]
        others = list(window.GetRenderers())
        for one in others:
            window.RemoveRenderer(one)
        window.AddRenderer(self.renderer)
        window.SetSize(*self._size)
        window.Render()
        drawn = pixels(window).getchannel(0)
        window.RemoveRenderer(self.renderer)
        for one in others:
            window.AddRenderer(one)
        window.SetSize(*size)
        return drawn


def laid_over(picture: Image.Image, shadows: Image.Image) -> Image.Image:
    """Return a picture with shadows on it."""
    soft = shadows.filter(ImageFilter.BoxBlur(_ALONE)).point(_WITHOUT_GRAIN)
    wide = soft.resize(picture.size, Image.Resampling.BILINEAR)
    return ImageChops.multiply(picture, Image.merge("RGB", [wide] * 3))
