"""Where the words of a label may stand, the best place first, and its leader."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting.typeface import ASCENT, DESCENT, LINE, wide

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.labels.label import FigureLabel
    from viewer.figure.drafting.strokes import Box

_RINGS: Final = (0.7, 1.5, 3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0)
_ROUND: Final = (
    (1, 0), (0, -1), (-1, 0), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1),
    (1, -0.5), (-1, -0.5), (1, 0.5), (-1, 0.5), (0.5, -1), (-0.5, -1),
    (0.5, 1), (-0.5, 1),
)  # fmt: skip
"""Where a label is tried around its point: beside first, then above and below."""
_MOST: Final = 900
"""So many places are tried all over a room before a label is given up."""
_INSET: Final = 1.6
"""Millimetres that a leader goes into its thing."""


def extent(label: FigureLabel) -> tuple[float, float]:
    """Return how wide and how high the words of a label are, millimetres."""
    width = max(
        wide(line, label.size, bold=number < label.bold)
        for number, line in enumerate(label.lines)
    )
    rest = LINE * label.size * (len(label.lines) - 1)
    return width, (ASCENT + DESCENT) * label.size + rest


def tried(label: FigureLabel) -> Iterator[Box]:
    """Yield places to try as boxes, the best first.

    In the thing itself, in the rows given and around it; then, of what is needed, all
    over its room.
    """
    width, height = extent(label)
    half_x, half_y = width / 2, height / 2
    for x, y in (*label.inside, *label.rows):
        yield x - half_x, y - half_y, x + half_x, y + half_y
    left, top, right, bottom = label.thing
    x, y = (left + right) / 2, (top + bottom) / 2
    rings = [one for one in _RINGS if one <= label.reach]
    for ring in rings:
        away_x = (right - left) / 2 + ring + half_x
        away_y = (bottom - top) / 2 + ring + half_y
        for across, down in _ROUND:
            a, b = x + across * away_x, y + down * away_y
            yield a - half_x, b - half_y, a + half_x, b + half_y
    if label.needed and label.far is None:
        yield from _anywhere(label, width, height)


def _anywhere(label: FigureLabel, width: float, height: float) -> Iterator[Box]:
    """Yield places all over the room of a label, the nearest first."""
    left, top, right, bottom = label.room
    across = np.arange(left, right - width, 3.0)
    down = np.arange(top, bottom - height, 2.0)
    x, y = (one.ravel() for one in np.meshgrid(across, down))
    thing = label.thing
    off_x = np.maximum(np.maximum(x - thing[2], thing[0] - x - width), 0.0)
    off_y = np.maximum(np.maximum(y - thing[3], thing[1] - y - height), 0.0)
    order = np.argsort(np.round(np.hypot(off_x, off_y), 3), kind="stable")[:_MOST]
    for a, b in zip(x[order].tolist(), y[order].tolist(), strict=True):
        yield a, b, a + width, b + height


def away(thing: Box, box: Box) -> float:
    """Return how far a box is from its thing, millimetres."""
    x = max(box[0] - thing[2], 0.0, thing[0] - box[2])
    y = max(box[1] - thing[3], 0.0, thing[1] - box[3])
    return math.hypot(x, y)


def leader(thing: Box, box: Box, gap: float) -> tuple[Spot, Spot]:
    """Return the line from a gap beside a box to the nearest place inside its thing."""
    x = _nearest((box[0] + box[2]) / 2, thing[0], thing[2])
    y = _nearest((box[1] + box[3]) / 2, thing[1], thing[3])
    left, top, right, bottom = box
    near_x, near_y = min(max(x, left), right), min(max(y, top), bottom)
    if x < left or x > right:
        near_x = left - gap if x < left else right + gap
        near_y = (top + bottom) / 2
    else:
        near_y = top - gap if y < top else bottom + gap
    return (round(near_x, 3), round(near_y, 3)), (round(x, 3), round(y, 3))


def cross(line: Sequence[Spot], other: Sequence[Spot]) -> bool:
    """Tell whether two straight lines cross.

    >>> cross(((0, 0), (2, 2)), ((0, 2), (2, 0)))
    True
    >>> cross(((0, 0), (1, 1)), ((2, 0), (2, 3)))
    False
    """
    (a, b), (c, d) = line, other
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def slope(line: Sequence[Spot], other: Sequence[Spot]) -> float:
    """Return the angle between two straight lines, degrees from 0 to 90.

    >>> round(slope(((0, 0), (1, 1)), ((5, 0), (0, 0))), 6)
    45.0
    """
    (a, b), (c, d) = line, other
    one, two = (math.atan2(to[1] - at[1], to[0] - at[0]) for at, to in ((a, b), (c, d)))
    turn = math.degrees(abs(one - two)) % 180.0
    return min(turn, 180.0 - turn)


def _turn(one: Spot, then: Spot, to: Spot) -> float:
    """Return which way it turns at the second of three points, by its sign."""
    return (then[0] - one[0]) * (to[1] - one[1]) - (then[1] - one[1]) * (to[0] - one[0])


def _nearest(here: float, low: float, high: float) -> float:
    """Return the place on a span that is nearest, a third of it from its ends."""
    inset = min((high - low) / 3, _INSET)
    return min(max(here, low + inset), high - inset)
