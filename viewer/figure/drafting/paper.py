"""A paper that a figure is put together on: marks first, then labels where room is."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Arc, DimensionLine, Line, Text
from viewer.figure.drafting.labels.label import are_apart
from viewer.figure.drafting.labels.obstacles import Obstacles
from viewer.figure.drafting.labels.spots import (
    away,
    cross,
    extent,
    leader,
    slope,
    tried,
)
from viewer.figure.drafting.strokes import box_of
from viewer.figure.drafting.typeface import ASCENT, LINE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.figure.drafting.drawing import Mark, Spot
    from viewer.figure.drafting.labels.label import FigureLabel
    from viewer.figure.drafting.strokes import Box

APART: Final = 0.45
"""Millimetres that are left between a label and anything else."""
_NEAR: Final = 1.6
"""Millimetres. A label that is further from its thing gets a leader."""
_FURTHER: Final = 8.0
"""Millimetres that a label may stand further off so that its leader crosses none."""
_SLOPE: Final = 20.0
"""Degrees that a leader leaves its dimension line at, at least."""
_LEFT_OVER: Final = 1.5
"""Millimetres below the lowest mark."""
_RIM: Final = 0.35
"""Millimetres between the number of a note and the ring around it."""


class Paper:
    """Marks that stand, and a place for each label that touches none of them.

    Attributes:
        width, height: Millimetres.
        marks: What is drawn.
        notes: What found no place in the drawing though it decides: the number that
            stands there instead of it, "" where not even that has room, and its words.
        home: Of a plan: the spot of the scene's own origin.
    """

    def __init__(self, width: float, height: float) -> None:
        """Take an empty paper of a size in millimetres."""
        self.width, self.height = width, height
        self.marks: list[Mark] = []
        self.notes: list[tuple[str, str]] = []
        self.home: Spot | None = None
        self._obstacles = Obstacles(width, height)
        self._leaders: list[tuple[Spot, ...]] = []
        self._foot = 0.0
        self._dropped: set[int] = set()
        self._pending: list[tuple[FigureLabel, int | None]] = []

    def put(self, *marks: Mark) -> None:
        """Draw marks."""
        for mark in marks:
            self.marks.append(mark)
            self._obstacles.add(mark)

    def label(self, label: FigureLabel) -> None:
        """Ask for a place for words; it is found once everything is drawn."""
        self._pending.append((label, None))

    def dimension(self, mark: DimensionLine, label: FigureLabel) -> None:
        """Draw a dimension, and ask for a place for its words."""
        self._pending.append((label, len(self.marks)))
        self.put(mark)

    def settle(self) -> None:
        """Give every label its place, those asked for first before the others.

        What is needed and has no place becomes a note, with its number in the drawing.
        """
        lost = [
            (label, of) for label, of in self._pending if not self._place(label, of)
        ]
        for label, of in lost:
            if label.needed:
                self._note(label, of)
            elif of is not None:
                self._dropped.add(of)
        self._pending = []
        self.marks = [
            mark for n, mark in enumerate(self.marks) if n not in self._dropped
        ]
        self._dropped = set()

    def lowest(self) -> float:
        """Return how far down it is drawn on, with a little paper below."""
        return round(max(self._obstacles.lowest(), self._foot) + _LEFT_OVER, 2)

    def foot(self, *texts: Text) -> None:
        """Write below everything, on as much more paper as that takes."""
        self.put(*texts)
        self._foot = max([self._foot, *(box_of(one)[3] for one in texts)])
        self.height = max(self.height, self.lowest())

    def _place(self, label: FigureLabel, of: int | None) -> bool:
        found = self._found(label, of)
        if found is None and label.layer == pens.MISSING:
            found = self._found(label, None)  # a note is worse for what decides
        if found is None:
            return False
        box, line = found
        self._write(tuple(_written(label, box)), line, of)
        return True

    def _note(self, label: FigureLabel, of: int | None) -> None:
        """Write the number of a note, in a ring, where the words have no room."""
        number = str(len(self.notes) + 1)
        words = " ".join(label.lines)
        words = f"{label.about}: {words}" if label.about else words
        room = (0.0, 0.0, self.width, self.height)
        tag = replace(label, lines=(number,), room=room, bold=1, far=None)
        across, down = extent(tag)
        radius = round(math.hypot(across, down) / 2 + _RIM, 3)
        grown = (radius - across / 2, radius - down / 2)
        found = self._found(tag, of, grown) or self._found(tag, None, grown)
        if found is None:
            self.notes.append(("", words))
            return
        box, line = found
        self.notes.append((number, words))
        middle = (round((box[0] + box[2]) / 2, 3), round((box[1] + box[3]) / 2, 3))
        inner = (middle[0] - across / 2, middle[1] - down / 2, *middle)
        self._write(tuple(_written(tag, inner)), line, of)
        self.put(Arc(pens.LEADER, middle, radius, 0.0, 360.0))

    def _write(
        self, texts: tuple[Text, ...], line: tuple[Spot, ...], of: int | None
    ) -> None:
        """Write words that have their place, as those of a dimension if it is given."""
        for text in texts:
            self._obstacles.add(text)
        if line:
            self._obstacles.add(Line(pens.LEADER, line))
            self._leaders.append(line)
        mark = None if of is None else self.marks[of]
        if of is not None and isinstance(mark, DimensionLine):
            self.marks[of] = replace(mark, texts=texts, leader=line)
            return
        self.marks += texts
        if line:
            self.marks.append(Line(pens.LEADER, line))

    def _found(
        self,
        label: FigureLabel,
        of: int | None,
        grown: tuple[float, float] = (0.0, 0.0),
    ) -> tuple[Box, tuple[Spot, ...]] | None:
        """Return a free place and a leader to it, () where none is needed.

        Leaders that cross are hard to follow: only where nothing else is free near by.
        One along the dimension line itself would seem to belong to the next dimension.

        Args:
            label: The words.
            of: The mark whose dimension they tell, if they do.
            grown: What is kept free around them, across and down, millimetres.
        """
        inside, (x, y) = len(label.inside), grown
        nearest: tuple[float, Box, tuple[Spot, ...]] | None = None
        mark = None if of is None else self.marks[of]
        along = mark.line if isinstance(mark, DimensionLine) else ()
        left, top, right, bottom = label.room
        right, bottom = min(right, self.width), min(bottom, self.height)
        room = max(left, 0.0), max(top, 0.0), right, bottom
        boxes = tried(label)
        if x or y:
            boxes = ((a - x, b - y, c + x, d + y) for a, b, c, d in boxes)
        for place, box in self._obstacles.free(boxes, room, APART):
            off = away(label.thing, box)
            if place < inside:
                return box, ()
            if off > label.reach or _stands_in(box, label):
                continue
            if off <= _NEAR:
                return box, ()
            line = leader(label.thing, box, APART + 0.05)
            if along and slope(line, along) < _SLOPE:
                continue
            if self._obstacles.crosses_text(*line):
                continue
            if not any(cross(line, one) for one in self._leaders):
                return box, line
            nearest = nearest or (off, box, line)
            if off > nearest[0] + _FURTHER:
                break
        return nearest and nearest[1:]


def _stands_in(box: Box, label: FigureLabel) -> bool:
    """Tell whether the middle of a box lies in a thing beside the label's own."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    return any(
        one[0] < x < one[2] and one[1] < y < one[3] and are_apart(label.thing, one)
        for one in label.others
    )


def _written(label: FigureLabel, box: Box) -> Iterator[Text]:
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
