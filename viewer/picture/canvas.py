"""A stage drawn off-screen: the module of the pictures that talks to pyvista."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Self

import numpy as np
import pyvista as pv
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkRenderingCore import vtkWindowToImageFilter

from viewer.picture.graphics import require_graphics
from viewer.picture.passes import in_order, light_room
from viewer.picture.section import opened_up
from viewer.stage import palette
from viewer.stage.bodies.hatched import hatched
from viewer.stage.bodies.surfaces import Surface, one_surface
from viewer.stage.shading import LIFT, LIGHT, LINE_LIFT, NEAR, SOLID, THROUGH, Light

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable
    from types import TracebackType

    from numpy.typing import NDArray

    from viewer.picture.section import Cut
    from viewer.stage.parts import Shape, View

    Picture = NDArray[np.uint8]

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
        window = [side * quality.fine for side in size]
        plotter = pv.Plotter(off_screen=True, window_size=window, lighting="none")
        self._plotter: Any = plotter
        plotter.disable_anti_aliasing()
        self._plain = quality.plain
        drawn_in: Any = plotter.render_window
        drawn_in.SetAlphaBitPlanes(not quality.plain)
        light_room(plotter)
        plotter.renderer.SetPass(in_order(quality.shadows))

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
        """Show these shapes and no others, what is in the way hatched."""
        drawn = hatched(shapes)
        # Each change would else draw a picture of its own.
        self._plotter.suppress_rendering = True
        self._plotter.clear_actors()
        lines = self._fine * edge_scale(self._size[1])
        if self.cut is not None:
            drawn = opened_up(drawn, self.cut)
        add_shapes(self._plotter, drawn, lines)

    def shoot(self, view: View) -> Picture:
        """Return the picture a camera sees, not yet shrunk, shape (h, w, 3)."""
        renderer = self._plotter.renderer
        aim(renderer, view, self._size)
        self._plotter.suppress_rendering = False
        renderer.set_background(palette.BACKGROUND if self._plain else "#000000")
        renderer.SetBackgroundAlpha(float(self._plain))
        self._plotter.render_window.Render()
        taken = pixels(self._plotter.render_window, clear=not self._plain)
        return taken if self._plain else graded(taken)


def pixels(window: Any, *, clear: bool) -> Picture:  # noqa: ANN401 - no types
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
    behind = np.rint(low + (high - low) * share[:, None]).astype(np.uint16)
    # The greatest number in between is 255 times 255: two bytes hold it.
    rest = np.uint16(255) - picture[..., 3:]
    shining = (rest * behind[:, None] + np.uint16(127)) // np.uint16(255)
    whole = np.minimum(shining + picture[..., :3], np.uint16(255))
    return np.asarray(whole, dtype=np.uint8)


def edge_scale(height: int) -> float:
    """Return pixels of a picture by pixels of the shapes' edge widths."""
    return max(height / _USUAL_HEIGHT, _FINEST)


def aim(renderer: pv.Renderer, view: View, size: tuple[int, int]) -> None:
    """Put the camera of a renderer somewhere.

    Args:
        renderer: It has its shapes already.
        view: The camera.
        size: Width and height of the picture, pixels.
    """
    width, height = size
    camera = renderer.camera
    camera.position, camera.focal_point, camera.up = view.eye, view.target, view.up
    camera.view_angle = view.angle
    camera.parallel_projection = view.parallel
    camera.parallel_scale = view.width * height / width / 2
    keep_precision(renderer)


def keep_precision(renderer: pv.Renderer) -> None:
    """Set from where to where a renderer draws, as its camera stands now."""
    renderer.reset_camera_clipping_range()
    camera = renderer.camera
    near, far = camera.clipping_range
    away = float(np.linalg.norm(np.subtract(camera.position, camera.focal_point)))
    nearest = NEAR * away
    camera.clipping_range = max(near, nearest), max(far, 1.1 * nearest)


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Shapes that are drawn as one.

    Attributes:
        actor: What the graphics have of it.
        shapes: What it is made of, in the order of its cells.
        width: Of its lines, pixels as the shapes have it; None of a body of faces.
    """

    actor: Any
    shapes: tuple[Shape, ...]
    width: float | None = None

    def shape_of(self, cell: int) -> Shape:
        """Return the shape that a triangle of a body of faces belongs to."""
        ends = np.cumsum([len(one.faces) for one in self.shapes])
        return self.shapes[int(np.searchsorted(ends, cell, side="right"))]


def add_shapes(
    plotter: pv.Plotter,
    shapes: Iterable[Shape],
    line_scale: float = 1.0,
    apart: Callable[[Shape], Hashable] = lambda _: None,
) -> list[Body]:
    """Add shapes to a plotter, as few bodies as their ways to be drawn allow.

    Args:
        plotter: It keeps what it has.
        shapes: What is added; hidden layers are left out by the caller.
        line_scale: Pixels of the plotter by pixels of the shapes' edge widths.
        apart: Shapes for which it returns different things become different bodies.
    """
    faces: defaultdict[tuple[Any, ...], list[Shape]] = defaultdict(list)
    edges: defaultdict[tuple[Any, ...], list[Shape]] = defaultdict(list)
    for shape in shapes:
        own = apart(shape)
        if len(shape.faces) and shape.opacity > 0:
            light = LIGHT.get(shape.role, SOLID)
            key = shape.opacity, shape.one_sided, shape.lift, light, own
            faces[key].append(shape)
        if len(shape.edges):
            line = shape.edge_width, shape.edge_opacity, shape.through, shape.lift, own
            edges[line].append(shape)
    bodies = []
    for (opacity, one_sided, lift, light, _), group in faces.items():
        actor = _add_faces(plotter, group, opacity, lift, light, one_sided=one_sided)
        bodies.append(Body(actor, tuple(group)))
    for (edge_width, opacity, through, lift, _), group in edges.items():
        width = edge_width * line_scale
        for units in (LINE_LIFT + lift * LIFT, *([THROUGH] if through else ())):
            actor = _add_edges(plotter, group, width, opacity, units)
            bodies.append(Body(actor, tuple(group), edge_width))
    return bodies


def _add_faces(
    plotter: pv.Plotter,
    group: list[Shape],
    opacity: float,
    lift: int,
    light: Light,
    *,
    one_sided: bool,
) -> Any:  # noqa: ANN401 - an actor
    whole = one_surface([Surface(one.vertices, one.faces, one.edges) for one in group])
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
    return _offset(actor, lift * LIFT)


def _add_edges(
    plotter: pv.Plotter, group: list[Shape], width: float, opacity: float, units: float
) -> Any:  # noqa: ANN401 - an actor
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
    return _offset(actor, units)


def _colours(colours: list[str]) -> Picture:
    return np.array([palette.channels(one) for one in colours], dtype=np.uint8)


def _offset(actor: Any, units: float) -> Any:  # noqa: ANN401 - an actor of any kind
    # The switch itself is global to the process, so each body says its own amount.
    mapper = actor.mapper
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0, units)
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(0, units)
    return actor
