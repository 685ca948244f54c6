"""A stage drawn off-screen: the one module of the pictures that talks to pyvista.

The order of the render passes matters: solids with the soft shadows of corners first,
then all that is translucent without regard to its order, then lines that shine through.
Other orders lose translucent faces without a word.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Self

import numpy as np
import pyvista as pv  # noqa: TID251 - this is the module that may
from vtkmodules.vtkRenderingOpenGL2 import (
    vtkCameraPass,
    vtkOrderIndependentTranslucentPass,
    vtkOverlayPass,
    vtkRenderPassCollection,
    vtkRenderStepsPass,
    vtkSequencePass,
    vtkSSAOPass,
    vtkTranslucentPass,
)

from viewer import palette
from viewer.graphics import require_graphics
from viewer.stage.blocks import Surface, joined

if TYPE_CHECKING:
    from collections.abc import Iterable
    from types import TracebackType

    from numpy.typing import NDArray

    from viewer.stage.parts import Shape, View

    Picture = NDArray[np.uint8]

_USUAL_HEIGHT: Final = 1000
"""Pixels. Height of the picture that widths of edges are given for."""
_FINEST: Final = 0.7
"""Lines get no finer than that in a small picture."""
_NEAR: Final = 0.3
"""Share of the distance to the target within which nothing is drawn."""
_THROUGH: Final = -66_000
"""Depth units that bring a line in front of everything."""
_LIFT: Final = -4
"""Depth units a step of lift is worth."""
_LINE_LIFT: Final = -6
"""Depth units that keep an edge in front of the faces it belongs to."""


@dataclass(frozen=True, slots=True)
class _Light:
    """How a surface answers to light: from all around, and from the lamps."""

    ambient: float
    diffuse: float
    lit: bool = True


_SOLID: Final = _Light(0.62, 0.56)
_FLAT: Final = _Light(1.0, 0.0, lit=False)
_LIGHT: Final = {
    "surface": _Light(0.9, 0.14),
    "intrusion": _Light(0.8, 0.3),
    "space": _FLAT,
    "footprint": _FLAT,
    "cut": _FLAT,
}
"""By role; walls answer little, so that they stay light and calm."""


@dataclass(frozen=True, slots=True)
class Quality:
    """How much time a picture may take.

    Attributes:
        shadows: Samples of the soft shadows in corners; 0 leaves them out.
        fine: How many times larger than the finished picture it is drawn; to be
            shrunk, which makes edges smooth.
        plain: One colour behind the room, which the palette of a film can show.
    """

    shadows: int
    fine: int
    plain: bool


STILL: Final = Quality(shadows=32, fine=2, plain=False)
FILM: Final = Quality(shadows=0, fine=2, plain=True)


class Studio:
    """A camera and lights; it shows one set of shapes at a time.

    Use it in a ``with`` statement: it holds memory of the graphics.

    Raises:
        DrawingError: There is no usable OpenGL.
    """

    def __init__(self, size: tuple[int, int], quality: Quality = STILL) -> None:
        require_graphics()
        self._size = size
        self._fine = quality.fine
        window = [side * quality.fine for side in size]
        plotter = pv.Plotter(off_screen=True, window_size=window, lighting="none")
        self._plotter: Any = plotter
        plotter.disable_anti_aliasing()
        above = palette.BACKGROUND if quality.plain else palette.BACKGROUND_TOP
        plotter.renderer.set_background(palette.BACKGROUND, top=above)
        _light(plotter)
        _passes(plotter.renderer, quality)

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
        # Each change would else draw a picture of its own.
        self._plotter.suppress_rendering = True
        self._plotter.clear_actors()
        lines = self._fine * max(self._size[1] / _USUAL_HEIGHT, _FINEST)
        add_shapes(self._plotter, shapes, lines)

    def shoot(self, view: View) -> Picture:
        """Return the picture a camera sees, not yet shrunk, shape (h, w, 3)."""
        width, height = self._size
        camera = self._plotter.camera
        camera.position, camera.focal_point, camera.up = view.eye, view.target, view.up
        camera.view_angle = view.angle
        camera.parallel_projection = view.parallel
        camera.parallel_scale = view.width * height / width / 2
        self._plotter.reset_camera_clipping_range()
        # Ground that runs out of the picture towards the viewer would else take all
        # precision of depth, and hidden edges would show.
        near, far = camera.clipping_range
        away = float(np.linalg.norm(np.subtract(view.eye, view.target)))
        camera.clipping_range = max(near, _NEAR * away), far
        self._plotter.suppress_rendering = False
        self._plotter.render()
        taken = self._plotter.screenshot(return_img=True)
        return np.asarray(taken, dtype=np.uint8)


def add_shapes(
    plotter: pv.Plotter, shapes: Iterable[Shape], line_scale: float = 1.0
) -> None:
    """Add shapes to a plotter, as few bodies as their ways to be drawn allow.

    Args:
        plotter: It keeps what it has.
        shapes: What is added; hidden layers are left out by the caller.
        line_scale: Pixels of the plotter by pixels of the shapes' edge widths.
    """
    faces: defaultdict[tuple[float, bool, int, _Light], list[Shape]] = defaultdict(list)
    edges: defaultdict[tuple[float, float, bool, int], list[Shape]] = defaultdict(list)
    for shape in shapes:
        if len(shape.faces) and shape.opacity > 0:
            light = _LIGHT.get(shape.role, _SOLID)
            key = shape.opacity, shape.one_sided, shape.lift, light
            faces[key].append(shape)
        if len(shape.edges):
            line = shape.edge_width, shape.edge_opacity, shape.through, shape.lift
            edges[line].append(shape)
    for (opacity, one_sided, lift, light), group in faces.items():
        _add_faces(plotter, group, opacity, lift, light, one_sided=one_sided)
    for (edge_width, opacity, through, lift), group in edges.items():
        width = edge_width * line_scale
        _add_edges(plotter, group, width, opacity, _LINE_LIFT + lift * _LIFT)
        if through:
            _add_edges(plotter, group, width, opacity, _THROUGH)


def _light(plotter: pv.Plotter) -> None:
    # Lights that move with the camera: every view of a room is lit alike.
    for place, strength in (((-0.7, 1.6, 1.1), 0.62), ((1.4, 0.2, 1.4), 0.3)):
        light = pv.Light(position=place, light_type="camera light", intensity=strength)
        light.positional = False
        plotter.add_light(light)
    plotter.add_light(pv.Light(light_type="headlight", intensity=0.16))


def _passes(renderer: Any, quality: Quality) -> None:  # noqa: ANN401 - wrapped by pyvista

    opaque: Any = vtkRenderStepsPass()
    opaque.SetTranslucentPass(None)
    opaque.SetOverlayPass(None)
    if quality.shadows:
        shaded = vtkSSAOPass()
        shaded.SetRadius(0.4)
        shaded.SetIntensityScale(0.75)
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
    whole = vtkCameraPass()
    whole.SetDelegatePass(sequence)
    renderer.SetPass(whole)


def _add_faces(
    plotter: pv.Plotter,
    group: list[Shape],
    opacity: float,
    lift: int,
    light: _Light,
    *,
    one_sided: bool,
) -> None:
    whole = joined([Surface(one.vertices, one.faces, one.edges) for one in group])
    counts = [len(one.faces) for one in group]
    corners = np.full((len(whole.faces), 1), 3)
    mesh = pv.PolyData(whole.vertices, np.hstack([corners, whole.faces]).ravel())
    mesh.cell_data["rgb"] = np.repeat(_colours([s.colour for s in group]), counts, 0)
    if light.lit:
        mesh = mesh.compute_normals(
            split_vertices=True, feature_angle=30.0, consistent_normals=False
        )
    actor = plotter.add_mesh(
        mesh,
        scalars="rgb",
        rgb=True,
        opacity=opacity,
        lighting=light.lit,
        ambient=light.ambient,
        diffuse=light.diffuse,
        specular=0.0,
        smooth_shading=light.lit,
        culling="back" if one_sided else False,
        pickable=False,
        reset_camera=False,
        show_scalar_bar=False,
    )
    _offset(actor, lift * _LIFT)


def _add_edges(
    plotter: pv.Plotter, group: list[Shape], width: float, opacity: float, units: float
) -> None:
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
