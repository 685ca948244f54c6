"""The window at work: what the mouse and the keyboard do, and when what is drawn."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.cleaning import clean
from viewer.stage.cameras import BEARINGS
from viewer.window.frame import framed
from viewer.window.keys import QUIT, asked_by
from viewer.window.lessonbar import lesson_bar
from viewer.window.marks import Marks
from viewer.window.picture import Picture
from viewer.window.poses import Pose, between
from viewer.window.section import AXES, Caps
from viewer.window.shown import shapes_shown
from viewer.window.sidebar import sidebar
from viewer.window.state import Action, WindowState
from viewer.window.tools import head, tools

if TYPE_CHECKING:
    from viewer.placing import Box, Spot
    from viewer.stage.parts import View
    from viewer.window.frame import Frame
    from viewer.window.ink import Board, Control
    from viewer.window.sidebar import Side

SIZE: Final = (1280, 820)
"""Pixels, where nothing else is said."""
_FLIGHT: Final = 0.5
"""Seconds a camera flies."""
_REST: Final = 0.3
"""Seconds without a change, after which a fine picture is drawn."""
_STILL: Final = 4.0
"""Pixels a mouse may move in a click."""
_ZOOM: Final = 1.15
_SCROLL: Final = 60.0
_PAUSE: Final = 0.008
"""Seconds of rest when there is nothing to do."""
_FAST: Final = 0.12
"""Seconds; graphics that draw a fine picture in less have time for shadows too."""
_WHEELS: Final = {"MouseWheelForwardEvent": 1, "MouseWheelBackwardEvent": -1}


@dataclass(slots=True)
class _Flight:
    start: Pose
    end: Pose
    name: str
    begun: float


@dataclass(slots=True)
class _Press:
    """A mouse button that is down."""

    at: Spot
    last: Spot
    control: Control | None
    in_room: bool
    pulls: bool
    is_click: bool = True


class App:
    """One window on a room."""

    def __init__(self, state: WindowState, size: tuple[int, int] = SIZE) -> None:
        """Take what is to be shown.

        Args:
            state: What it shows.
            size: Pixels.
        """
        self.state = state
        self.picture = Picture(clean(state.stage.title, 120), size)
        self._marks = Marks()
        self._caps = Caps()
        self._size = self.picture.size
        self.frame = self._framed()
        self.pose = Pose((0.0, 0.0, 0.0), BEARINGS["south-east"], 32.0, 5.0)
        self._flight: _Flight | None = None
        self._view_name = ""
        self._over: Action | None = None
        self._press: _Press | None = None
        self._scroll = 0.0
        self._side: Side | None = None
        self._tools: list[Board] = []
        self._boards: dict[str, Board] = {}
        self._controls: list[Control] = []
        self._closed = False
        self._stale = {"layers", "boards", "camera", "frame"}
        self._changed = time.perf_counter()
        self._fine = False
        self._shaded = False

    def open(self) -> None:
        """Put the window on the screen, with its first picture."""
        self._take_aim(at_once=True)
        self._refresh()
        self.picture.listen(self._heard)

    def run(self) -> None:
        """Work until the window is closed."""
        try:
            while self._pumped():
                if not self.step():
                    time.sleep(_PAUSE)
        finally:
            self.picture.close()

    def _pumped(self) -> bool:
        self.picture.pump()
        return not self._closed

    def step(self) -> bool:
        """Do what is due; tell whether there was anything."""
        if self.picture.size != self._size:
            self._size = self.picture.size
            self._stale |= {"frame", "layers", "boards", "camera"}
        if self.state.work():
            self._stale |= {"layers", "boards"}
        self._take_aim(at_once=False)
        self._fly()
        if self._stale:
            self._refresh()
            return True
        rested = time.perf_counter() - self._changed > _REST
        if (
            rested
            and not self._fine
            and self._press is None
            and not self.state.moving.busy
        ):
            self._draw_fine()
            return True
        return False

    def do(self, action: Action) -> None:
        """Do what is asked for and show it."""
        before = self.state.finding, self.state.item
        self.state.do(action)
        if (self.state.finding, self.state.item) != before:
            self._show_row()
        self._stale |= {"layers", "boards"}

    def view(self) -> View:
        """Return where the camera is."""
        return self.pose.view(self.frame.aspect)

    def _framed(self) -> Frame:
        width, height = self._size
        return framed(width, height, lesson=bool(self.state.start.steps))

    def _camera(self, pose: Pose) -> None:
        self.pose = pose
        self._flight, self._view_name = None, ""
        self._stale.add("camera")

    def _take_aim(self, *, at_once: bool) -> None:
        aim, self.state.aim = self.state.aim, None
        if aim is None:
            return
        end = aim.pose(self.pose, self.frame.aspect)
        name = getattr(aim, "name", "")
        if at_once:
            self.pose, self._view_name = end, name
            return
        self._flight = _Flight(self.pose, end, name, time.perf_counter())

    def _fly(self) -> None:
        flight = self._flight
        if flight is None:
            return
        share = (time.perf_counter() - flight.begun) / _FLIGHT
        self.pose = between(flight.start, flight.end, share)
        self._view_name = ""
        self._stale.add("camera")
        if share >= 1.0:
            self._view_name = flight.name
            self._flight = None
            self._stale.add("boards")

    def _refresh(self) -> None:
        """Draw again what has changed, and nothing else."""
        stale, self._stale = self._stale, set()
        if "frame" in stale:
            self.frame = self._framed()
            self.picture.divide(self.frame)
        view = self.view()
        if "layers" in stale:
            self.picture.put_layers(shapes_shown(self.state))
        if stale & {"layers", "camera"}:
            self._cut(view)
            self.picture.look(view)
        if "boards" in stale:
            self._draw_boards()
        moving = self._flight is not None or (
            self._press is not None and self._press.in_room
        )
        if moving and "layers" not in stale:
            marks = self._marks.carried(self.frame, view)
        else:
            taken = [board.box for board in self._tools]
            marks = self._marks.arranged(self.state, self.frame, view, taken)
        self.picture.put_board("marks", marks)
        self._gather(marks)
        self.picture.draw()
        self._fine = False
        self._changed = time.perf_counter()

    def _cut(self, view: View) -> None:
        section = self.state.section
        if section is None:
            self.picture.cut(None, None)
            self.picture.put_caps(())
            return
        normal = section.normal(view.eye)
        point = np.zeros(3)
        point[AXES.index(section.axis)] = section.at
        self.picture.cut(point, normal)
        shapes = [one for layer in shapes_shown(self.state).values() for one in layer]
        self.picture.put_caps(self._caps.cut(shapes, section, normal))

    def _draw_boards(self) -> None:
        state, frame, over = self.state, self.frame, self._over
        boards = {"head": head(state, frame, over)}
        if frame.lesson is not None:
            boards["lesson"] = lesson_bar(state, frame.lesson, frame.scale, over)
        side = sidebar(state, frame.side, frame.scale, self._scroll, over)
        most = max(side.tall - (frame.side.bottom - frame.side.top), 0.0)
        if not 0.0 <= self._scroll <= most:
            self._scroll = min(max(self._scroll, 0.0), most)
            side = sidebar(state, frame.side, frame.scale, self._scroll, over)
        self._side = side
        boards["side"] = side.board
        self._tools = list(tools(state, frame, self._view_name, over))
        boards |= {f"tool {n}": board for n, board in enumerate(self._tools)}
        for name in self.picture.boards() - {*boards, "marks"}:
            self.picture.put_board(name, None)
        for name, board in boards.items():
            self.picture.put_board(name, board, order=2)
        self._boards = boards

    def _gather(self, marks: Board) -> None:
        """Gather what can be pressed; what lies on top comes last."""
        self._controls = [*marks.controls]
        for board in self._boards.values():
            self._controls += board.controls

    def _show_row(self) -> None:
        """Scroll so that the picked row is seen."""
        frame = self.frame
        side = sidebar(self.state, frame.side, frame.scale, 0.0, None)
        if side.picked is None:
            self._scroll = 0.0 if self.state.item is not None else self._scroll
            return
        top, bottom = side.picked
        seen = 0.86 * (frame.side.bottom - frame.side.top)
        if bottom > self._scroll + seen:
            self._scroll = bottom - seen
        self._scroll = min(self._scroll, top - 8 * frame.scale)

    def _draw_fine(self) -> None:
        begun = time.perf_counter()
        view = self.view()
        taken = [board.box for board in self._tools]
        marks = self._marks.arranged(self.state, self.frame, view, taken)
        self.picture.put_board("marks", marks)
        self._gather(marks)
        self.picture.draw(fine=True)
        self._fine = True
        if not self._shaded and time.perf_counter() - begun < _FAST:
            self._shaded = True
            self.picture.add_shadows()
            self._fine = False


def _holds(box: Box, spot: Spot) -> bool:
    return box.left <= spot[0] < box.right and box.top <= spot[1] < box.bottom
