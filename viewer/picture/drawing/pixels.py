"""What was drawn, as pixels; and what is put behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkRenderingCore import vtkWindowToImageFilter

from viewer.stage import palette

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Picture = NDArray[np.uint8]

_OPAQUE: Final = 255


def pixels(window: Any, *, clear: bool = False) -> Picture:  # noqa: ANN401 - no types
    """Return what a window shows: red, green and blue, and where clear how opaque."""
    taken: Any = vtkWindowToImageFilter()
    taken.SetInput(window)
    taken.ReadFrontBufferOff()
    taken.ShouldRerenderOff()
    if clear:
        taken.SetInputBufferTypeToRGBA()
    taken.Update()
    image = taken.GetOutput()
    width, height, _ = image.GetDimensions()
    told: Any = vtk_to_numpy
    colours: Picture = told(image.GetPointData().GetScalars())
    return np.flipud(colours.reshape(height, width, -1)).copy()


def graded(picture: Picture) -> Picture:
    """Return a picture before a background that goes from one colour over to another.

    A background that the graphics grade themselves makes every soft shadow another one
    each time: what the shadows are worked out from is then nowhere written behind the
    room.

    Args:
        picture: On nothing: its colours are as strong as it is opaque, shape
            (h, w, 4).

    >>> graded(np.zeros((2, 1, 4), np.uint8))[:, 0].tolist()
    [[234, 239, 244], [243, 246, 248]]
    >>> graded(np.full((1, 1, 4), 255, np.uint8))[0, 0].tolist()
    [255, 255, 255]
    """
    rows = len(picture)
    share = 1 - (np.arange(rows) + 0.5) / rows
    low, high = (
        np.array(palette.channels(one))
        for one in (palette.BACKGROUND, palette.BACKGROUND_TOP)
    )
    behind = np.rint(low + (high - low) * share[:, None]).astype(np.uint8)
    whole = np.where(picture[..., 3:], picture[..., :3], behind[:, None])
    # Few pixels are neither the room alone nor what is behind it alone.
    mixed = np.nonzero((picture[..., 3] > 0) & (picture[..., 3] < _OPAQUE))
    # The greatest number in between is 255 times 255: two bytes hold it.
    rest = np.uint16(_OPAQUE) - picture[mixed][:, 3:]
    shining = (rest * behind[mixed[0]] + np.uint16(127)) // np.uint16(_OPAQUE)
    whole[mixed] = np.minimum(shining + picture[mixed][:, :3], np.uint16(_OPAQUE))
    return whole
