"""The hand at mouse and keyboard: what is pressed, dragged, turned and asked for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.window.keys import QUIT, asked_by
from viewer.window.state import Action

if TYPE_CHECKING:
    from viewer.sheet.places import Rectangle, Spot
    from viewer.window.app import App
    from viewer.window.ink import Control

_STILL: Final = 4.0
"""Pixels a mouse may move in a click."""
_ZOOM: Final = 1.15
"""How much nearer a notch of the wheel goes."""
_SCROLL: Final = 60.0
"""Pixels a notch of the wheel scrolls, in a window of 1600 by 1000."""
_WHEELS: Final = {"MouseWheelForwardEvent": 1, "MouseWheelBackwardEvent": -1}


@dataclass(slots=True)
class _Press:
    """A mouse button that is down.

    Attributes:
        at: Where it went down.
        last: Where the mouse was last.
        control: What is under it.
        in_room: It went down on the room itself.
        pulls: It shifts the room; else it turns it.
        is_click: The mouse has not moved yet.
    """

    at: Spot
    last: Spot
    control: Control | None
    in_room: bool
    pulls: bool
    is_click: bool = True


class Hand:
    """Turns events of a window into what is asked of it."""

    def __init__(self, app: App) -> None:
        """Work in a window."""
        self._app = app
        self._picture = app.picture
        self._press: _Press | None = None

    @property
    def is_down(self) -> bool:
        """Whether a button of the mouse is held."""
        return self._press is not None

    @property
    def turns(self) -> bool:
        """Whether the room is being turned or shifted."""
        return self._press is not None and self._press.in_room

    def heard(self, event: str) -> None:
        """Do what an event asks for."""
        match event:
            case "ExitEvent":
                self._app.close()
            case "KeyPressEvent":
                self._key()
            case "MouseMoveEvent":
                self._moved()
            case "ConfigureEvent" | "ExposeEvent":
                self._app.uncover()
            case "MouseWheelForwardEvent" | "MouseWheelBackwardEvent":
                self._wheel(_WHEELS[event])
            case _ if event.endswith("PressEvent"):
                other = not event.startswith("Left")
                self._pressed(pulls=other or self._picture.shift)
            case _:
                self._released()

    def _key(self) -> None:
        key = self._picture.key
        if key.lower() == QUIT:
            self._app.close()
            return
        action = asked_by(key, self._app.state, shift=self._picture.shift)
        if action is not None:
            self._app.do(action)

    def _wheel(self, way: int) -> None:
        app, spot = self._app, self._picture.mouse
        if _holds(app.frame.side, spot):
            app.scroll(-way * _SCROLL * app.frame.scale)
        elif _holds(app.frame.room, spot):
            app.look(app.pose.zoomed(_ZOOM**way, *self._from_middle(spot)))

    def _pressed(self, *, pulls: bool) -> None:
        spot = self._picture.mouse
        control = None if pulls else self._control_at(spot)
        in_room = control is None and _holds(self._app.frame.room, spot)
        self._press = _Press(spot, spot, control, in_room, pulls)
        if control is not None and control.slides:
            self._slide(control, spot)

    def _moved(self) -> None:
        spot, press = self._picture.mouse, self._press
        if press is None:
            self._hover(spot)
            return
        if math.dist(spot, press.at) > _STILL:
            press.is_click = False
        across, down = spot[0] - press.last[0], spot[1] - press.last[1]
        press.last = spot
        if press.control is not None:
            if press.control.slides:
                self._slide(press.control, spot)
        elif press.in_room and not press.is_click:
            room, pose = self._app.frame.room, self._app.pose
            tall = room.bottom - room.top
            turn = pose.shifted if press.pulls else pose.turned
            self._app.look(turn(across / tall, -down / tall))

    def _released(self) -> None:
        press, self._press = self._press, None
        if press is None:
            return
        control = press.control
        if control is not None:
            # Let go beside it: nothing was meant.
            if not control.slides and _holds(control.box, press.last):
                self._app.do(control.action)
        elif press.in_room and press.is_click and not press.pulls:
            item = self._picture.item_at(press.at)
            self._app.do(Action("nothing") if item is None else Action("item", item))

    def _slide(self, control: Control, spot: Spot) -> None:
        asked = control.action
        self._app.do(Action(asked.name, asked.value, control.at(spot)))

    def _hover(self, spot: Spot) -> None:
        control = self._control_at(spot)
        action = None if control is None else control.action
        self._picture.point_at(hand=action is not None and action.name != "rest")
        self._app.hover(action)

    def _control_at(self, spot: Spot) -> Control | None:
        controls = reversed(self._app.controls)
        return next((one for one in controls if _holds(one.box, spot)), None)

    def _from_middle(self, spot: Spot) -> Spot:
        """Return a spot of the room from its middle, in shares of its height."""
        room = self._app.frame.room
        tall = room.bottom - room.top
        x, y = room.middle
        return (spot[0] - x) / tall, (y - spot[1]) / tall


def _holds(box: Rectangle, spot: Spot) -> bool:
    return box.left <= spot[0] < box.right and box.top <= spot[1] < box.bottom
