"""What stands beside the views: the hatches and lines explained, and north."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Fill, Hatch, Line, Text
from viewer.figure.drafting.hatch import hatched
from viewer.figure.drafting.pens import PENS
from viewer.figure.drafting.typeface import wide

if TYPE_CHECKING:
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.paper import Paper

_EXPLAINED: Final = (
    pens.SPACE,
    pens.BAND,
    pens.IN_THE_WAY,
    pens.LIVE,
    pens.GROUNDED,
    pens.CUT,
    pens.AHEAD,
    pens.OVERHEAD,
    pens.WAY,
    pens.LACKING,
    pens.PERSON,
)
_FILLED: Final = frozenset({pens.WAY, pens.PERSON})
_WIDE: Final = 8.0
_HIGH: Final = 3.0
_STEP: Final = 4.4
_SIZE: Final = 2.3


def key_width(layers: set[str]) -> float:
    """Return how wide the key of some layers is, millimetres."""
    words = [PENS[layer].meaning for layer in _EXPLAINED if layer in layers]
    return _WIDE + 2.0 + max((wide(one, _SIZE) for one in words), default=0.0)


def draw_row(paper: Paper, at: Spot, room: float, layers: set[str]) -> None:
    """Explain the layers that are used in columns below a drawing.

    Args:
        paper: Where it is drawn.
        at: The upper left corner.
        room: How wide all columns are together, millimetres.
        layers: Those that are used.
    """
    used = [layer for layer in _EXPLAINED if layer in layers]
    columns = max(1, int(room // (key_width(layers) + 4.0)))
    rows = -(-len(used) // columns)
    for column in range(columns):
        some: set[str] = set(used[column * rows : (column + 1) * rows])
        left = round(at[0] + column * room / columns, 3)
        draw_key(paper, (left, at[1]), some)


def draw_key(paper: Paper, at: Spot, layers: set[str]) -> None:
    """Explain the layers that are used; ``at`` is the upper left corner."""
    x, y = at
    for layer in _EXPLAINED:
        if layer not in layers:
            continue
        pen = PENS[layer]
        corners = ((x, y), (x + _WIDE, y), (x + _WIDE, y + _HIGH), (x, y + _HIGH))
        middle = y + _HIGH / 2
        if pen.pattern is not None:
            paper.put(Hatch(layer, corners, hatched(corners, pen.pattern)))
            if layer != pens.LIVE:
                paper.put(Line(pens.LEADER, corners, closed=True))
        elif layer in _FILLED:
            paper.put(Fill(layer, corners))
        else:
            paper.put(Line(layer, ((x, middle), (x + _WIDE, middle))))
        words = Text(pens.SHEET, (x + _WIDE + 2.0, middle + 0.9), pen.meaning, _SIZE)
        paper.put(words)
        y += _STEP


def draw_north(paper: Paper, middle: Spot, axes: Axes, size: float = 6.0) -> None:
    """Draw an arrow to the north of a plan, with its letter."""
    right, up, _ = (
        np.array([0.0, 1.0, 0.0]) @ np.array([axes.right, axes.up, axes.towards]).T
    )
    turn = math.atan2(float(up), float(right))
    # The middle is that of arrow and letter, whichever way they point.
    middle = _off(middle, turn, -size / 2)
    tip = _off(middle, turn, size)
    left, other = (
        _off(middle, turn + 2.5, size * 0.75),
        _off(middle, turn - 2.5, size * 0.75),
    )
    back = _off(middle, turn + math.pi, size * 0.25)
    paper.put(
        Fill(pens.SHEET, (tip, left, back)),
        Line(pens.LEADER, (tip, left, back, other), closed=True),
    )
    letter = _off(middle, turn, size + 2.2)
    paper.put(
        Text(pens.SHEET, (letter[0], letter[1] + 1.0), "N", 3.0, "middle", bold=True)
    )


def _off(middle: Spot, turn: float, by: float) -> Spot:
    x, y = middle
    return round(x + by * math.cos(turn), 3), round(y - by * math.sin(turn), 3)
