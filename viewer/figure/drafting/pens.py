"""Layers of a drawing, and the pen each is drawn with.

What a layer means must be read in black and white: by the width of its line, by dashes
and by hatching. Colour only repeats it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from viewer.stage import palette


@dataclass(frozen=True, slots=True)
class Pattern:
    """How a surface is filled.

    Attributes:
        angles: Of its lines, degrees.
        spacing: Between two lines, millimetres.
    """

    angles: tuple[float, ...]
    spacing: float


@dataclass(frozen=True, slots=True)
class Pen:
    """How a layer is drawn.

    Attributes:
        meaning: For a legend, and the layer's name in an exchanged drawing.
        width: Of its lines, millimetres.
        colour: As #RRGGBB.
        dash: Lengths of dash and gap, millimetres; () is a whole line.
        fill: Of its areas, as #RRGGBB.
        pattern: Of its hatches.
    """

    meaning: str
    width: float
    colour: str
    dash: tuple[float, ...] = ()
    fill: str = palette.PAPER
    pattern: Pattern | None = None


_INK: Final = "#000000"
_GREY: Final = "#5A5A5A"
_MISSING: Final = palette.INTRUSION_EDGE

WALL: Final = "walls"
CUT: Final = "walls-cut"
GROUNDED: Final = "grounded-cut"
LIVE: Final = "live-fronts"
SUBJECT: Final = "subject"
THING: Final = "things"
AHEAD: Final = "things-ahead"
OVERHEAD: Final = "overhead"
LEAF: Final = "leaves"
SWING: Final = "leaf-swings"
SPACE: Final = "required-space"
BAND: Final = "reach-allowed"
IN_THE_WAY: Final = "in-the-way"
WAY: Final = "ways-out"
LACKING: Final = "width-missing"
NARROWEST: Final = "narrowest-place"
PERSON: Final = "person"
LEVEL: Final = "levels"
SIZE: Final = "dimensions"
MISSING: Final = "dimensions-missing"
NAME: Final = "names"
LEADER: Final = "leaders"
SHEET: Final = "sheet"

PENS: Final = {
    PERSON: Pen("Person, 1.75 m tall", 0.13, "#9A9A9A", fill="#D9D9D9"),
    WAY: Pen("Way out", 0.18, _GREY, (1.2, 0.8), "#E6E6E6"),
    CUT: Pen("Cut wall", 0.13, _INK, pattern=Pattern((45.0,), 1.7)),
    GROUNDED: Pen(
        "Cut, grounded surface",
        0.13,
        _INK,
        pattern=Pattern((45.0, 135.0), 1.5),
    ),
    WALL: Pen("Wall, floor, ceiling", 0.5, _INK),
    THING: Pen("Thing", 0.25, "#2A2A2A"),
    AHEAD: Pen("Ahead of the front", 0.25, _GREY, (3.0, 0.7, 0.7, 0.7)),
    OVERHEAD: Pen("Overhead", 0.18, _GREY, (0.8, 0.8)),
    SUBJECT: Pen("What is judged", 0.6, _INK),
    LIVE: Pen("Live front", 0.18, _INK, pattern=Pattern((90.0,), 0.7)),
    LEAF: Pen("Door leaf", 0.35, _INK),
    SWING: Pen("What a leaf sweeps", 0.18, _GREY),
    BAND: Pen("Reach that is allowed", 0.13, _GREY, pattern=Pattern((0.0,), 1.6)),
    SPACE: Pen("Required space", 0.35, palette.SPACE_EDGE, (2.4, 1.0)),
    IN_THE_WAY: Pen(
        "In the way",
        0.4,
        _MISSING,
        fill="#F6D9C4",
        pattern=Pattern((60.0, 120.0), 0.75),
    ),
    LACKING: Pen(
        "Short of the width",
        0.25,
        _MISSING,
        fill="#F6D9C4",
        pattern=Pattern((120.0,), 0.5),
    ),
    NARROWEST: Pen("Narrowest place", 0.5, _INK),
    LEVEL: Pen("Level", 0.18, _GREY, (4.0, 0.8, 0.6, 0.8)),
    LEADER: Pen("Leader", 0.13, _INK),
    SIZE: Pen("Size", 0.18, _INK),
    MISSING: Pen("What is missing", 0.35, _MISSING),
    NAME: Pen("Name", 0.18, _INK),
    SHEET: Pen("Sheet", 0.25, _INK, fill=_INK),
}
"""By layer, in the order they are drawn: what lies below first."""
