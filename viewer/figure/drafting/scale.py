"""The scale of a drawing: the largest usual one that fits, and its bar."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.wording import INCH_POUND
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Fill, Line, Text

if TYPE_CHECKING:
    from collections.abc import Callable

    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.paper import Paper

_METRIC: Final = (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250)
_INCH: Final = (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 240)
_NAMES: Final = {
    1: "full size",
    2: "6 in = 1 ft",
    4: "3 in = 1 ft",
    8: "1 1/2 in = 1 ft",
    12: "1 in = 1 ft",
    16: "3/4 in = 1 ft",
    24: "1/2 in = 1 ft",
    32: "3/8 in = 1 ft",
    48: "1/4 in = 1 ft",
    64: "3/16 in = 1 ft",
    96: "1/8 in = 1 ft",
    128: "3/32 in = 1 ft",
    192: "1/16 in = 1 ft",
    240: "1 in = 20 ft",
}
"""Scales of the architect's rule, as they are said."""
_SMALLEST: Final = 1_000_000
"""A drawing that does not fit at this scale fits at none."""
_FOOT: Final = 0.3048
_LONGEST: Final = 42.0
"""Millimetres of paper that a scale bar takes at most."""
_WORDS: Final = 5.0
"""Millimetres right of a bar for the half of its words."""
_HIGH: Final = 1.2


def fitting(units: str, fits: Callable[[float], bool]) -> float:
    """Return the largest usual scale at which a drawing fits.

    >>> fitting("mm", lambda scale: scale >= 33), fitting("ft", lambda s: s >= 33)
    (40, 48)
    """
    usual = _INCH if units in INCH_POUND else _METRIC
    scale = next((one for one in usual if fits(one)), usual[-1])
    while not fits(scale):
        scale *= 2
        if scale > _SMALLEST:
            break
    return scale


def scale_words(scale: float, units: str) -> str:
    """Say a scale as the trade says it.

    >>> scale_words(25, "mm"), scale_words(24, "ft")
    ('1:25', '1:24 (1/2 in = 1 ft)')
    """
    plain = f"1:{scale:g}"
    name = _NAMES.get(int(scale), "") if units in INCH_POUND else ""
    return f"{plain} ({name})" if name else plain


def draw_bar(paper: Paper, at: Spot, scale: float, units: str) -> None:
    """Draw a bar with the real lengths it stands for; ``at`` is its left end.

    It is as long as there is room for to the right, a whole number of units.
    """
    longest = min(_LONGEST, paper.width - at[0] - _WORDS)
    feet = units in INCH_POUND
    unit = _FOOT if feet else 1.0
    whole = next(
        (
            n
            for n in (50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1)
            if _paper(n * unit, scale) <= longest
        ),
        0.05,
    )
    length = _paper(whole * unit, scale)
    x, y = at
    for part in range(4):
        left, right = x + length * part / 4, x + length * (part + 1) / 4
        corners = ((left, y), (right, y), (right, y + _HIGH), (left, y + _HIGH))
        if part % 2 == 0:
            paper.put(Fill(pens.SHEET, corners))
        paper.put(Line(pens.LEADER, corners, closed=True))
    words = f"{whole:g} {'ft' if feet else 'm'}"
    paper.put(
        Text(pens.SHEET, (x, y + 4.0), "0", 2.2, "middle"),
        Text(pens.SHEET, (x + length, y + 4.0), words, 2.2, "middle"),
    )


def _paper(metres: float, scale: float) -> float:
    return metres * 1000 / scale
