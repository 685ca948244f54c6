"""Lamps, and the order in which a picture is put together.

The order matters: solids with the soft shadows of corners first, then all that is
translucent without regard to its order, then lines that shine through. Other orders
lose translucent faces without a word.
"""

from __future__ import annotations

from typing import Any

from vtkmodules.vtkRenderingCore import vtkLight
from vtkmodules.vtkRenderingOpenGL2 import (
    vtkCameraPass,
    vtkOrderIndependentTranslucentPass,
    vtkOverlayPass,
    vtkRenderPassCollection,
    vtkRenderStepsPass,
    vtkSequencePass,
    vtkSSAAPass,
    vtkSSAOPass,
    vtkTranslucentPass,
)

from viewer.picture.drawing.shading import HEADLIGHT, LAMPS


def light_room(renderer: Any) -> None:  # noqa: ANN401 - no types
    """Hang the lamps."""
    for place, strength in LAMPS:
        lamp: Any = vtkLight()
        lamp.SetLightTypeToCameraLight()
        lamp.SetPosition(place)
        lamp.SetIntensity(strength)
        renderer.AddLight(lamp)
    ahead: Any = vtkLight()
    ahead.SetLightTypeToHeadlight()
    ahead.SetIntensity(HEADLIGHT)
    renderer.AddLight(ahead)


def in_order(shadows: int, *, smooth: bool = False) -> Any:  # noqa: ANN401 - no types
    """Return the passes of a renderer.

    Args:
        shadows: Samples of the soft shadows in corners; 0 leaves them out.
        smooth: Draw twice as large and shrink; lines come out half as wide.
    """
    opaque: Any = vtkRenderStepsPass()
    opaque.SetTranslucentPass(None)
    opaque.SetOverlayPass(None)
    if shadows:
        shaded = vtkSSAOPass()
        shaded.SetRadius(0.4)
        shaded.SetIntensityScale(0.75)
        shaded.SetBias(0.016)
        shaded.SetKernelSize(shadows)
        shaded.BlurOn()
        shaded.SetDelegatePass(opaque)
        opaque = shaded
    glass = vtkOrderIndependentTranslucentPass()
    glass.SetTranslucentPass(vtkTranslucentPass())
    passes = vtkRenderPassCollection()
    for one in (opaque, glass, vtkOverlayPass()):
        passes.AddItem(one)
    sequence = vtkSequencePass()
    sequence.SetPasses(passes)
    whole = vtkCameraPass()
    whole.SetDelegatePass(sequence)
    if not smooth:
        return whole
    smoothed = vtkSSAAPass()
    smoothed.SetDelegatePass(whole)
    return smoothed
