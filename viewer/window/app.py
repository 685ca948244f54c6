"""The window at work: when what is drawn, and where the camera is."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.cameras import ANGLE, BEARINGS, ELEVATION
from viewer.window.boards import Boards
from viewer.window.frame import framed
from viewer.window.hand import Hand
from viewer.window.marks import Marks
from viewer.window.picture import Picture
from viewer.window.poses import Pose, between
from viewer.window.section import AXES, Caps
from viewer.window.shown import shapes_shown
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.stage.parts import View
    from viewer.window.frame import Frame
    from viewer.window.ink import Board, Control
    from viewer.window.state import Action, WindowState

_FLIGHT: Final = 0.5
"""Seconds a camera flies."""
_REST: Final = 0.3
"""Seconds without a change, after which a fine picture is drawn."""
_PAUSE: Final = 0.008
"""Seconds of rest when there is nothing to do."""
_FAST: Final = 0.12
"""Seconds; graphics that draw a fine picture in less have time for more."""
_LONGEST_TITLE: Final = 120
_START: Final = Pose((0.0, 0.0, 0.0), BEARINGS["south-east"], ELEVATION, 5.0, ANGLE)
_MARKS: Final = "marks"
_ALL: Final = frozenset({"frame", "layers", "camera", "marks", "boards"})
"""What can be out of date: how the window is divided, what is in the room, from where
it is seen, the signs in it, and all that stands about it."""


@dataclass(frozen=True, slots=True)
class _Flight:
    start: Pose
    end: Pose
    name: str
    begun: float


class App:
    """One window on a room.

    Attributes:
        state: What it shows.
        picture: Where that is drawn.
        frame: How the window is divided.
        pose: Where the camera is.
        controls: What can be pressed; what lies on top comes last.
    """

    def __init__(self, state: WindowState, size: tuple[int, int]) -> None:
        """Take what is to be shown, in a window of a size in pixels."""
        self.state = state
        self.picture = Picture(clean(state.stage.title, _LONGEST_TITLE), size)
        self._size = self.picture.size
        self.frame = self._framed()
        self.pose = _START
        self.controls: list[Control] = []
        self._hand = Hand(self)
        self._marks = Marks()
        self._caps = Caps()
        self._flight: _Flight | None = None
        self._view_name = ""
        self._over: Action | None = None
        self._boards = Boards()
        self._signs: tuple[Control, ...] = ()
        self._stale = set(_ALL)
        self._changed = time.perf_counter()
        self._is_closed = self._is_fine = self._is_fast = self._carries = False

    def open(self) -> None:
        """Put the window on the screen, with its first picture."""
        self._take_aim(at_once=True)
        self._refresh()
        self.picture.listen(self._hand.heard)

    def run(self) -> None:
        """Work until the window is closed."""
        try:
            while self.pump():
                if not self.step():
                    time.sleep(_PAUSE)
        finally:
            self.picture.close()

    def pump(self) -> bool:
        """Take what mouse and keyboard did; tell whether the window is still open."""
        self.picture.pump()
        return not self._is_closed

    def step(self) -> bool:
        """Do what is due; tell whether there was anything."""
        if self.picture.size != self._size:
            self._size = self.picture.size
            self._stale |= _ALL
        if self.state.work():
            self._stale |= {"layers", "boards"}
        self._take_aim(at_once=False)
        self._fly()
        if self._stale:
            self._refresh()
            return True
        busy = self._hand.is_down or self.state.moving.busy or self._is_fine
        if not busy and time.perf_counter() - self._changed > _REST:
            self._refine()
            return True
        return False

    @property
    def is_settled(self) -> bool:
        """Whether all that was asked for is done, but for a finer picture."""
        due = self._stale or self._flight or self.state.aim or self.state.moving.busy
        return not due and (not self._carries or self._hand.is_down)

    def do(self, action: Action) -> None:
        """Do what is asked for and show it."""
        before = self.state.finding, self.state.item
        self.state.do(action)
        if (self.state.finding, self.state.item) != before:
            self._boards.show_row(self.state, self.frame)
        self._stale |= {"layers", "boards"}

    def look(self, pose: Pose) -> None:
        """Put the camera somewhere at once."""
        self.pose = pose
        self._flight = None
        self._name("")
        self._stale.add("camera")

    def scroll(self, by: float) -> None:
        """Push the list up, in pixels."""
        self._boards.scroll(by)
        self._stale.add("boards")

    def hover(self, action: Action | None) -> None:
        """Show what the mouse is over, if that takes no time."""
        if action != self._over:
            self._over = action
            if self._is_fast:
                self._stale.add("boards")

    def uncover(self) -> None:
        """Draw again: the window was hidden or changed."""
        self._stale.add("camera")

    def close(self) -> None:
        """Close the window."""
        self._is_closed = True

    def view(self) -> View:
        """Return where the camera is."""
        return self.pose.view(self.frame.aspect)

    def _framed(self) -> Frame:
        width, height = self._size
        return framed(width, height, lesson=bool(self.state.start.steps))

    def _name(self, name: str) -> None:
        if name != self._view_name:
            self._view_name = name
            self._stale.add("boards")

    def _take_aim(self, *, at_once: bool) -> None:
        aim, self.state.aim = self.state.aim, None
        if aim is None:
            return
        end = aim.pose(self.pose, self.frame)
        if at_once:
            self.look(end)
            self._name(aim.name)
        else:
            self._flight = _Flight(self.pose, end, aim.name, time.perf_counter())

    def _fly(self) -> None:
        flight = self._flight
        if flight is None:
            return
        share = (time.perf_counter() - flight.begun) / _FLIGHT
        self.look(between(flight.start, flight.end, share))
        if share < 1.0:
            self._flight = flight
        else:
            self._name(flight.name)
            self._stale.add("marks")

    def _refresh(self) -> None:
        """Draw again what is out of date, and nothing else."""
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
        in_motion = self._hand.turns or self._flight is not None
        if self._carries_on(stale, in_motion=in_motion):
            self._put_marks(self._marks.carried(self.frame, view))
            self._carries = True
        elif stale - {"boards"}:
            self._arrange(view)
        self.picture.draw(rough=in_motion)
        self._is_fine = False
        self._changed = time.perf_counter()

    def _carries_on(self, stale: set[str], *, in_motion: bool) -> bool:
        """Tell whether signs go along as they are, for want of time to place them."""
        if in_motion and stale <= {"camera", "boards"}:
            return True
        moves = self.state.moving.busy and "layers" in stale
        return moves and self._marks.follow(self.state.stage)

    def _refine(self) -> None:
        """Draw the picture as well as it can be: nothing moves."""
        begun = time.perf_counter()
        self._arrange(self.view())
        self.picture.draw(fine=True)
        self._is_fine = True
        if not self._is_fast and time.perf_counter() - begun < _FAST:
            self._is_fast = True
            self.picture.add_shadows()
            self.picture.draw(fine=True)

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
        before = self._boards.drawn.keys()
        self._boards.draw(self.state, self.frame, self._view_name, self._over)
        drawn = self._boards.drawn
        for name in before - drawn.keys():
            self.picture.put_board(name, None)
        for name, board in drawn.items():
            self.picture.put_board(name, board, order=1)
        self._gather()

    def _arrange(self, view: View) -> None:
        drawn = self._boards.drawn.items()
        tools = (board.box for name, board in drawn if name.startswith("tool"))
        self._put_marks(self._marks.arranged(self.state, self.frame, view, tools))
        self._carries = False

    def _put_marks(self, marks: Board) -> None:
        self.picture.put_board(_MARKS, marks)
        self._signs = marks.controls
        self._gather()

    def _gather(self) -> None:
        """Gather what can be pressed; signs lie under everything else."""
        boards = self._boards.drawn.values()
        self.controls = [*self._signs, *(one for b in boards for one in b.controls)]
