"""All boards about and over the room; one in which nothing changed is used again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.window.lessonbar import lesson_bar
from viewer.window.sidebar import sidebar
from viewer.window.tools import head, tools

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from viewer.window.frame import Frame
    from viewer.window.ink import Board
    from viewer.window.state import Action, WindowState

_SEEN: Final = 0.86
"""Share of the list's height above what always stands at its foot."""


class Boards:
    """Draws what stands about and over the room.

    Attributes:
        drawn: What is there now, by its place.
    """

    def __init__(self) -> None:
        """Start with none."""
        self.drawn: dict[str, Board] = {}
        self._known: dict[str, tuple[Hashable, tuple[Board, ...]]] = {}
        self._scroll = 0.0

    def draw(
        self, state: WindowState, frame: Frame, view: str, over: Action | None
    ) -> None:
        """Draw them all.

        Args:
            state: Of the window.
            frame: How the window is divided.
            view: Name of the view the camera shows, or "".
            over: What the mouse is over.
        """
        counts = tuple(len(state.rows(one)) for one in ("not-met", "open", "met"))
        boards = {
            "head": self._again(
                "head",
                (frame, counts, state.is_withheld, over),
                lambda: (head(state, frame, over),),
            )[0]
        }
        bar = frame.lesson
        if bar is not None:
            boards["lesson"] = self._again(
                "lesson",
                (frame, state.place, over),
                lambda: (lesson_bar(state, bar, frame.scale, over),),
            )[0]
        boards["side"] = self._side(state, frame, over)
        shown = state.box, frozenset(state.hidden), state.section, state.cut_share
        over_room = self._again(
            "tools",
            (frame, *shown, state.message, view, over),
            lambda: tuple(tools(state, frame, view, over)),
        )
        boards |= {f"tool {n}": board for n, board in enumerate(over_room)}
        self.drawn = boards

    def scroll(self, by: float) -> None:
        """Push the list up, in pixels."""
        self._scroll += by

    def show_row(self, state: WindowState, frame: Frame) -> None:
        """Scroll so that the picked row is seen."""
        side = sidebar(state, frame.side, frame.scale, 0.0, None)
        if side.picked is None:
            self._scroll = 0.0 if state.item is not None else self._scroll
            return
        top, bottom = side.picked
        seen = _SEEN * (frame.side.bottom - frame.side.top)
        if bottom > self._scroll + seen:
            self._scroll = bottom - seen
        self._scroll = max(min(self._scroll, top - 8 * frame.scale), 0.0)

    def _side(self, state: WindowState, frame: Frame, over: Action | None) -> Board:
        side = sidebar(state, frame.side, frame.scale, self._scroll, over)
        most = max(side.tall - (frame.side.bottom - frame.side.top), 0.0)
        if not 0.0 <= self._scroll <= most:
            self._scroll = min(max(self._scroll, 0.0), most)
            side = sidebar(state, frame.side, frame.scale, self._scroll, over)
        return side.board

    def _again(
        self, name: str, key: Hashable, make: Callable[[], tuple[Board, ...]]
    ) -> tuple[Board, ...]:
        """Return the same boards as before if all they depend on is the same."""
        known = self._known.get(name)
        if known is None or known[0] != key:
            known = key, make()
            self._known[name] = known
        return known[1]
