"""What stands on a paper already, and which boxes are still free."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from viewer.figure.drawing import Arc, Area, Dimension, Hatch, Line, Text
from viewer.figure.typeface import ASCENT, DESCENT, wide

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from viewer.figure.drawing import Mark, Spot

    Numbers = NDArray[np.float64]

Box = tuple[float, float, float, float]
"""Left, top, right and bottom on the paper, millimetres."""

TICK = 0.9
"""Millimetres. Half of the oblique stroke at the ends of a dimension line."""
_CHORD = 9.0
"""Degrees of an arc that are taken as straight."""


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
        case Area():
            yield from zip(mark.points, (*mark.points[1:], mark.points[0]), strict=True)
        case Arc():
            yield from pairwise(arc_points(mark))
        case Dimension():
            yield from dimension_strokes(mark)
        case Text():
            pass


def surfaces(mark: Mark) -> Iterator[tuple[Spot, ...]]:
    """Yield every surface that a mark fills."""
    match mark:
        case Hatch():
            yield mark.outline
        case Area():
            yield mark.points
        case _:
            pass


def texts(mark: Mark) -> tuple[Text, ...]:
    """Return what a mark says."""
    match mark:
        case Text():
            return (mark,)
        case Dimension():
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


def dimension_strokes(mark: Dimension) -> Iterator[tuple[Spot, Spot]]:
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
        yield (end[0] - TICK, end[1] + TICK), (end[0] + TICK, end[1] - TICK)
    yield from pairwise(mark.leader)


_GAP = 0.8
"""Millimetres between what is measured and its extension line."""
_PAST = 1.2
"""Millimetres that an extension line goes past the dimension line."""


class _Table:
    """Rows of four numbers that grow, and are made an array of when they are asked."""

    def __init__(self) -> None:
        self._rows: list[Box] = []
        self._made: Numbers = np.empty((0, 4))

    def add(self, *rows: Box) -> None:
        self._rows += rows

    def rows(self) -> Numbers:
        if len(self._rows) != len(self._made):
            new = np.array(self._rows[len(self._made) :], dtype=float)
            self._made = np.concatenate([self._made, new])
        return self._made


class Obstacles:
    """Lines, surfaces and texts that no label may touch."""

    def __init__(self) -> None:
        """Start with an empty paper."""
        self._strokes = _Table()
        self._boxes = _Table()
        self._bounds = _Table()
        self._surfaces: list[Numbers] = []

    def add(self, mark: Mark) -> None:
        """Take a mark as standing on the paper."""
        filled = tuple(surfaces(mark))
        for outline in filled:
            # Whatever fills it, its edge and its inside are taken.
            ends = np.array(outline)
            self._surfaces.append(ends)
            across, down = zip(*outline, strict=True)
            self._bounds.add((min(across), min(down), max(across), max(down)))
            after = (*outline[1:], outline[0])
            self._strokes.add(*((*a, *b) for a, b in zip(outline, after, strict=True)))
        if not filled:
            self._strokes.add(*((*a, *b) for a, b in strokes(mark)))
        for text in texts(mark):
            self.take(box_of(text))

    def take(self, box: Box) -> None:
        """Keep a box free of everything that comes later."""
        self._boxes.add(box)

    def free(self, boxes: Numbers, *, room: Box, apart: float) -> NDArray[np.bool_]:
        """Tell which boxes, shape (n, 4), touch nothing.

        Args:
            boxes: Left, top, right and bottom.
            room: They must lie in it.
            apart: Millimetres that must be left around each.
        """
        grown = boxes + np.array([-apart, -apart, apart, apart])
        found: NDArray[np.bool_] = (
            (boxes[:, 0] >= room[0])
            & (boxes[:, 1] >= room[1])
            & (boxes[:, 2] <= room[2])
            & (boxes[:, 3] <= room[3])
        )
        # Whatever is far from all of them is looked at once only.
        hull = (*grown[:, :2].min(axis=0), *grown[:, 2:].max(axis=0))
        for rows, meets in ((self._boxes, _overlap), (self._strokes, _hits)):
            near = _near(rows.rows(), hull)
            if len(near) and found.any():
                found[found] &= ~meets(grown[found], near).any(axis=1)
        if found.any() and self._surfaces:
            met = _overlap(grown[found], self._bounds.rows()).any(axis=0)
            for place in np.flatnonzero(met):
                found[found] &= ~_within(grown[found], self._surfaces[place])
        return found

    def crosses_text(self, start: Spot, end: Spot) -> bool:
        """Tell whether a line would run through a text."""
        line = np.array([(*start, *end)])
        return bool(_hits(self._boxes.rows(), line).any())


def _near(rows: Numbers, box: Box) -> Numbers:
    """Return the rows, shape (n, 4), whose ends may lie in a box."""
    left, right = np.minimum(rows[:, 0], rows[:, 2]), np.maximum(rows[:, 0], rows[:, 2])
    top, bottom = np.minimum(rows[:, 1], rows[:, 3]), np.maximum(rows[:, 1], rows[:, 3])
    near = (right >= box[0]) & (left <= box[2])
    near &= (bottom >= box[1]) & (top <= box[3])
    return np.asarray(rows[near])


def _overlap(boxes: Numbers, others: Numbers) -> NDArray[np.bool_]:
    a, b = boxes[:, None, :], others[None, :, :]
    return np.asarray(
        (a[..., 0] < b[..., 2])
        & (b[..., 0] < a[..., 2])
        & (a[..., 1] < b[..., 3])
        & (b[..., 1] < a[..., 3])
    )


def _hits(boxes: Numbers, lines: Numbers) -> NDArray[np.bool_]:
    """Tell which boxes (n, 4) meet which lines (m, 4), shape (n, m)."""
    left, right = (
        np.minimum(lines[:, 0], lines[:, 2]),
        np.maximum(lines[:, 0], lines[:, 2]),
    )
    top, bottom = (
        np.minimum(lines[:, 1], lines[:, 3]),
        np.maximum(lines[:, 1], lines[:, 3]),
    )
    found = (left <= boxes[:, 2:3]) & (right >= boxes[:, 0:1])
    found &= (top <= boxes[:, 3:4]) & (bottom >= boxes[:, 1:2])
    # Few pairs are near one another; only of those it is asked more closely.
    which, of = np.nonzero(found)
    box, line = boxes[which], lines[of]
    across, down = line[:, 3] - line[:, 1], line[:, 0] - line[:, 2]
    middle = (box[:, :2] + box[:, 2:]) / 2 - line[:, :2]
    half = (box[:, 2:] - box[:, :2]) / 2
    away = np.abs(middle[:, 0] * across + middle[:, 1] * down)
    reach = np.abs(across) * half[:, 0] + np.abs(down) * half[:, 1]
    found[which, of] = away <= reach
    return np.asarray(found)


def _within(boxes: Numbers, surface: Numbers) -> NDArray[np.bool_]:
    """Tell which boxes have their middle in a surface; its edges are lines too."""
    x = ((boxes[:, 0] + boxes[:, 2]) / 2)[:, None]
    y = ((boxes[:, 1] + boxes[:, 3]) / 2)[:, None]
    a, b = surface[:, 0], surface[:, 1]
    c, d = np.roll(a, -1), np.roll(b, -1)
    spans = (b > y) != (d > y)
    slope = (c - a) / np.where(d == b, 1.0, d - b)
    left = x < a + (y - b) * slope
    return np.asarray((spans & left).sum(axis=1) % 2 == 1)


def free_of(mark_texts: Sequence[Text], others: Sequence[Mark]) -> list[str]:
    """Return a line for each text that touches a line, a surface or another text.

    For tests and for whoever draws a new kind of figure: every box is measured.
    """
    lines = np.array(
        [(*a, *b) for mark in others for a, b in strokes(mark)], dtype=float
    ).reshape(-1, 4)
    filled = [np.array(one) for mark in others for one in surfaces(mark)]
    boxes = np.array([box_of(text) for text in mark_texts]).reshape(-1, 4)
    found = []
    hits = _hits(boxes, lines) if len(lines) else np.zeros((len(boxes), 0), dtype=bool)
    shared = _overlap(boxes, boxes)
    for place, text in enumerate(mark_texts):
        if hits[place].any():
            line = lines[int(np.argmax(hits[place]))].round(1).tolist()
            found.append(f"{text.text!r} touches a line {line}")
        if any(_within(boxes[place : place + 1], one)[0] for one in filled):
            found.append(f"{text.text!r} lies on a surface")
        found += [
            f"{text.text!r} touches {mark_texts[other].text!r}"
            for other in np.flatnonzero(shared[place]).tolist()
            if other > place
        ]
    return found
