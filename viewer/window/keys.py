"""What each key asks for, and how that is told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.stage.cameras import ABOVE, BEARINGS
from viewer.window.state import Action

if TYPE_CHECKING:
    from viewer.window.state import WindowState


@dataclass(frozen=True, slots=True)
class Key:
    """A line of the list of keys.

    Attributes:
        shown: The keys.
        about: What they do.
        lesson: Of use only where there is a lesson.
    """

    shown: str
    about: str
    lesson: bool = False


KEYS: Final = (
    Key("drag", "turn; with Shift or the middle button: move"),
    Key("wheel", "nearer and further; over the list: scroll"),
    Key("click", "pick a thing, a number or a row"),
    Key("Up, Down", "the finding before, the next one"),
    Key("Left, Right", "the step before, the next one", lesson=True),
    Key("1 to 8", "from each of the eight sides"),
    Key("9, 0", "from above; the whole room"),
    Key("X, Y, Z", "cut the room open, one way or another"),
    Key("[ and ]", "move the cut"),
    Key("M", "move what is picked, by sliders"),
    Key("Shift+arrows", "move it left, right, back, out"),
    Key("Page up, down", "move it up, down"),
    Key("L, K", "layers, keys"),
    Key("Esc", "pick nothing"),
    Key("Q", "close the window"),
)
QUIT: Final = "q"
_VIEWS: Final = (*BEARINGS, ABOVE)
_PLAIN: Final = {
    "Escape": Action("nothing"),
    "Down": Action("next", number=1),
    "Up": Action("next", number=-1),
    "Home": Action("whole"),
    "0": Action("whole"),
    "m": Action("form"),
    "l": Action("box", "layers"),
    "k": Action("box", "keys"),
    "question": Action("box", "keys"),
    "x": Action("axis", "x"),
    "y": Action("axis", "y"),
    "z": Action("axis", "z"),
    "Right": Action("step", number=1),
    "Left": Action("step", number=-1),
    "Prior": Action("nudge", "2", 1),
    "Next": Action("nudge", "2", -1),
}
"""By the names X11 has for keys, which the graphics use on every system."""
_SHIFTED: Final = {
    "Right": Action("nudge", "0", 1),
    "Left": Action("nudge", "0", -1),
    "Down": Action("nudge", "1", 1),
    "Up": Action("nudge", "1", -1),
}
_CUTS: Final = {"bracketleft": -1, "bracketright": 1}
_CUT_STEP: Final = 0.02
"""Share of the room a cut is moved by."""


def asked_by(key: str, state: WindowState, *, shift: bool) -> Action | None:
    """Return what a key asks for, if it asks for anything.

    Args:
        key: Its name in X11.
        state: Of the window.
        shift: Whether Shift is held.
    """
    if shift and key in _SHIFTED:
        return _SHIFTED[key]
    if key in _CUTS:
        return Action("cut", number=state.cut_share + _CUT_STEP * _CUTS[key])
    if key.isdecimal() and 0 < int(key) <= len(_VIEWS):
        return Action("view", _VIEWS[int(key) - 1])
    return _PLAIN.get(key if len(key) > 1 else key.lower())
