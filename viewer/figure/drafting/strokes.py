"""What a mark puts on the paper: its boxes, straight lines, surfaces and texts."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting.drawing import Arc, DimensionLine, Fill, Hatch, Line, Text
from viewer.figure.drafting.typeface import ASCENT, DESCENT, wide

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.figure.drafting.drawing import Mark, Spot

Box = tuple[float, float, float, float]
"""Left, top, right and bottom on the paper, millimetres."""

_TICK: Final = 0.9
"""Millimetres. Half of the oblique stroke at the ends of a dimension line."""
_CHORD: Final = 9.0
"""Degrees of an arc that are taken as straight."""
_GAP: Final = 0.8
"""Millimetres between what is measured and its extension line."""
_PAST: Final = 1.2
"""Millimetres that an extension line goes past the dimension line."""


def box_of(text: Text) -> Box:
    """Return the box that a text takes."""
    width = wide(text.text, text.size, bold=text.bold)
    left = text.at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    top, bottom = text.at[1] - ASCENT * text.size, text.at[1] + DESCENT * text.size
    return left, top, left + width, bottom


def strokes(mark: Mark) -> Iterator[tuple[Spot, Spot]]:
    """Yield every straight line that a mark puts on the paper."""
    match mark:
        case Line():
            points = mark.points
            yield from pairwise(points)
            if mark.closed and points:
                yield points[-1], points[0]
        case Hatch():
            yield from mark.lines
        case Fill():
            yield from zip(mark.points, (*mark.points[1:], mark.points[0]), strict=True)
        case Arc():
            yield from pairwise(arc_points(mark))
        case DimensionLine():
            yield from dimension_strokes(mark)
        case Text():
            pass


def surfaces(mark: Mark) -> Iterator[tuple[Spot, ...]]:
    """Yield every surface that a mark fills."""
    match mark:
        case Hatch():
            yield mark.outline
        case Fill():
            yield mark.points
        case _:
            pass


def texts(mark: Mark) -> tuple[Text, ...]:
    """Return what a mark says."""
    match mark:
        case Text():
            return (mark,)
        case DimensionLine():
            return mark.texts
        case _:
            return ()


def arc_points(arc: Arc) -> tuple[Spot, ...]:
    """Return points along an arc, near enough to draw straight lines between."""
    count = max(2, math.ceil(abs(arc.end - arc.start) / _CHORD) + 1)
    angles = np.radians(np.linspace(arc.start, arc.end, count))
    x, y = arc.middle
    return tuple(
        (x + arc.radius * math.cos(a), y - arc.radius * math.sin(a)) for a in angles
    )


def dimension_strokes(mark: DimensionLine) -> Iterator[tuple[Spot, Spot]]:
    """Yield a dimension's line, its extension lines, its ticks and its leader."""
    one, other = mark.line
    yield one, other
    for measured, end in ((mark.start, one), (mark.end, other)):
        away = math.dist(measured, end)
        if away > 2 * _GAP:
            x, y = (end[0] - measured[0]) / away, (end[1] - measured[1]) / away
            yield (
                (measured[0] + x * _GAP, measured[1] + y * _GAP),
                (end[0] + x * _PAST, end[1] + y * _PAST),
            )
        yield (end[0] - _TICK, end[1] + _TICK), (end[0] + _TICK, end[1] - _TICK)
    yield from pairwise(mark.leader)
