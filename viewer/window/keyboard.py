"""What each key asks for, and how that is told."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from viewer.stage.looking.cameras import ABOVE, BEARINGS
from viewer.stage.looking.cuts import AXES
from viewer.window import state as ask
from viewer.window.state import State

Change = Callable[[State], State]
"""What is asked for: it returns what is known afterwards."""

_CUT: Final = 0.02
"""Share of the room a section is moved by."""
QUIT: Final = "q"
LESSON: Final = ("Right, Left", "the next step, the one before")
KEYS: Final = (
    ("drag", "turn the room; with Shift: move it"),
    ("wheel", "nearer and further"),
    ("click", "pick a number or a thing"),
    ("Down, Up", "the next judgement, the one before"),
    LESSON,
    ("1 to 8, 9", "from each of the eight sides, from above"),
    ("0", "the whole room"),
    ("X, Y, Z", "cut the room open, and close it again"),
    ("[ and ]", "move the cut"),
    ("L", "layers"),
    ("Tab, Space", "the next layer; show it or hide it"),
    ("K", "these keys"),
    ("Esc", "pick nothing, list the judgements"),
    ("Q", "close the window"),
)
CHANGES: Final[dict[str, Change]] = {
    "Down": partial(ask.pick_next, by=1),
    "Up": partial(ask.pick_next, by=-1),
    "Right": partial(ask.go_on, by=1),
    "Left": partial(ask.go_on, by=-1),
    **{
        str(number): partial(ask.look_from, side=side)
        for number, side in enumerate((*BEARINGS, ABOVE), 1)
    },
    "0": ask.look_at_all,
    **{axis: partial(ask.cut_open, axis=axis) for axis in AXES},
    "bracketright": partial(ask.push_cut, by=_CUT),
    "bracketleft": partial(ask.push_cut, by=-_CUT),
    "l": partial(ask.turn_to, panel="layers"),
    "Tab": partial(ask.next_layer, by=1),
    "ISO_Left_Tab": partial(ask.next_layer, by=-1),
    "space": ask.toggle_layer,
    "k": partial(ask.turn_to, panel="keys"),
    "Escape": ask.let_go,
}
"""By the names X11 has for keys, which the graphics use on every system; a letter
stands for its capital too."""
