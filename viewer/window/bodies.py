"""The room's bodies in the window: layers of them, cut, picked and seen from a side."""

from __future__ import annotations

from itertools import chain
from operator import is_
from typing import TYPE_CHECKING, Any, Final

from vtkmodules.vtkCommonDataModel import vtkPlane
from vtkmodules.vtkRenderingCore import vtkCellPicker

from viewer.picture.drawing.canvas import add_shapes
from viewer.picture.drawing.shading import SHINING
from viewer.picture.section import cut_faces, is_crossed
from viewer.stage import palette
from viewer.stage.looking.views import is_turned_away

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.picture.drawing.canvas import DrawnBody
    from viewer.stage.drawn import Shape, View
    from viewer.stage.looking.cuts import Section

_CAPS: Final = "caps"
"""The layer of the faces of a section: the one that is not cut itself."""
_MOST: Final = 400
"""Shapes; to close more of them takes longer than anybody waits: they stay hollow."""
_MANY: Final = 40_000
"""Lines of one body; to draw more of them takes longer than a picture in motion has."""


class Bodies:
    """All that is drawn of the room, as few bodies as may be."""

    def __init__(self, renderer: Any) -> None:  # noqa: ANN401 - no types
        """Draw with a renderer."""
        self._renderer = renderer
        self._bodies: dict[str, list[DrawnBody]] = {}
        self._layers: dict[str, tuple[Shape, ...]] = {}
        self._plane = vtkPlane()
        self._section: Section | None = None
        self._picker = vtkCellPicker()
        self._picker.SetTolerance(0.0)
        self._picker.PickFromListOn()

    def show(self, layers: dict[str, tuple[Shape, ...]]) -> None:
        """Draw these layers and no others; one in which nothing changed stays."""
        for name in self._layers.keys() - layers.keys():
            self._drop(name)
        for name, shapes in layers.items():
            known = self._layers.get(name, ())
            if len(known) != len(shapes) or not all(map(is_, known, shapes)):
                self._put(name, shapes)
        self._layers = layers
        self._close()

    def cut(self, section: Section | None) -> None:
        """Cut all layers by a plane, or not."""
        if section == self._section:
            return
        self._section = section
        for name, bodies in self._bodies.items():
            for body in bodies if name != _CAPS else ():
                self._cut(body)
        self._close()

    def look(self, view: View, *, rough: bool) -> None:
        """Draw all as it is seen from somewhere.

        Lines of a wall that is seen from behind vanish, as the wall does by itself;
        what is in the way there is seen through.

        Args:
            view: The camera.
            rough: In motion: where there are very many edges, without them.
        """
        if self._section is not None:
            cut = self._section.cut(view.eye)
            self._plane.SetOrigin(cut.point)
            self._plane.SetNormal(*(-one for one in cut.towards))
        for body in self._all():
            first = body.shapes[0]
            away = _wall(first) is not None and is_turned_away(first, view)
            if body.width is not None:
                many = rough and sum(len(one.edges) for one in body.shapes) > _MANY
                body.actor.SetVisibility(not (many or (away and first.one_sided)))
            elif first.role == "intrusion":
                glass = min(first.opacity, palette.GLASS_OPACITY)
                opacity = glass if away else first.opacity
                opacity *= SHINING if body.shines else 1.0
                body.actor.GetProperty().SetOpacity(opacity)

    def widen(self, by: float) -> None:
        """Draw lines wider than they ask for, by a factor."""
        for body in self._all():
            if body.width is not None:
                body.actor.GetProperty().SetLineWidth(body.width * by)

    def item_at(self, x: float, y: float) -> str | None:
        """Return the id of the item that is seen at a pixel from the bottom left."""
        self._picker.InitializePickList()
        bodies: dict[Any, DrawnBody] = {}
        for body in self._all():
            is_front = body.width is None and not body.shines
            if is_front and body.shapes[0].pickable:
                body.actor.PickableOn()
                self._picker.AddPickList(body.actor)
                bodies[body.actor] = body
        self._picker.Pick(x, y, 0.0, self._renderer)
        hit, cell = bodies.get(self._picker.GetActor()), self._picker.GetCellId()
        return None if hit is None or cell < 0 else hit.shape_of(cell).item

    def _all(self) -> Iterator[DrawnBody]:
        return chain.from_iterable(self._bodies.values())

    def _close(self) -> None:
        """Draw the faces that the section leaves."""
        self._drop(_CAPS)
        if self._section is not None:
            shapes = chain.from_iterable(self._layers.values())
            self._put(_CAPS, tuple(caps(shapes, self._section)))

    def _put(self, name: str, shapes: tuple[Shape, ...]) -> None:
        self._drop(name)
        self._bodies[name] = add_shapes(self._renderer, shapes, apart=_apart)
        for body in self._bodies[name] if name != _CAPS else ():
            self._cut(body)

    def _drop(self, name: str) -> None:
        for body in self._bodies.pop(name, ()):
            self._renderer.RemoveActor(body.actor)

    def _cut(self, body: DrawnBody) -> None:
        mapper = body.actor.GetMapper()
        mapper.RemoveAllClippingPlanes()
        if self._section is not None:
            mapper.AddClippingPlane(self._plane)


def caps(shapes: Iterable[Shape], section: Section) -> Iterator[Shape]:
    """Yield the hatched faces a plane leaves of shapes that are solid.

    A surface that is not closed has no inside, so nothing comes of it.
    """
    cut = section.cut((0.0, 0.0, 0.0))
    crossed = [shape for shape in shapes if is_crossed(shape, cut)]
    for shape in crossed if len(crossed) <= _MOST else ():
        yield from cut_faces(shape, cut)


def _apart(shape: Shape) -> tuple[bool, str | None]:
    return shape.pickable, _wall(shape)


def _wall(shape: Shape) -> str | None:
    """Return the wall that a shape vanishes with, if it does."""
    is_in_wall = shape.one_sided or shape.role == "intrusion"
    return shape.item if is_in_wall and shape.ahead else None
