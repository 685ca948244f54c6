"""A figure: everything on a drawing as plain data, in millimetres of paper.

Points count from the upper left corner, x to the right and y down. Every mark names its
layer, which says what it means; how a layer is drawn is told in ``pens``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Spot = tuple[float, float]
"""A point of the paper, millimetres right and down from the upper left corner."""

Anchor = Literal["start", "middle", "end"]
"""Which end of a line of text its point is."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points, closed where the last one goes back to the first."""

    layer: str
    points: tuple[Spot, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """A plain surface without an edge."""

    layer: str
    points: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Hatch:
    """A surface filled with lines.

    Attributes:
        layer: Its meaning; the pattern follows from it.
        outline: The surface.
        lines: The lines that fill it, from edge to edge.
    """

    layer: str
    outline: tuple[Spot, ...]
    lines: tuple[tuple[Spot, Spot], ...]


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle.

    Attributes:
        layer: Its meaning.
        middle, radius: Of the circle.
        start, end: Degrees, counter-clockwise as the paper is seen; 0 is to the right.
    """

    layer: str
    middle: Spot
    radius: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text.

    Attributes:
        layer: Its meaning.
        at: Where its anchor stands on the base line.
        text: What is written.
        size: Height of the typeface.
        anchor: Which end of the text ``at`` is.
        bold: Heavy letters.
    """

    layer: str
    at: Spot
    text: str
    size: float
    anchor: Anchor = "start"
    bold: bool = False


@dataclass(frozen=True, slots=True)
class DimensionLine:
    """A length that is told: its line, what it measures, and its words.

    Attributes:
        layer: Its meaning: a length, or one that is missing.
        start, end: The two points measured.
        line: The ends of the dimension line, level with or upright beside them.
        metres: The real length.
        scale: How many millimetres one millimetre of paper stands for here.
        texts: What is written at it.
        leader: From the words to the line, where they stand apart.
    """

    layer: str
    start: Spot
    end: Spot
    line: tuple[Spot, Spot]
    metres: float
    scale: float
    texts: tuple[Text, ...] = ()
    leader: tuple[Spot, ...] = ()


Mark = Line | Fill | Hatch | Arc | Text | DimensionLine


@dataclass(frozen=True, slots=True)
class Figure:
    """One drawing.

    Attributes:
        title: What it shows, in a line.
        about: The same for somebody who cannot see it, in sentences.
        width, height: Of the paper, millimetres.
        scale: How many millimetres one millimetre of paper stands for.
        marks: In the order they are drawn.
        home: Of a plan: a spot of the paper, and where that is in the plan of the model
            that the scene came from, metres.
    """

    title: str
    about: str
    width: float
    height: float
    scale: float
    marks: tuple[Mark, ...]
    home: tuple[Spot, Spot] | None = None


def moved_spot(spot: Spot, by: Spot) -> Spot:
    """Return a spot at another place of the paper."""
    return round(spot[0] + by[0], 3), round(spot[1] + by[1], 3)


def moved(mark: Mark, by: Spot) -> Mark:
    """Return a mark at another place of the paper."""

    def at(spot: Spot) -> Spot:
        return moved_spot(spot, by)

    def all_of(spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
        return tuple(map(at, spots))

    match mark:
        case Line() | Fill():
            return replace(mark, points=all_of(mark.points))
        case Hatch():
            lines = tuple((at(a), at(b)) for a, b in mark.lines)
            return replace(mark, outline=all_of(mark.outline), lines=lines)
        case Arc():
            return replace(mark, middle=at(mark.middle))
        case Text():
            return replace(mark, at=at(mark.at))
        case DimensionLine():
            texts = tuple(replace(text, at=at(text.at)) for text in mark.texts)
            return replace(
                mark,
                start=at(mark.start),
                end=at(mark.end),
                line=(at(mark.line[0]), at(mark.line[1])),
                texts=texts,
                leader=all_of(mark.leader),
            )
