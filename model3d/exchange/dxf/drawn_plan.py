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
        width: Metres that the line is drawn wide, its widest; 0 for a thin one.
        hatch: It is the edge of a hatch, which is a sign on a surface.
    """

    layer: str
    outer: tuple[Corner, ...]
    inner: tuple[Corner, ...]
    blocks: tuple[int, ...] = ()
    circle: tuple[Corner, float] | None = None
    curved: bool = False
    joined: bool = False
    gap: float = 0.0
    width: float = 0.0
    hatch: bool = False


@dataclass(frozen=True, slots=True)
class OpenLine:
    """A line that does not close.

    Attributes:
        layer: Where it is drawn.
        points: Its corners.
        curved: Curves are in it.
        width: Metres that it is drawn wide, its widest; 0 for a thin one.
    """

    layer: str
    points: tuple[Corner, ...]
    curved: bool = False
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Swing:
    """An arc of a circle: perhaps the way of a door's leaf.

    Attributes:
        layer: Where it is drawn.
        centre: Its middle point: of a leaf's way the hinge.
        ends: Its two ends.
        degrees: How far it turns.
        blocks: Numbers of the inserted blocks that it is a part of, the outer first.
    """

    layer: str
    centre: Corner
    ends: tuple[Corner, Corner]
    degrees: float
    blocks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Insert:
    """A block that is inserted.

    Attributes:
        layer: Where.
        name: Of the block.
        at: Its point.
        number: Its own.
        blocks: Numbers of the inserts that it lies in, the outer first.
    """

    layer: str
    name: str
    at: Corner
    number: int
    blocks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Left:
    """What is drawn and not read, or not read as it is drawn.

    Attributes:
        layer: Where.
        what: Its name, in the singular.
        count: How many there are.
        at: Where the first is, metres; None where nothing tells.
        whole: It is read, more of it than is shown.
        which: Which of them, in words that follow the name; "" for all.
        hidden: Nobody sees it on the plan either, or it is a sign: no thing.
        loose: Where it lies is known: it is among what may be anything.
        places: Where each is of which that is known, metres.
    """

    layer: str
    what: str
    count: int
    at: Corner | None = None
    whole: bool = False
    which: str = ""
    hidden: bool = False
    loose: bool = False
    places: tuple[Corner, ...] = ()

    @property
    def told(self) -> str:
        """How many of what, in words."""
        ending = "es" if self.what.endswith(("sh", "ch")) else "s"
        many = "" if self.count == 1 else ending
        return f"{self.count} {self.what}{many} {self.which}".rstrip()


@dataclass(frozen=True, slots=True)
class Loose:
    """What is not read as it is drawn, but known to lie about some points.

    Attributes:
        layer: Where it is drawn.
        points: Of a curve, one behind the other; else the corners around it.
        closed: They are the corners around it.
    """

    layer: str
    points: tuple[Corner, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class PlanText:
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
        left: What is not read, or not as it is drawn.
        swings: All arcs of circles, those of the rings and lines too.
        inserts: All inserted blocks.
        loose: Of what is not read that of which it is known where it lies.
    """

    unit: str
    metres: float
    rings: tuple[Ring, ...]
    lines: tuple[OpenLine, ...]
    labels: tuple[PlanText, ...]
    left: tuple[Left, ...]
    swings: tuple[Swing, ...] = ()
    inserts: tuple[Insert, ...] = ()
    loose: tuple[Loose, ...] = ()

    def told_at(self, point: Corner | None, count: int = 1) -> str:
        """Say where something is in the plan's own numbers, or the first of it."""
        if point is None:
            return ""
        x, y = (round(one / self.metres, 3) + 0.0 for one in point)
        return f"{'' if count == 1 else ', the first'} at {x:.12g}, {y:.12g}"
