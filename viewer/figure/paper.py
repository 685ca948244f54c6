"""A paper that a figure is put together on: marks first, then labels where room is."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure import pens
from viewer.figure.drawing import Dimension, Line, Text
from viewer.figure.obstacles import Obstacles
from viewer.figure.typeface import ASCENT, DESCENT, LINE, wide

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.figure.drawing import Mark, Spot
    from viewer.figure.obstacles import Box

SIZE: Final = 2.5
"""Millimetres. Height of the typeface of names and sizes: letters of 1.8 mm, the
least of ISO 3098."""
APART: Final = 0.45
"""Millimetres that are left between a label and anything else."""
_NEAR: Final = 1.6
"""Millimetres. A label that is further from its thing gets a leader."""
_RINGS: Final = (0.7, 1.5, 3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 55.0)
_ROUND: Final = (
    (1, 0), (0, -1), (-1, 0), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1),
    (1, -0.5), (-1, -0.5), (1, 0.5), (-1, 0.5), (0.5, -1), (-0.5, -1),
    (0.5, 1), (-0.5, 1),
)  # fmt: skip
"""Where a label is tried around its point: beside first, then above and below."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words that need a place.

    Attributes:
        lines: What is written, one below the other.
        thing: The box of what they belong to; a point is a box without a size.
        room: The box they must lie in.
        layer: Their meaning.
        size: Of the letters.
        bold: How many lines, from the first, are in heavy letters.
        inside: Middles of boxes to be tried first: in the thing itself.
        needed: Left out rather than led far away where False, and with it the
            dimension that it belongs to.
        far: Millimetres that it is led away at most, where it is not needed.
    """

    lines: tuple[str, ...]
    thing: Box
    room: Box
    layer: str = pens.NAME
    size: float = SIZE
    bold: int = 0
    inside: tuple[Spot, ...] = ()
    needed: bool = True
    far: float = 12.0


class Paper:
    """Marks that stand, and a place for each label that touches none of them."""

    def __init__(self, width: float, height: float) -> None:
        """Take an empty paper of a size in millimetres."""
        self.width, self.height = width, height
        self.marks: list[Mark] = []
        self.lost: list[Label] = []
        self._obstacles = Obstacles()
        self._dropped: set[int] = set()
        self._pending: list[tuple[Label, int | None]] = []

    def put(self, *marks: Mark) -> None:
        """Draw marks."""
        for mark in marks:
            self.marks.append(mark)
            self._obstacles.add(mark)

    def keep_free(self, box: Box) -> None:
        """Let no label come into a box."""
        self._obstacles.take(box)

    def label(self, label: Label) -> None:
        """Ask for a place for words; it is found once everything is drawn."""
        self._pending.append((label, None))

    def dimension(self, mark: Dimension, label: Label) -> None:
        """Draw a dimension, and ask for a place for its words."""
        self._pending.append((label, len(self.marks)))
        self.put(mark)

    def settle(self) -> None:
        """Give every label its place, those asked for first before the others."""
        for label, of in self._pending:
            self._place(label, of)
        self._pending = []
        self.marks = [
            mark for n, mark in enumerate(self.marks) if n not in self._dropped
        ]
        self._dropped = set()

    def _place(self, label: Label, of: int | None) -> None:
        found = self._found(label)
        if found is None:
            self.lost.append(label)
            if of is not None and not label.needed:
                self._dropped.add(of)
            return
        box, leader = found
        written = tuple(_written(label, box))
        for text in written:
            self._obstacles.add(text)
        if leader:
            self._obstacles.add(Line(pens.LEADER, leader))
        if of is None:
            self.marks += written
            if leader:
                self.marks.append(Line(pens.LEADER, leader))
            return
        mark = self.marks[of]
        if isinstance(mark, Dimension):
            self.marks[of] = replace(mark, texts=written, leader=leader)

    def _found(self, label: Label) -> tuple[Box, tuple[Spot, ...]] | None:
        inside = len(label.inside)
        place = 0
        for some in _tried(label):
            boxes = np.array(some)
            free = self._obstacles.free(boxes, room=label.room, apart=APART)
            for number in np.flatnonzero(free):
                left, top, right, bottom = (float(one) for one in boxes[number])
                box = (left, top, right, bottom)
                away = _away(label.thing, box)
                if place + number < inside or away <= _NEAR:
                    return box, ()
                if not label.needed and away > label.far:
                    return None
                leader = _leader(label, box)
                if not self._obstacles.crosses_text(*leader):
                    return box, leader
            place += len(some)
        return None


def extent(label: Label) -> tuple[float, float]:
    """Return how wide and how high the words of a label are, millimetres."""
    width = max(
        wide(line, label.size, bold=number < label.bold)
        for number, line in enumerate(label.lines)
    )
    rest = LINE * label.size * (len(label.lines) - 1)
    return width, (ASCENT + DESCENT) * label.size + rest


def _tried(label: Label) -> Iterator[list[Box]]:
    """Yield places to try, the best first, some at a time."""
    width, height = extent(label)
    half_x, half_y = width / 2, height / 2
    if label.inside:
        yield [
            (x - half_x, y - half_y, x + half_x, y + half_y) for x, y in label.inside
        ]
    left, top, right, bottom = label.thing
    x, y = (left + right) / 2, (top + bottom) / 2
    for rings in (_RINGS[:1], _RINGS[1:4], _RINGS[4:8], _RINGS[8:]):
        found: list[Box] = []
        for ring in rings:
            away_x = (right - left) / 2 + ring + half_x
            away_y = (bottom - top) / 2 + ring + half_y
            for across, down in _ROUND:
                a, b = x + across * away_x, y + down * away_y
                found.append((a - half_x, b - half_y, a + half_x, b + half_y))
        yield found
    if label.needed:
        yield from _anywhere(label, width, height)


def _anywhere(label: Label, width: float, height: float) -> Iterator[list[Box]]:
    """Yield places all over the room of a label, the nearest first."""
    left, top, right, bottom = label.room
    across, down = (
        np.arange(left, right - width, 3.0),
        np.arange(top, bottom - height, 2.0),
    )
    x, y = (one.ravel() for one in np.meshgrid(across, down))
    thing = label.thing
    off_x = np.maximum(np.maximum(x - thing[2], thing[0] - x - width), 0.0)
    off_y = np.maximum(np.maximum(y - thing[3], thing[1] - y - height), 0.0)
    order = np.argsort(np.round(np.hypot(off_x, off_y), 3), kind="stable")[:_MOST]
    boxes = np.column_stack([x, y, x + width, y + height])[order].tolist()
    for start in range(0, len(boxes), _MANY):
        yield [(a, b, c, d) for a, b, c, d in boxes[start : start + _MANY]]


_MANY: Final = 64
_MOST: Final = 900
"""So many places are tried all over a room before a label is given up."""


def _written(label: Label, box: Box) -> Iterator[Text]:
    left, top, _, _ = box
    size = label.size
    for number, line in enumerate(label.lines):
        base = round(top + ASCENT * size + number * LINE * size, 3)
        yield Text(
            label.layer,
            (round(left, 3), base),
            line,
            size,
            bold=number < label.bold,
        )


def _away(thing: Box, box: Box) -> float:
    x = max(box[0] - thing[2], 0.0, thing[0] - box[2])
    y = max(box[1] - thing[3], 0.0, thing[1] - box[3])
    return math.hypot(x, y)


def _leader(label: Label, box: Box) -> tuple[Spot, Spot]:
    """Return the line from beside a box to the nearest place inside its thing."""
    x = _nearest((box[0] + box[2]) / 2, label.thing[0], label.thing[2])
    y = _nearest((box[1] + box[3]) / 2, label.thing[1], label.thing[3])
    left, top, right, bottom = box
    gap = APART + 0.05
    near_x, near_y = min(max(x, left), right), min(max(y, top), bottom)
    if x < left or x > right:
        near_x = left - gap if x < left else right + gap
        near_y = (top + bottom) / 2
    else:
        near_y = top - gap if y < top else bottom + gap
    return (round(near_x, 3), round(near_y, 3)), (round(x, 3), round(y, 3))


def _nearest(here: float, low: float, high: float) -> float:
    """Return the place on a span that is nearest, a third of it from its ends."""
    inset = min((high - low) / 3, _INSET)
    return min(max(here, low + inset), high - inset)


_INSET: Final = 1.6
"""Millimetres that a leader goes into its thing."""


def at_point(point: Spot) -> Box:
    """Return a point as a box without a size."""
    return (*point, *point)
