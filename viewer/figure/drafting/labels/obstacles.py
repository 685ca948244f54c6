"""What stands on a paper already, and which boxes are still free."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image, ImageDraw

from viewer.figure.drafting.drawing import Line
from viewer.figure.drafting.strokes import box_of, strokes, surfaces, texts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import NDArray

    from viewer.figure.drafting.drawing import Mark, Spot
    from viewer.figure.drafting.strokes import Box

    Numbers = NDArray[np.float64]

_CELLS: Final = 3
"""Cells of the raster a millimetre, across and down."""
_LEADER: Final = 0.3
"""Millimetres that a leader leaves to a text that it passes."""
_BETWEEN: Final = 0.9
"""Millimetres around a text, half as much above it, that another one does not come
into, lest two be read as one; below it stays the descent that its box has."""
_EDGE: Final = 4
"""Cells around the paper, so that what is asked of its edge lies in the raster."""


class Obstacles:
    """Lines, surfaces and texts that no label may touch, in a raster of small cells.

    Each row of the raster is one whole number, a bit a cell: so a box is asked of its
    rows at once.
    """

    def __init__(self, width: float, height: float) -> None:
        """Start with an empty paper of a size in millimetres."""
        across, down = (math.ceil(one * _CELLS) + 2 * _EDGE for one in (width, height))
        self._size = across, down
        self._lines: list[Box] = []
        self._texts: list[Box] = []
        self._surfaces: list[tuple[Spot, ...]] = []
        self._rows = [0] * down
        self._is_filled = False

    def add(self, mark: Mark) -> None:
        """Take a mark as standing on the paper."""
        if isinstance(mark, Line) and not self._is_filled:  # most marks are
            points = mark.points
            if len(points) == 2 and not mark.closed:  # noqa: PLR2004 - from here to there
                self._lines.append((*points[0], *points[1]))
            else:
                self._lines += [(*one, *other) for one, other in strokes(mark)]
            return
        # Whatever fills a surface, its edge and its inside are taken.
        filled = tuple(surfaces(mark))
        self._surfaces += filled
        if not filled and self._is_filled:
            for one, other in strokes(mark):
                self._cross(one, other)
        elif not filled:
            self._lines += [(*one, *other) for one, other in strokes(mark)]
        for text in texts(mark):
            box = box_of(text)
            self._texts.append(box)
            left, top, right, bottom = box
            bits, rows = _bits(
                (left - _BETWEEN, top - _BETWEEN / 2, right + _BETWEEN, bottom)
            )
            for row in rows:
                if 0 <= row < len(self._rows):
                    self._rows[row] |= bits

    def free(
        self, boxes: Iterable[Box], room: Box, apart: float
    ) -> Iterator[tuple[int, Box]]:
        """Yield which boxes lie in a room and touch nothing, with their numbers.

        Args:
            boxes: Left, top, right and bottom of each.
            room: What they must lie in; it is on the paper.
            apart: Millimetres that must be left around them, about.
        """
        if self._lines or self._surfaces:
            self._fill()
        left, top, right, bottom = room
        rows, floor, ceil = self._rows, math.floor, math.ceil
        # So many places are tried for each label that plain loops pay.
        for number, (a, b, c, d) in enumerate(boxes):
            if a < left or b < top or c > right or d > bottom:
                continue
            first = floor((a - apart) * _CELLS) + _EDGE
            last = ceil((c + apart) * _CELLS) + _EDGE
            bits = ((1 << (last - first)) - 1) << first
            upper = floor((b - apart) * _CELLS) + _EDGE
            for row in rows[upper : ceil((d + apart) * _CELLS) + _EDGE]:
                if row & bits:
                    break
            else:
                yield number, (a, b, c, d)

    def lowest(self) -> float:
        """Return how far down the paper is taken, millimetres."""
        self._fill()
        taken = max((n for n, row in enumerate(self._rows) if row), default=-1)
        return (taken + 1 - _EDGE) / _CELLS if taken >= 0 else 0.0

    def _fill(self) -> None:
        """Take the cells of all that came since the last time."""
        image = Image.new("L", self._size)
        draw = ImageDraw.Draw(image)
        for outline in self._surfaces:
            places = [(x * _CELLS + _EDGE, y * _CELLS + _EDGE) for x, y in outline]
            draw.polygon(places, fill=1, outline=1)
        cells = np.array(image)
        if self._lines:
            x, y = _cells_of(np.array(self._lines))
            inside = (x >= 0) & (y >= 0) & (x < self._size[0]) & (y < self._size[1])
            cells[y[inside], x[inside]] = 1
        self._lines, self._surfaces, self._is_filled = [], [], True
        (taken,) = np.nonzero(cells.any(axis=1))
        packed = np.packbits(cells, axis=1, bitorder="little")
        for number in taken.tolist():
            self._rows[number] |= int.from_bytes(packed[number].tobytes(), "little")

    def _cross(self, start: Spot, end: Spot) -> None:
        """Take the cells of one line at once."""
        x, y = (one * _CELLS + _EDGE for one in start)
        a, b = (one * _CELLS + _EDGE for one in end)
        count = math.ceil(max(abs(a - x), abs(b - y)) * 2) + 1
        for step in range(count + 1):
            row = math.floor(y + step * (b - y) / count)
            cell = math.floor(x + step * (a - x) / count)
            if 0 <= row < len(self._rows) and cell >= 0:
                self._rows[row] |= 1 << cell

    def crosses_text(self, start: Spot, end: Spot) -> bool:
        """Tell whether a line would run through a text."""
        (x, y), (a, b) = start, end
        left, right = min(x, a) - _LEADER, max(x, a) + _LEADER
        top, bottom = min(y, b) - _LEADER, max(y, b) + _LEADER
        across, down = b - y, x - a
        for box in self._texts:
            if box[0] > right or box[2] < left or box[1] > bottom or box[3] < top:
                continue
            # Whether the line lies between the corners of the box, with its margin.
            off_x, off_y = (box[0] + box[2]) / 2 - x, (box[1] + box[3]) / 2 - y
            half_x = (box[2] - box[0]) / 2 + _LEADER
            half_y = (box[3] - box[1]) / 2 + _LEADER
            away = abs(off_x * across + off_y * down)
            if away <= abs(across) * half_x + abs(down) * half_y:
                return True
        return False


def _bits(box: Box) -> tuple[int, range]:
    """Return the bits of a row that a box takes, and its rows."""
    left, right = math.floor(box[0] * _CELLS), math.ceil(box[2] * _CELLS)
    top, bottom = math.floor(box[1] * _CELLS), math.ceil(box[3] * _CELLS)
    first, last = max(left + _EDGE, 0), right + _EDGE
    bits = ((1 << (last - first)) - 1) << first if last > first else 0
    return bits, range(top + _EDGE, bottom + _EDGE)


def _cells_of(lines: Numbers) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return the cells that lines, shape (n, 4), run through: across and down."""
    start, end = lines[:, :2] * _CELLS + _EDGE, lines[:, 2:] * _CELLS + _EDGE
    step = end - start
    counts = np.ceil(np.abs(step).max(axis=1) * 2).astype(np.intp) + 1
    which = np.repeat(np.arange(len(lines)), counts)
    first = np.cumsum(counts) - counts
    share = (np.arange(len(which)) - first[which]) / np.maximum(counts - 1, 1)[which]
    places = np.floor(start[which] + share[:, None] * step[which]).astype(np.intp)
    return places[:, 0], places[:, 1]
