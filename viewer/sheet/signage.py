"""What is written into a picture, and what it has to fit into: records only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, Protocol

if TYPE_CHECKING:
    from viewer.sheet.projection import Projection
    from viewer.sheet.sign_places import Rectangle, Sign, Spot
    from viewer.stage.drawn import Point

LETTERS: Final = 13.5
"""Pixels. Size of names and sizes in a picture 1000 pixels high."""

PAD: Final = 5.0
"""Pixels. Between a sign's letters and its edge in a picture 1000 pixels high."""


class Measure(Protocol):
    """Tells how wide a text is."""

    def __call__(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return the width of a line of letters of a size, pixels."""


Style = Literal[
    "not-met",
    "open",
    "size",
    "short-size",
    "sizes",
    "name",
    "strong-name",
    "faint-name",
]


@dataclass(frozen=True, slots=True)
class Wish:
    """A sign that wants a place.

    Attributes:
        look: How it is drawn.
        lines: What it says.
        sign: What place it wants.
        point: What it is about, in the world.
        items: Ids of the items it is about.
        judgements: Indices of the judgements whose numbers it bears.
        aims: It points at something in the picture.
    """

    look: Style
    lines: tuple[str, ...]
    sign: Sign
    point: Point
    items: tuple[str, ...] = ()
    judgements: tuple[int, ...] = ()
    aims: bool = True


@dataclass(frozen=True, slots=True)
class PlacedSign:
    """A sign in its place.

    Attributes:
        look: How it is drawn.
        lines: What it says.
        anchor: The pixel it points at.
        box: Where it goes.
        items: Ids of the items it is about.
        point: The anchor in the world.
        judgements: Indices of the judgements whose numbers it bears.
        aims: It points at its anchor; what is of the room as a whole does not.
    """

    look: Style
    lines: tuple[str, ...]
    anchor: Spot
    box: Rectangle
    items: tuple[str, ...]
    point: Point
    judgements: tuple[int, ...] = ()
    aims: bool = True


@dataclass(frozen=True, slots=True)
class RuledSize:
    """A dimension line in the picture.

    Attributes:
        ends: Of the required size on the space itself.
        line: The same, moved off the space.
        reached: Of what is there, on a second line; None where it is enough.
        own: It is a lesson's own, and says nothing of what is required.
    """

    ends: tuple[Spot, Spot]
    line: tuple[Spot, Spot]
    reached: tuple[Spot, Spot] | None
    own: bool = False


@dataclass(frozen=True, slots=True)
class Signs:
    """All signs of a picture."""

    marks: tuple[PlacedSign, ...]
    rules: tuple[RuledSize, ...]


@dataclass(frozen=True, slots=True)
class SignRoom:
    """What signs have to fit into.

    Attributes:
        projection: The camera.
        frame: Where signs may be, pixels.
        measure: Tells how wide a text is.
        scale: Of letters and badges; 1 in a picture 1000 pixels high.
    """

    projection: Projection
    frame: Rectangle
    measure: Measure
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class PointText:
    """A text at a point of the world.

    Attributes:
        lines: What it says.
        anchor: The point it is about.
        look: How it is drawn.
        past: A point of the edge of what it is about: the text best stands on that
            side of the anchor, past this edge. None: anywhere about the anchor.
    """

    lines: tuple[str, ...]
    anchor: Point
    look: Style
    past: Point | None = None
