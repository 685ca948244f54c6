"""What is taken out of a plan: plain records, lengths in metres of the plan's frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from model3d.geometry.frame import Corner

UNITS: Final = {
    1: ("in", 0.0254),
    2: ("ft", 0.3048),
    4: ("mm", 0.001),
    5: ("cm", 0.01),
    6: ("m", 1.0),
    14: ("dm", 0.1),
    21: ("US survey ft", 1200 / 3937),
    22: ("US survey in", 100 / 3937),
}
"""Words and metres of the values of $INSUNITS in which rooms are drawn.

Source: the DXF reference of AutoCAD 2018, header variables.
"""


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed line.

    Attributes:
        layer: Where it is drawn.
        outer: Its corners, counter-clockwise; curves as lines that leave nothing of
            its inside out.
        inner: Likewise, but of lines that take in nothing of its outside.
        blocks: Numbers of the inserted blocks that it is a part of, the outer first.
        circle: Middle and diameter of a circle.
        curved: Curves are in it.
        joined: It is made of several lines.
        gap: Metres between its ends that were closed here.
    """

    layer: str
    outer: tuple[Corner, ...]
    inner: tuple[Corner, ...]
    blocks: tuple[int, ...] = ()
    circle: tuple[Corner, float] | None = None
    curved: bool = False
    joined: bool = False
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A line that does not close.

    Attributes:
        layer: Where it is drawn.
        points: Its corners.
        curved: Curves are in it.
    """

    layer: str
    points: tuple[Corner, ...]
    curved: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """A text.

    Attributes:
        layer: Where it is written.
        text: Its lines, with a line break between them.
        at: A point within its first letter.
        block: Number of the inserted block whose attribute or part it is; 0 for none.
        attribute: The name of the attribute that it is the value of, or "".
    """

    layer: str
    text: str
    at: Corner
    block: int = 0
    attribute: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """What is drawn on a plan.

    Attributes:
        unit: The word of the unit that it says, or "" for none.
        metres: In one of its units; 1 where it says none.
        rings, lines, labels: In the order of drawing.
        left: Layer and name of what is not read, and how many there are of it.
    """

    unit: str
    metres: float
    rings: tuple[Ring, ...]
    lines: tuple[Line, ...]
    labels: tuple[Label, ...]
    left: tuple[tuple[str, str, int], ...]
