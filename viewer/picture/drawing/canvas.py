"""A stage drawn off-screen.

The bodies are pyvista's. Its plotter is left out: what that loads to plot curves takes
longer than a picture.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Self

import numpy as np
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
)

from viewer.picture.drawing.bodies import COLOURS, edges_of, faces_of
from viewer.picture.drawing.graphics import require_graphics
from viewer.picture.drawing.passes import in_order, light_room
from viewer.picture.drawing.pixels import pixels
from viewer.picture.drawing.shading import (
    LIFT,
    LIGHT,
    LINE_LIFT,
    NEAR,
    SHINING,
    SOLID,
    THROUGH,
    Light,
)
from viewer.picture.drawing.shadows import Shadows, laid_over
from viewer.picture.section import opened_up
from viewer.stage import palette
from viewer.stage.bodies.hatched import hatched
from viewer.stage.kept import Kept

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable
    from types import TracebackType

    import pyvista as pv
    from PIL import Image

    from viewer.stage.drawn import Shape, View
    from viewer.stage.looking.cuts import Cut

_USUAL_HEIGHT: Final = 1000
"""Pixels. Height of the picture that widths of edges are given for."""
_FINEST: Final = 0.7
"""Lines get no finer than that in a small picture."""


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


STILL: Final = Quality(shadows=16, fine=2, plain=False)
FILM: Final = Quality(shadows=0, fine=2, plain=True)


class Studio:
    """A camera and lights; it shows one set of shapes at a time.

    Use it in a ``with`` statement: it holds memory of the graphics. With a cut it
    shows what that leaves of them.

    Raises:
        DrawingError: There is no usable OpenGL.
    """

    def __init__(
        self,
        size: tuple[int, int],
        quality: Quality = STILL,
        cut: Cut | None = None,
    ) -> None:
        require_graphics()
        self.cut = cut
        self._size = size
        self._fine = quality.fine
        self._window: Any = vtkRenderWindow()
        self._window.OffScreenRenderingOn()
        self._window.SetMultiSamples(0)
        self._window.SetSize(*(side * quality.fine for side in size))
        self._renderer: Any = vtkRenderer()
        self._renderer.SetPass(in_order(0))
        self._renderer.SetBackground(*_shares(palette.BACKGROUND))
        self._renderer.SetBackground2(*_shares(palette.BACKGROUND_TOP))
        self._renderer.SetGradientBackground(not quality.plain)
        self._renderer.DitherGradientOff()
        light_room(self._renderer)
        self._window.AddRenderer(self._renderer)
        self._shadows = Shadows(size, quality.shadows) if quality.shadows else None
        self._kept = Kept()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._window.Finalize()

    def show(self, shapes: Iterable[Shape]) -> None:
        """Show these shapes and no others, what is in the way hatched."""
        drawn = hatched(shapes, self._kept)
        self._renderer.RemoveAllViewProps()
        wide = self._fine * edge_scale(self._size[1])
        if self.cut is not None:
            drawn = opened_up(drawn, self.cut)
        bodies = add_shapes(self._renderer, drawn, wide, kept=self._kept)
        self._kept.forget()
        if self._shadows is not None:
            faces = (one for one in bodies if one.width is None and not one.shines)
            self._shadows.show([one.actor for one in faces])

    def shoot(self, view: View) -> Image.Image:
        """Return the picture a camera sees, not yet shrunk."""
        if self._shadows is None:
            return self._seen(view)
        aim(self._shadows.renderer, view, self._size)
        shadows = self._shadows.drawn(self._window)
        return laid_over(self._seen(view), shadows)

    def _seen(self, view: View) -> Image.Image:
        aim(self._renderer, view, self._size)
        self._window.Render()
        return pixels(self._window)


def edge_scale(height: int) -> float:
    """Return pixels of a picture by pixels of the shapes' edge widths."""
    return max(height / _USUAL_HEIGHT, _FINEST)


def aim(renderer: Any, view: View, size: tuple[int, int]) -> None:  # noqa: ANN401 - no types
    """Put the camera of a renderer somewhere.

    Args:
        renderer: It has its shapes already.
        view: The camera.
        size: Width and height of the picture, pixels.
    """
    width, height = size
    camera = renderer.GetActiveCamera()
    camera.SetPosition(view.eye)
    camera.SetFocalPoint(view.target)
    camera.SetViewUp(view.up)
    camera.SetViewAngle(view.angle)
    camera.SetParallelProjection(view.parallel)
    camera.SetParallelScale(view.width * height / width / 2)
    keep_precision(renderer)


def keep_precision(renderer: Any) -> None:  # noqa: ANN401 - no types
    """Set from where to where a renderer draws, as its camera stands now."""
    renderer.ResetCameraClippingRange()
    camera = renderer.GetActiveCamera()
    near, far = camera.GetClippingRange()
    nearest = NEAR * camera.GetDistance()
    camera.SetClippingRange(max(near, nearest), max(far, 1.1 * nearest))


@dataclass(frozen=True, slots=True, eq=False)
class DrawnBody:
    """Shapes that are drawn as one.

    Attributes:
        actor: What the graphics have of it.
        shapes: What it is made of, in the order of its cells.
        width: Of its lines, pixels as the shapes have it; None of a body of faces.
        shines: Its faces are drawn once more, faintly, over what hides them.
    """

    actor: Any
    shapes: tuple[Shape, ...]
    width: float | None = None
    shines: bool = False

    def shape_of(self, cell: int) -> Shape:
        """Return the shape that a triangle of a body of faces belongs to."""
        ends = np.cumsum([len(one.faces) for one in self.shapes])
        return self.shapes[int(np.searchsorted(ends, cell, side="right"))]


def add_shapes(
    renderer: Any,  # noqa: ANN401 - no types
    shapes: Iterable[Shape],
    line_scale: float = 1.0,
    apart: Callable[[Shape], Hashable] = lambda _: None,
    kept: Kept | None = None,
) -> list[DrawnBody]:
    """Add shapes to a renderer, as few bodies as their ways to be drawn allow.

    Args:
        renderer: It keeps what it has.
        shapes: What is added; hidden layers are left out by the caller.
        line_scale: Pixels of the picture by pixels of the shapes' edge widths.
        apart: Shapes for which it returns different things become different bodies.
        kept: Of the pictures before: what is as it was in them is not made again.
    """
    kept = kept or Kept()
    faces: defaultdict[tuple[Any, ...], list[Shape]] = defaultdict(list)
    edges: defaultdict[tuple[Any, ...], list[Shape]] = defaultdict(list)
    for shape in shapes:
        own = apart(shape)
        if len(shape.faces) and shape.opacity > 0:
            light = LIGHT.get(shape.role, SOLID)
            look = shape.opacity, shape.one_sided, shape.lift, light, own
            faces[look].append(shape)
        if len(shape.edges):
            line = shape.edge_width, shape.edge_opacity, shape.through, shape.lift, own
            edges[line].append(shape)
    bodies = []
    for way, group in faces.items():
        opacity, one_sided, lift, light, _ = way
        actor = _actor(faces_of(group, kept, way, lit=light.lit), opacity, lift * LIFT)
        _light(actor.GetProperty(), light, one_sided=one_sided)
        bodies.append(DrawnBody(actor, tuple(group)))
        if group[0].role == "intrusion":
            bodies.append(_shining(actor.GetMapper().GetInput(), opacity, group))
    for way, group in edges.items():
        edge_width, opacity, through, lift, _ = way
        mesh = edges_of(group, kept, way)
        near = lift * LIFT
        for units in (LINE_LIFT + near, *([THROUGH + near] if through else ())):
            actor = _actor(mesh, opacity, units)
            actor.GetProperty().SetLineWidth(edge_width * line_scale)
            actor.GetProperty().LightingOff()
            bodies.append(DrawnBody(actor, tuple(group), edge_width))
    for body in bodies:
        renderer.AddActor(body.actor)
    return bodies


def _shining(mesh: pv.PolyData, opacity: float, group: list[Shape]) -> DrawnBody:
    """Return what is in the way as it is seen where other things hide it.

    A slab inside a unit would be an outline alone, which grey print loses.
    """
    actor = _actor(mesh, SHINING * opacity, THROUGH)
    actor.GetProperty().LightingOff()
    actor.GetProperty().SetBackfaceCulling(True)  # noqa: FBT003 - of the graphics
    return DrawnBody(actor, tuple(group), shines=True)


def _shares(colour: str) -> tuple[float, ...]:
    return tuple(one / 255 for one in palette.channels(colour))


def _actor(mesh: pv.PolyData, opacity: float, units: float) -> Any:  # noqa: ANN401 - no types
    """Return a body in the colours of its cells, so much nearer by its depth."""
    mapper: Any = vtkPolyDataMapper()
    mapper.SetInputData(mesh)
    mapper.SetScalarModeToUseCellFieldData()
    mapper.SelectColorArray(COLOURS)
    mapper.SetColorModeToDirectScalars()
    # The switch itself is global to the process, so each body says its own amount.
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0, units)
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(0, units)
    actor: Any = vtkActor()
    actor.SetMapper(mapper)
    actor.PickableOff()
    actor.GetProperty().SetOpacity(opacity)
    return actor


def _light(surface: Any, light: Light, *, one_sided: bool) -> None:  # noqa: ANN401 - no types
    """Say how a surface answers to light, and whether it is seen from behind."""
    surface.SetLighting(light.lit)
    surface.SetAmbient(light.ambient)
    surface.SetDiffuse(light.diffuse)
    surface.SetSpecular(0.0)
    if light.lit:
        surface.SetInterpolationToPhong()
    surface.SetBackfaceCulling(one_sided)
