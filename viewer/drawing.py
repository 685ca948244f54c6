"""A stage drawn off-screen: the one module of the pictures that talks to pyvista.

The order of the render passes matters: solids with the soft shadows of corners first,
then all that is translucent without regard to its order, then lines that shine through.
Other orders lose translucent faces without a word.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final, Self

import numpy as np

from viewer import palette
from viewer.stage.blocks import Surface, joined

if TYPE_CHECKING:
    from collections.abc import Iterable
    from types import TracebackType

    import pyvista as pv
    from numpy.typing import NDArray

    from viewer.stage.parts import Shape, View

    Picture = NDArray[np.uint8]

_OFFSCREEN: Final = "vtkEGLRenderWindow"
_WINDOW_KEY: Final = "VTK_DEFAULT_OPENGL_WINDOW"
_PATIENCE: Final = 120
"""Seconds a trial of the graphics may take, on a machine that is busy."""
_THROUGH: Final = -66_000
"""Depth units that bring a line in front of everything."""
_LIFT: Final = -4
"""Depth units a step of lift is worth."""
_LINE_LIFT: Final = -6
"""Depth units that keep an edge in front of the faces it belongs to."""
_TRIAL: Final = """
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow
window = vtkRenderWindow()
window.SetOffScreenRendering(1)
window.SetSize(8, 8)
window.AddRenderer(vtkRenderer())
window.Render()
raise SystemExit(0 if window.SupportsOpenGL() else 3)
"""


class DrawingError(Exception):
    """This machine cannot draw; the message says why, in a line."""


@dataclass(frozen=True, slots=True)
class Quality:
    """How much time a picture may take.

    Attributes:
        shadows: Samples of the soft shadows in corners; 0 leaves them out.
        smooth: Draw at four times the size and shrink it.
    """

    shadows: int
    smooth: bool


STILL: Final = Quality(128, smooth=True)
FILM: Final = Quality(0, smooth=True)


class Studio:
    """A camera and lights; it shows one set of shapes at a time.

    Use it in a ``with`` statement: it holds memory of the graphics.

    Raises:
        DrawingError: There is no usable OpenGL.
    """

    def __init__(self, size: tuple[int, int], quality: Quality = STILL) -> None:
        require_graphics()
        import pyvista as pv  # noqa: PLC0415 - takes half a second

        self._size = size
        self._plotter = pv.Plotter(off_screen=True, window_size=size, lighting="none")
        self._plotter.disable_anti_aliasing()
        self._plotter.set_background(palette.BACKGROUND, top=palette.BACKGROUND_TOP)
        _light(self._plotter)
        _passes(self._plotter.renderer, quality)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._plotter.close()

    def show(self, shapes: Iterable[Shape]) -> None:
        """Show these shapes and no others."""
        self._plotter.clear_actors()
        add_shapes(self._plotter, shapes)

    def shoot(self, view: View) -> Picture:
        """Return the picture a camera sees, shape (height, width, 3)."""
        width, height = self._size
        camera = self._plotter.camera
        camera.position, camera.focal_point, camera.up = view.eye, view.target, view.up
        camera.view_angle = view.angle
        camera.parallel_projection = view.parallel
        camera.parallel_scale = view.width * height / width / 2
        self._plotter.reset_camera_clipping_range()
        self._plotter.render()
        taken = self._plotter.screenshot(return_img=True)
        return np.asarray(taken, dtype=np.uint8)


def add_shapes(plotter: pv.Plotter, shapes: Iterable[Shape]) -> None:
    """Add shapes to a plotter, as few bodies as their ways to be drawn allow."""
    faces: defaultdict[tuple[float, bool, int, bool], list[Shape]] = defaultdict(list)
    edges: defaultdict[tuple[float, float, bool, int], list[Shape]] = defaultdict(list)
    for shape in shapes:
        lit = shape.role not in {"space", "footprint", "cut"}
        if len(shape.faces) and shape.opacity > 0:
            faces[shape.opacity, shape.one_sided, shape.lift, lit].append(shape)
        if len(shape.edges):
            key = shape.edge_width, shape.edge_opacity, shape.through, shape.lift
            edges[key].append(shape)
    for (opacity, one_sided, lift, lit), group in faces.items():
        _add_faces(plotter, group, opacity, lift, one_sided=one_sided, lit=lit)
    for (width, opacity, through, lift), group in edges.items():
        _add_edges(plotter, group, width, opacity, _LINE_LIFT + lift * _LIFT)
        if through:
            _add_edges(plotter, group, width, opacity, _THROUGH)


@cache
def require_graphics() -> None:
    """Make sure that this machine can draw, by drawing a little in another process.

    Without a usable OpenGL the drawing library ends the process at once, so it must
    not be tried in this one.

    Raises:
        DrawingError: It cannot.
    """
    if sys.platform.startswith("linux"):
        os.environ.setdefault(_WINDOW_KEY, _OFFSCREEN)
    try:
        done = subprocess.run(  # noqa: S603 - the interpreter that runs this
            [sys.executable, "-c", _TRIAL],
            capture_output=True,
            timeout=_PATIENCE,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        msg = f"pictures cannot be drawn here: the trial did not end ({error})"
        raise DrawingError(msg) from error
    if done.returncode:
        msg = (
            "pictures cannot be drawn here: no usable OpenGL; on Debian or Ubuntu "
            "install libegl1 and libgl1-mesa-dri"
        )
        raise DrawingError(msg)


def _light(plotter: pv.Plotter) -> None:
    import pyvista as pv  # noqa: PLC0415

    for place, strength in (((-3.0, -5.0, 9.0), 0.62), ((6.0, -2.0, 3.0), 0.26)):
        light = pv.Light(position=place, light_type="scene light", intensity=strength)
        light.positional = False
        plotter.add_light(light)
    plotter.add_light(pv.Light(light_type="headlight", intensity=0.16))


def _passes(renderer: Any, quality: Quality) -> None:  # noqa: ANN401 - wrapped by pyvista
    from vtkmodules.vtkRenderingOpenGL2 import (  # noqa: PLC0415
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

    opaque: Any = vtkRenderStepsPass()
    opaque.SetTranslucentPass(None)
    opaque.SetOverlayPass(None)
    if quality.shadows:
        shaded = vtkSSAOPass()
        shaded.SetRadius(0.45)
        shaded.SetBias(0.008)
        shaded.SetKernelSize(quality.shadows)
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
    whole: Any = vtkCameraPass()
    whole.SetDelegatePass(sequence)
    if quality.smooth:
        smooth = vtkSSAAPass()
        smooth.SetDelegatePass(whole)
        whole = smooth
    renderer.SetPass(whole)


def _add_faces(
    plotter: pv.Plotter,
    group: list[Shape],
    opacity: float,
    lift: int,
    *,
    one_sided: bool,
    lit: bool,
) -> None:
    import pyvista as pv  # noqa: PLC0415

    whole = joined([Surface(one.vertices, one.faces, one.edges) for one in group])
    counts = [len(one.faces) for one in group]
    corners = np.full((len(whole.faces), 1), 3)
    mesh = pv.PolyData(whole.vertices, np.hstack([corners, whole.faces]).ravel())
    mesh.cell_data["rgb"] = np.repeat(_colours([s.colour for s in group]), counts, 0)
    if lit:
        mesh = mesh.compute_normals(
            split_vertices=True, feature_angle=30.0, consistent_normals=False
        )
    actor = plotter.add_mesh(
        mesh,
        scalars="rgb",
        rgb=True,
        opacity=opacity,
        lighting=lit,
        ambient=0.38,
        diffuse=0.75,
        specular=0.0,
        smooth_shading=lit,
        culling="back" if one_sided else False,
        pickable=False,
        reset_camera=False,
        show_scalar_bar=False,
    )
    _offset(actor, lift * _LIFT)


def _add_edges(
    plotter: pv.Plotter, group: list[Shape], width: float, opacity: float, units: float
) -> None:
    import pyvista as pv  # noqa: PLC0415

    points = np.concatenate([one.edges.reshape(-1, 3) for one in group])
    counts = [len(one.edges) for one in group]
    ends = np.arange(len(points)).reshape(-1, 2)
    cells = np.column_stack([np.full(len(ends), 2), ends])
    mesh = pv.PolyData(points, lines=cells.ravel())
    mesh.cell_data["rgb"] = np.repeat(
        _colours([s.edge_colour for s in group]), counts, 0
    )
    actor = plotter.add_mesh(
        mesh,
        scalars="rgb",
        rgb=True,
        opacity=opacity,
        line_width=width,
        lighting=False,
        pickable=False,
        reset_camera=False,
        show_scalar_bar=False,
    )
    _offset(actor, units)


def _colours(colours: list[str]) -> Picture:
    return np.array([palette.channels(one) for one in colours], dtype=np.uint8)


def _offset(actor: Any, units: float) -> None:  # noqa: ANN401 - an actor of any kind
    # The switch itself is global to the process, so each body says its own amount.
    mapper = actor.mapper
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0, units)
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(0, units)
