"""How much of a paper is drawn on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.figure.obstacles import box_of, strokes, texts

if TYPE_CHECKING:
    from collections.abc import Iterable

    from viewer.figure.drawing import Mark

_LEFT_OVER: Final = 1.5
"""Millimetres below the lowest mark."""


def lowest(marks: Iterable[Mark]) -> float:
    """Return how far down marks reach, with a little paper below, millimetres."""
    found = 0.0
    for mark in marks:
        for one, other in strokes(mark):
            found = max(found, one[1], other[1])
        for text in texts(mark):
            found = max(found, box_of(text)[3])
    return round(found + _LEFT_OVER, 2)
