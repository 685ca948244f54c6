"""The window at work: what keys and mouse ask for is done, and drawn."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, Final

import numpy as np
import pyvista as pv

from viewer.picture.drawing.canvas import aim, edge_scale, keep_precision
from viewer.picture.drawing.passes import in_order, light_room
from viewer.sheet.projection import Projection
from viewer.sheet.signage import Signs
from viewer.stage import palette
from viewer.stage.drawn import View
from viewer.stage.looking.cameras import towards_eye
from viewer.window.bodies import Bodies
from viewer.window.carried_signs import asked_at, carried, drawn, placed
from viewer.window.division import framed
from viewer.window.keyboard import CHANGES, QUIT
from viewer.window.shown import shapes_shown
from viewer.window.state import begun, let_go, pick_item
from viewer.window.text_layer import TextLayer
from viewer.window.texts import words
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.stage.parts import Stage
    from viewer.window.keyboard import Change

_REST: Final = 300
"""Milliseconds without a change, after which a fine picture is drawn."""
_ZOOM: Final = 1.15
"""How much nearer a notch of the wheel goes."""
_STILL: Final = 4
"""Pixels a mouse may move in a click."""
_FINE: Final = 2.0
"""Fine edges come out half as wide as they are asked for."""
_STEEPEST: Final = 89.0
"""Degrees. The room is turned about its upright, which a plan must not look along."""
_SHAPES: Final = ("stage", "hidden", "judgement", "item")
"""What decides which shapes are drawn."""


class App:
    """One window on a room, or on a lesson.

    Attributes:
        state: What it shows.
        plotter: Where that is drawn: paper, the room, and what is written over both.
        frame: How the window is divided.
        signs: What is written into the room, where it is drawn now.
        is_fine: Whether the picture is finished: nothing is left to be drawn.
    """

    def __init__(self, stage: Stage, size: tuple[int, int]) -> None:
        """Make a window of a size in pixels; a screen may have less."""
        self.state = begun(stage)
        self.frame = framed(*size, lesson=bool(stage.steps))
        self.plotter: Any = pv.Plotter(
            shape=(1, 3),
            border=False,
            off_screen=False,
            window_size=[*size],
            title=clean(stage.title),
            lighting="none",
        )
        self.plotter.suppress_rendering = True
        self.plotter.disable_anti_aliasing()
        paper, self._room, over = self.plotter.renderers
        for one in (paper, over):
            one.SetViewport(0.0, 0.0, 1.0, 1.0)
            # Whichever of them the mouse is found in, it turns the room.
            one.camera = self._room.camera
        paper.set_background(palette.PAPER)
        window: Any = self.plotter.render_window
        window.SetNumberOfLayers(2)
        over.SetLayer(1)
        self.plotter.subplot(0, 1)
        self._room.set_background(palette.BACKGROUND, top=palette.BACKGROUND_TOP)
        light_room(self._room)
        self._passes = {fine: in_order(0, smooth=fine) for fine in (False, True)}
        self.bodies = Bodies(self._room)
        self._overlay = TextLayer(over)
        self.signs = Signs((), ())
        self.is_fine = self._was_fine = False
        self._is_new = True
        self._seen: Projection | None = None
        self._timer: int | None = None
        self._pressed = 0, 0

    def run(self) -> None:
        """Work until the window is closed."""
        plotter, iren = self.plotter, self.plotter.iren
        self.bodies.show(shapes_shown(self.state))
        self._divide()
        plotter.enable_terrain_style(mouse_wheel_zooms=_ZOOM, shift_pans=True)
        iren.update_style()
        iren.initialize()  # first, so that a key waits for the first picture
        self._listen()
        plotter.suppress_rendering = False
        plotter.show(interactive=False, auto_close=False)
        iren.start()
        plotter.close()

    def do(self, change: Change) -> None:
        """Do what is asked for and show it."""
        before, self.state = self.state, change(self.state)
        self.plotter.suppress_rendering = True
        if any(getattr(before, one) is not getattr(self.state, one) for one in _SHAPES):
            self.bodies.show(shapes_shown(self.state))
        self.bodies.cut(self.state.section)
        if self.state.aim is not before.aim:
            self._aim()
        self._write()
        self.plotter.suppress_rendering = False
        self._draw(fine=False)

    def view(self) -> View:
        """Return where the camera is."""
        camera, aspect = self._room.camera, self.frame.aspect
        stand = camera.position, camera.focal_point, camera.up, camera.view_angle
        width, is_plan = 2 * camera.parallel_scale * aspect, camera.parallel_projection
        return View("", *stand, width, parallel=bool(is_plan))

    def _listen(self) -> None:
        plotter, iren = self.plotter, self.plotter.iren
        iren.clear_key_event_callbacks()
        asked = {key: partial(self.do, change) for key, change in CHANGES.items()}
        for key, answer in {**asked, QUIT: iren.terminate_app}.items():
            for name in {key, key.upper() if len(key) == 1 else key}:
                plotter.add_key_event(name, answer)
        # Letters that the graphics would take for themselves, and timers that would
        # turn the room as long as a button is held.
        for event in ("CharEvent", "TimerEvent"):
            iren.interactor.RemoveObservers(event)
        iren.add_observer("LeftButtonPressEvent", lambda *_: self._press())
        iren.add_observer("LeftButtonReleaseEvent", lambda *_: self._release())
        iren.add_observer("ConfigureEvent", lambda *_: self._resize())
        iren.add_observer("TimerEvent", lambda *_: self._finish())
        self._room.AddObserver("StartEvent", lambda *_: self._follow())

    def _press(self) -> None:
        self._pressed = self.plotter.iren.get_event_position()

    def _release(self) -> None:
        x, y = self.plotter.iren.get_event_position()
        spot = x - self.frame.room.left, self.frame.height - 1 - y - self.frame.room.top
        wide, tall = self.frame.room_size
        inside = 0 <= spot[0] < wide and 0 <= spot[1] < tall
        if not inside or max(np.abs(np.subtract((x, y), self._pressed))) > _STILL:
            return
        change = asked_at(self.signs, spot)
        if change is None:
            item = self.bodies.item_at(x, y)
            change = partial(pick_item, item=item) if item else let_go
        self.do(change)

    def _resize(self) -> None:
        size = self.plotter.render_window.GetSize()
        if size != (self.frame.width, self.frame.height):
            self.frame = framed(*size, lesson=bool(self.state.start.steps))
            self._divide()
            self._draw(fine=False)

    def _divide(self) -> None:
        """Give every part of the window its place."""
        frame, room = self.frame, self.frame.room
        low, high = 1 - room.bottom / frame.height, 1 - room.top / frame.height
        self._room.SetViewport(0.0, low, room.right / frame.width, high)
        self._aim()
        self._write()

    def _write(self) -> None:
        frame, eye = self.frame, self._room.camera.position
        self._overlay.write(words(self.state, frame, eye), frame.height)

    def _aim(self) -> None:
        x, y, z = np.negative(self._room.camera.direction).tolist()
        view = self.state.aim(self.frame.aspect, (x, y, z))
        aim(self._room, _upright(view), self.frame.room_size)

    def _follow(self) -> None:
        """Let all that depends on the camera follow it, before a picture is drawn."""
        keep_precision(self._room)
        frame, seen = self.frame, Projection(self.view(), *self.frame.room_size)
        before, self._seen = self._seen, seen
        moved, section = seen != before, self.state.section
        self.is_fine = fine = self.is_fine and not moved
        self._room.SetPass(self._passes[fine])
        self.bodies.look(seen.view, rough=not fine)
        eyes = () if before is None else (before.view.eye, seen.view.eye)
        if section is not None and len({section.cut(eye).words for eye in eyes}) > 1:
            self._write()  # what one looks at has another name
        self.bodies.widen(edge_scale(frame.height) * (_FINE if fine else 1.0))
        anew = self._is_new or (fine and not self._was_fine)
        if anew:
            self.signs = placed(self.state, seen, frame.scale)
        elif moved:
            self.signs = carried(self.signs, seen)
        if anew or moved:
            pixels = drawn(self.signs, frame.room_size, frame.scale, fine=fine)
            bottom = frame.height - frame.room.bottom
            self._overlay.put_signs(pixels, frame.room.left, bottom)
        self._is_new, self._was_fine = False, fine
        if not fine:
            if self._timer is not None:
                self.plotter.iren.destroy_timer(self._timer)
            self._timer = self.plotter.iren.create_timer(_REST, repeating=False)

    def _finish(self) -> None:
        """Draw finely what is at rest."""
        if not self.is_fine:
            self._draw(fine=True)
            # Keys that came meanwhile wait in a queue until the loop is woken.
            self.plotter.iren.create_timer(1, repeating=False)

    def _draw(self, *, fine: bool) -> None:
        self.is_fine, self._is_new = fine, not fine
        self.plotter.render()


def _upright(view: View) -> View:
    """Return a view that turns about the room's upright; a plan is tilted for that."""
    back, up = np.subtract(view.eye, view.target), (0.0, 0.0, 1.0)
    if not view.parallel:
        return replace(view, up=up)
    away = float(np.linalg.norm(back))
    eye = np.array(view.target) + np.array(towards_eye(180.0, _STEEPEST)) * away
    x, y, z = eye.tolist()
    return replace(view, eye=(x, y, z), up=up)
