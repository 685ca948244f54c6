"""What was drawn, as pixels."""

from __future__ import annotations

from typing import Any

from PIL import Image
from vtkmodules.vtkCommonCore import vtkUnsignedCharArray


def pixels(window: Any) -> Image.Image:  # noqa: ANN401 - no types
    """Return what a window shows: red, green and blue."""
    width, height = window.GetSize()
    taken: Any = vtkUnsignedCharArray()
    window.GetPixelData(0, 0, width - 1, height - 1, 0, taken, 0)
    # The first row of the graphics is the lowest.
    return Image.frombuffer("RGB", (width, height), taken, "raw", "RGB", 0, -1)
