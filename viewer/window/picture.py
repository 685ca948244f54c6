"""The room on the screen: what is drawn, and what the mouse and the keyboard do.

With ``bodies`` the only module of the window that talks to the graphics. It knows
nothing of scenes, findings or lessons.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonDataModel import vtkPlane
from vtkmodules.vtkRenderingCore import vtkCellPicker, vtkRenderer

from viewer.picture.passes import in_order, light_room
from viewer.stage import palette
from viewer.stage.shading import NEAR
from viewer.window.bodies import board_body, name_of
from viewer.window.layer import Layer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from viewer.sheet.places import Spot
    from viewer.stage.parts import Points, Shape, View
    from viewer.window.batches import FaceBatch
    from viewer.window.frame import Frame
    from viewer.window.ink import Board

CAPS: Final = "caps"
"""The layer of the faces of a cut: the one that is not cut itself."""
_USUAL_HEIGHT: Final = 1000
_FINEST: Final = 0.7
_FINE: Final = 2.0
"""Fine edges come out half as wide as they are asked for."""
_SHADOWS: Final = 24
"""Samples of shadows in corners, where the graphics are fast enough for them."""

_ORDERS: Final = 2
"""Boards lie under or over each other."""

_ARROW, _HAND = 0, 9
"""Cursors, by the numbers the graphics have for them."""

EVENTS: Final = (
    "LeftButtonPressEvent",
    "LeftButtonReleaseEvent",
    "MiddleButtonPressEvent",
    "MiddleButtonReleaseEvent",
    "RightButtonPressEvent",
    "RightButtonReleaseEvent",
    "MouseMoveEvent",
    "MouseWheelForwardEvent",
    "MouseWheelBackwardEvent",
    "KeyPressEvent",
    "ConfigureEvent",
    "ExposeEvent",
    "ExitEvent",
)
"""What is heard of."""


class Picture:
    """A window with a room in it, and boards over and beside the room."""

    def __init__(self, title: str, size: tuple[int, int]) -> None:
        """Open a window.

        Args:
            title: Of the window.
            size: Pixels; a screen may have less.
        """
        plotter = _plotter(title, size)
        self._plotter = plotter
        self._window = plotter.render_window
        self._renderer = plotter.renderer
        self._interactor = plotter.iren.interactor
        plotter.disable_anti_aliasing()
        plotter.renderer.set_background(palette.BACKGROUND, top=palette.BACKGROUND_TOP)
        light_room(plotter)
        self._passes = {False: in_order(0), True: in_order(0, smooth=True)}
        self._fine = self._rough = False
        self._renderer.SetPass(self._passes[False])
        self._over = [vtkRenderer() for _ in range(_ORDERS)]
        self._window.SetNumberOfLayers(1 + _ORDERS)
        for number, over in enumerate(self._over, 1):
            over.SetLayer(number)
            over.InteractiveOff()
            self._window.AddRenderer(over)
        self._layers: dict[str, Layer] = {}
        self._boards: dict[str, tuple[Board, int, Any]] = {}
        self._plane: Any = vtkPlane()
        self._cut = False
        self._picker: Any = vtkCellPicker()
        self._picker.SetTolerance(0.0)
        self._picker.PickFromListOn()
        # Whatever keys and mouse do here is decided in this window alone.
        self._interactor.SetInteractorStyle(None)
        self._interactor.RemoveAllObservers()
        self._hand = False

    def listen(self, heard: Callable[[str], None]) -> None:
        """Tell of what is done in the window from now on.

        Args:
            heard: Is told the names of events, see ``EVENTS``.
        """
        self._interactor.Initialize()
        for name in EVENTS:
            self._interactor.AddObserver(name, lambda _, event: heard(event))

    def pump(self) -> None:
        """Let the events that have come in be told."""
        self._interactor.ProcessEvents()

    def close(self) -> None:
        """Close the window and let its memory go."""
        self._plotter.close()

    @property
    def size(self) -> tuple[int, int]:
        """Of the window, pixels."""
        width, height = self._window.GetSize()
        return int(width), int(height)

    @property
    def mouse(self) -> Spot:
        """Where the mouse is, pixels from the top left."""
        x, y = self._interactor.GetEventPosition()
        return float(x), float(self.size[1] - 1 - y)

    @property
    def key(self) -> str:
        """Name of the key that was pressed."""
        return str(self._interactor.GetKeySym() or "")

    @property
    def shift(self) -> bool:
        """Whether Shift is held."""
        return bool(self._interactor.GetShiftKey())

    def divide(self, frame: Frame) -> None:
        """Draw the room in its part of the window."""
        width, height = self.size
        room = frame.room
        self._renderer.SetViewport(
            max(room.left / width, 0.0),
            max(1.0 - room.bottom / height, 0.0),
            min(room.right / width, 1.0),
            min(1.0 - room.top / height, 1.0),
        )
        for name, (board, order, _) in list(self._boards.items()):
            self.put_board(name, None)
            self.put_board(name, board, order)
        self._widen()

    def put_layers(self, layers: dict[str, tuple[Shape, ...]]) -> None:
        """Draw these layers and no others, apart from the faces of the cut."""
        for name in [*self._layers]:
            if name not in layers and name != CAPS:
                self._drop(name)
        for name, shapes in layers.items():
            self._put(name, shapes)

    def put_caps(self, shapes: Iterable[Shape]) -> None:
        """Draw the faces a cut leaves."""
        self._put(CAPS, tuple(shapes))

    def cut(self, point: Points | None, normal: Points | None) -> None:
        """Cut all layers by a plane, or not.

        Args:
            point: On the plane; None cuts nothing.
            normal: To the side that stays.
        """
        on = point is not None and normal is not None
        if point is not None and normal is not None:
            self._plane.SetOrigin(*point)
            self._plane.SetNormal(*normal)
        if on != self._cut:
            self._cut = on
            for name, layer in self._layers.items():
                for actor in layer.actors if name != CAPS else ():
                    self._cut_actor(actor)

    def look(self, view: View) -> None:
        """Put the camera somewhere."""
        camera = self._renderer.GetActiveCamera()
        camera.SetPosition(*view.eye)
        camera.SetFocalPoint(*view.target)
        camera.SetViewUp(*view.up)
        camera.SetViewAngle(view.angle)
        self._renderer.ResetCameraClippingRange()
        near, far = camera.GetClippingRange()
        away = float(np.linalg.norm(np.subtract(view.eye, view.target)))
        camera.SetClippingRange(max(near, NEAR * away), max(far, 1.1 * NEAR * away))
        for layer in self._layers.values():
            layer.look(view.eye)

    def put_board(self, name: str, board: Board | None, order: int = 0) -> None:
        """Show a board, or take it away.

        Args:
            name: Of its place: what was there goes.
            board: None takes it away.
            order: 0, or 1 for what lies over all that has 0.
        """
        known = self._boards.get(name)
        if known is not None and known[0] is board:
            return
        if known is not None:
            self._over[known[1]].RemoveViewProp(known[2])
            del self._boards[name]
        if board is not None:
            actor = board_body(board, self.size[1])
            self._over[order].AddViewProp(actor)
            self._boards[name] = board, order, actor

    def item_at(self, spot: Spot) -> str | None:
        """Return the id of the item that is seen at a spot, pixels."""
        self._picker.InitializePickList()
        batches: dict[str, FaceBatch] = {}
        for layer in self._layers.values():
            batches |= layer.picks
            for actor in layer.actors:
                if name_of(actor) in layer.picks:
                    self._picker.AddPickList(actor)
        y = self.size[1] - 1 - spot[1]
        self._picker.Pick(spot[0], y, 0.0, self._renderer)
        actor, cell = self._picker.GetActor(), self._picker.GetCellId()
        if actor is None or cell < 0:
            return None
        batch = batches[name_of(actor)]
        return batch.items[int(batch.item[cell])]

    def point_at(self, *, hand: bool) -> None:
        """Show that what the mouse is over can be pressed, or not."""
        if hand != self._hand:
            self._hand = hand
            self._window.SetCurrentCursor(_HAND if hand else _ARROW)

    def draw(self, *, fine: bool = False, rough: bool = False) -> None:
        """Draw the picture.

        Args:
            fine: As well as can be; it takes several times as long.
            rough: In motion: where there are very many edges, without them.
        """
        if rough != self._rough:
            self._rough = rough
            for layer in self._layers.values():
                layer.roughen(rough=rough)
        if fine != self._fine:
            self._fine = fine
            self._renderer.SetPass(self._passes[fine])
            self._widen()
        self._window.Render()

    def add_shadows(self) -> None:
        """Put soft shadows into fine pictures: the graphics are fast."""
        self._passes[True] = in_order(_SHADOWS, smooth=True)
        if self._fine:
            self._renderer.SetPass(self._passes[True])

    def _put(self, name: str, shapes: tuple[Shape, ...]) -> None:
        known = self._layers.get(name)
        if known is not None and known.is_of(shapes):
            return
        self._drop(name)
        layer = Layer(shapes)
        for actor in layer.actors:
            self._renderer.AddActor(actor)
            if self._cut and name != CAPS:
                self._cut_actor(actor)
        self._layers[name] = layer
        self._widen(name)

    def _drop(self, name: str) -> None:
        layer = self._layers.pop(name, None)
        for actor in layer.actors if layer else ():
            self._renderer.RemoveActor(actor)

    def _cut_actor(self, actor: Any) -> None:  # noqa: ANN401 - has no types
        mapper = actor.GetMapper()
        mapper.RemoveAllClippingPlanes()
        if self._cut:
            mapper.AddClippingPlane(self._plane)

    def _widen(self, name: str | None = None) -> None:
        """Give lines the width that suits the window and the way it is drawn."""
        by = max(self.size[1] / _USUAL_HEIGHT, _FINEST) * (_FINE if self._fine else 1.0)
        layers = self._layers.values() if name is None else [self._layers[name]]
        for layer in layers:
            layer.widen(by)


def _plotter(title: str, size: tuple[int, int]) -> Any:  # noqa: ANN401 - parts of it
    # may be missing where nothing is shown, as here they never are
    return pv.Plotter(
        off_screen=False, window_size=list(size), title=title, lighting="none"
    )
