"""What the lessons in ``scenes/lessons`` must show, worked out by hand.

The arithmetic is written out from the sizes in their files, so that it can be followed
with the file beside it. The limits are the published ones: NEC 110.26(A)(1) to (3) and
(E), 480.10; 150 mm (6 in) past the front and the meter exception as in Electrical
Contractor, September 2016, p. 66; depths as in the same, July 2016, p. 68; ducts above
and in front of panels as in EC&M, 2024 and 2025.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import asin, atan2, degrees, hypot
from typing import Final

FT, IN = 304.8, 25.4
"""Millimetres in a foot and in an inch (ISO 80000-3)."""
WIDTH, HEIGHT = "width-and-where-it-stands", "height-and-tall-gear"
REACH, DOORS = "six-inches-above-and-below", "doors-to-ninety-degrees"
CELLS, DEPTH = "battery-racks-overhead", "three-depth-conditions"
METER, ABOVE = "the-meter-exception", "the-space-above"
FLOOR, WAYS = "where-the-floor-is", "one-entrance-or-two"
LATCH, BEHIND = "door-hardware", "behind-and-beside"
STEPS, CELL_ROOM = "steps-tiers-and-the-inch", "a-battery-room-whole"
TILES, DATES = "above-the-tiles", "an-old-room-by-its-dates"
VOLTS, EXAM = "over-1000-volts", "find-the-seven-faults"
SIDE = "hit-at-a-height"
SPACE, SWING, ZONE = "working-space", "door-swing", "dedicated-space"
TOP, GAP = "battery-top-clearance", "battery-gaps"
WAY, BACK, TIGHT = "entrance", "rear-access", "limited-access"


@dataclass(frozen=True)
class Told:
    """What the check must say after a step of a lesson, millimetres and degrees.

    Attributes:
        lesson, step: Which step, from 1.
        subject, requirement: Whose judgement, by which rule.
        required, provided: Some of the sizes.
        by: Ids of what is in the way, sorted.
        number: Of the leaf or the tier, from 0.
        reach: How far the one in the way comes past the front.
        left: How far the space reaches past the item's left side.
        condition: Of the depth table.
    """

    lesson: str
    step: int
    subject: str
    requirement: str
    required: dict[str, float] = field(default_factory=dict)
    provided: dict[str, float] = field(default_factory=dict)
    by: tuple[str, ...] = ()
    number: int | None = None
    reach: float | None = None
    left: float | None = None
    condition: int | None = None


def wide(provided: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"width": 762}, {"width": provided}


def high(required: float, provided: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"height": required}, {"height": provided}


def deep(required: float, provided: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"depth": required}, {"depth": provided}


def free(required: float, provided: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"clearance": required}, {"clearance": provided}


def wide_way(provided: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"width": 610}, {"width": provided}


RISER: Final = 90 + degrees(atan2(25, 350) - asin(40 / hypot(350, 25)))
"""Degrees that the leaf reaches before a riser 40 in radius."""


def turn(reached: float) -> tuple[dict[str, float], dict[str, float]]:
    return {"angle": 90}, {"angle": reached}


TOLD: Final = (
    # The panelboard is 508 wide, from 1400 to 1908; the heater ends at 1350, then 1400.
    Told(WIDTH, 1, "LP1", SPACE, {"width": 762}, left=(762 - 508) / 2),
    Told(WIDTH, 2, "LP1", SPACE, *wide(3800 - 1350), left=1400 - 1350),
    Told(WIDTH, 3, "LP1", SPACE, *wide(3800 - 1400), left=0),
    Told(WIDTH, 4, "LP1", SPACE, *wide(2100 - 1400), ("WH1",)),
    Told(WIDTH, 5, "LP1", SPACE, *wide(2162 - 1400), left=0),
    Told(WIDTH, 7, "LP1", SPACE, {"width": 900}, {"width": 3800 - 1400}),
    Told(WIDTH, 8, "LP1", SPACE, {"width": 900}, {"depth": 100}, ("WH1",)),
    Told(WIDTH, 8, "LP1", SWING, *turn(degrees(atan2(100, 50))), ("WH1",), 0),
    # 6 1/2 ft, or the top as mounted: 1'-8" and 5'-4" make 7'-0".
    Told(HEIGHT, 2, "LP1", SPACE, *high(6.5 * FT, 76 * IN), ("FC1",)),
    Told(HEIGHT, 3, "LP1", SPACE, *high(6.5 * FT, 78 * IN)),
    Told(HEIGHT, 4, "LP1", SPACE, *high((20 + 64) * IN, 78 * IN), ("FC1",)),
    Told(HEIGHT, 6, "SB1", SPACE, *high((4 + 90) * IN, 84 * IN), ("FC1",)),
    Told(HEIGHT, 7, "SB1", SPACE, *high((4 + 90) * IN, 94 * IN)),
    Told(HEIGHT, 8, "SB1", SPACE, *high((4 + 90) * IN, 90 * IN), ("L1",)),
    # The panelboard is 146 deep.
    Told(REACH, 3, "LP1", SPACE, by=("WW1",), reach=320 - 146),
    Told(REACH, 6, "LP1", SPACE, *deep(900, 100 - 60), ("HP1",)),
    Told(REACH, 7, "LP1", SPACE, by=("DS1",), reach=300 - 146),
    Told(REACH, 8, "LP1", SPACE, *wide(1908), left=762 - 508),
    Told(REACH, 9, "LP1", SPACE, *wide(1908 - 1400), ("PB2", "PB3")),
    # A leaf of 1000 before a face 950 away; a post from 250 to 300 across, 450 out.
    Told(DOORS, 2, "CP1", SWING, *turn(71.805), ("PS1",), 0),
    Told(DOORS, 2, "CP1", SPACE, *deep(900, 950), condition=2),
    Told(DOORS, 4, "CP1", "entrance", {"width": 610}, {"width": 950 - 500}),
    Told(DOORS, 6, "CP1", SWING, *turn(degrees(atan2(450, 300))), ("SP1",), 0),
    Told(DOORS, 7, "CP1", SWING, *turn(degrees(atan2(450, 1000 - 250))), ("SP1",), 0),
    Told(DOORS, 8, "CP1", SWING, *turn(90), number=0),
    Told(DOORS, 9, "CP1", SPACE, *deep(900, 900)),
    # The highest point of the lower tier: shelf, cell and terminals.
    Told(CELLS, 1, "R1", TOP, *free(200, 850 - 40 - (150 + 360 + 20)), number=0),
    Told(CELLS, 1, "R1", TOP, *free(200, 2900 - (850 + 380)), number=1),
    Told(CELLS, 3, "R1", TOP, *free(200, 700 - 40 - 530), ("R1", "R1"), 0),
    Told(CELLS, 4, "R1", TOP, *free(200, 770 - 40 - 530), number=0),
    Told(CELLS, 5, "R1", TOP, *free(200, 1330 - (770 + 380)), ("EX1",), 1),
    Told(CELLS, 6, "R1", TOP, *free(200, 1250 - (770 + 380)), ("CT1",), 1),
    # The rack is 450 deep, the cells 320, then 430; the rack touches the wall.
    Told(CELLS, 1, "R1", GAP, {"gap": 25}, {"gap": 25 + (450 - 320) / 2}),
    Told(CELLS, 7, "R1", GAP, {"gap": 25}, {"gap": (450 - 320) / 2}),
    Told(CELLS, 8, "R1", GAP, {"gap": 25}, {"gap": (450 - 430) / 2}, ("wall-north",)),
    Told(CELLS, 9, "R1", GAP, {"gap": 25}, {"gap": 15 + 10}),
    # 277 V to ground: 3 ft, 3 ft 6 in, 4 ft; 120 V: 3 ft.
    Told(DEPTH, 1, "SB1", SPACE, *deep(3 * FT, 3 * FT), condition=1),
    Told(DEPTH, 2, "SB1", SPACE, *deep(3.5 * FT, 3 * FT), ("W1",), condition=2),
    Told(DEPTH, 3, "SB1", SPACE, *deep(3.5 * FT, 3.5 * FT), condition=2),
    Told(DEPTH, 4, "SB1", SPACE, *deep(4 * FT, 3.5 * FT), ("SB2",), condition=3),
    Told(DEPTH, 4, "SB2", SPACE, *deep(4 * FT, 3.5 * FT), ("SB1",), condition=3),
    Told(DEPTH, 5, "SB2", SPACE, *deep(4 * FT, 4 * FT), condition=3),
    Told(DEPTH, 6, "SB1", SPACE, *deep(3.5 * FT, 3.5 * FT), condition=2),
    Told(DEPTH, 6, "SB2", SPACE, *deep(3 * FT, (4 + 10 / 12) * FT), condition=1),
    Told(DEPTH, 7, "SB1", SPACE, *deep(3 * FT, 3 * FT), condition=3),
    Told(DEPTH, 8, "SB1", SPACE, *deep(3.5 * FT, 3.25 * FT), ("W2",), condition=2),
    # The panelboard is 6 in deep.
    Told(METER, 3, "LP1", SPACE, by=("PB1",), reach=(14 - 6) * IN),
    Told(METER, 4, "LP1", SPACE, by=("MS1",), reach=(13 - 6) * IN),
    Told(METER, 6, "LP1", SPACE, {"width": 30 * IN}, left=0),
    Told(METER, 7, "LP1", SPACE, *wide(19.5 * IN), ("JB1",)),
    # 6 ft above the top of the board, which is 7 ft tall.
    Told(ABOVE, 1, "SB1", ZONE, {"height": (7 + 6) * FT, "width": 4 * FT}),
    Told(ABOVE, 2, "SB1", SPACE, *high(7 * FT, 7 * FT)),
    Told(ABOVE, 3, "SB1", ZONE, *high(13 * FT, 9 * FT), ("AD1",)),
    Told(ABOVE, 4, "SB1", ZONE, *high(13 * FT, 10.5 * FT), ("CW1", "DP1")),
    Told(ABOVE, 5, "SB1", ZONE, *high(13 * FT, (132 - 21 / 16 / 2) * IN), ("SP1",)),
    Told(ABOVE, 6, "SB1", ZONE, *high(13 * FT, 120 * IN - 2.375 / 2 * IN), ("CW1",)),
    # The platform is 150 high.
    Told(FLOOR, 1, "LP1", SPACE, *high(2000, 2050)),
    Told(FLOOR, 2, "LP1", SPACE, *high(2000, 2050 - 150), ("AD1",)),
    Told(FLOOR, 3, "LP1", SPACE, *high(2000, 2150 - 150)),
    Told(FLOOR, 4, "LP1", "clear-floor", *deep(900, 600 - 150)),
    Told(FLOOR, 4, "LP1", SPACE, *high(2000, 2000)),
    Told(FLOOR, 6, "SB1", SPACE, by=("PAD1",), reach=700 - 500),
    # The trench begins at y = 2000, the front of the board is at 2500.
    Told(FLOOR, 7, "SB1", "clear-floor", *deep(900, 500), ("TR1",)),
    # The room is 4000, then 1500, then 2400 deep, the board 600; leaves of 508 face
    # each other.
    Told(WAYS, 1, "SB1", SPACE, *deep(900, 4000 - 600)),
    Told(WAYS, 3, "SB1", SPACE, *deep(900, 1500 - 600)),
    Told(WAYS, 6, "SB1", SPACE, *deep(900, 2400 - 600)),
    Told(WAYS, 7, "SB1", SPACE, *deep(900, 2400 - 600 - 700)),
    Told(WAYS, 8, "SB1", WAY, *wide_way(1625 - 2 * 508)),
    Told(WAYS, 9, "SB1", WAY, *wide_way(1626 - 2 * 508)),
    # What the door must reach, and reaches.
    Told(LATCH, 4, "D1", "door-hardware", {"angle": 90}),
    Told(LATCH, 5, "D1", "door-hardware", *turn(90)),
    # Brick is grounded: condition 2. 277 V to ground: 1000; gypsum 900.
    Told(BEHIND, 2, "SB1", BACK, *deep(1000, 990), ("wall-north",), condition=2),
    Told(BEHIND, 3, "SB1", BACK, *deep(1000, 1000), condition=2),
    Told(BEHIND, 4, "SB1", BACK, *deep(900, 900), condition=1),
    Told(BEHIND, 5, "SB1", BACK, *deep(762, 760), ("wall-north",)),
    Told(BEHIND, 6, "SB1", BACK, *deep(762, 762)),
    Told(BEHIND, 9, "SB1", BACK, *deep(762, 4000 - (1588 + 150) - 1500)),
    # The highest point of a cell is 400 + 25 above its shelf, a shelf is 40 thick.
    Told(STEPS, 2, "R1", TOP, *free(250, 1000 - 40 - 725), ("R1",), 0),
    Told(STEPS, 4, "R1", TOP, *free(250, 1300 - 40 - 725), number=0),
    Told(STEPS, 4, "R1", TOP, *free(250, 1300 - 40 - 1025), ("R1",), 1),
    Told(STEPS, 5, "R1", TOP, *free(250, 1315 - 40 - 1025), number=1),
    Told(STEPS, 7, "R1", GAP, {"gap": 25}, {"gap": 700 - 360 - 300}),
    Told(STEPS, 9, "R1", GAP, {"gap": 25}, {"gap": 20}, ("wall-north",)),
    # The racks stand 450 + 60 into the room on either side.
    Told(CELL_ROOM, 1, "R1", SPACE, *deep(900, 4200 - 2 * 510), condition=3),
    Told(CELL_ROOM, 2, "R1", SPACE, *deep(900, 2210 - 2 * 510), condition=3),
    Told(CELL_ROOM, 2, "R2", SPACE, *deep(1200, 2210 - 2 * 510), ("R1",), condition=3),
    Told(CELL_ROOM, 3, "R2", SPACE, *deep(1200, 2220 - 2 * 510), condition=3),
    # 22 by 22 in above a ceiling, 22 by 30 in to a crawl space; half of a joist.
    Told(TILES, 2, "room", TIGHT, {"width": 559}, {"width": 500}),
    Told(TILES, 3, "room", TIGHT, {"width": 559, "length": 762}, {"length": 700}),
    Told(TILES, 5, "DS1", SPACE, *deep(900, 770 - 150 - 120), ("AD1",)),
    Told(TILES, 6, "DS1", SPACE, *deep(900, 1460 - 450 - 120), ("FC1",)),
    Told(TILES, 7, "DS1", TIGHT, {"reach": 150}, {"reach": 280 / 2}),
    Told(TILES, 8, "DS1", TIGHT, {"reach": 150}, {"reach": 320 / 2}),
    # 29 CFR 1910.303 Tables S-1 and S-3 (eCFR): before and since their days.
    Told(DATES, 1, "SB1", SPACE, *deep(2.5 * FT, 2.6 * FT)),
    Told(DATES, 2, "SB1", SPACE, *deep(3 * FT, 2.6 * FT), ("P1",)),
    Told(DATES, 3, "SB1", SPACE, *deep(3.5 * FT, 3.2 * FT), ("P1",), condition=2),
    Told(DATES, 4, "SB1", SPACE, *deep(2.5 * FT, 2.6 * FT), condition=1),
    Told(DATES, 5, "SB2", SPACE, *deep(4 * FT, 3.9 * FT), ("SB1",), condition=3),
    Told(DATES, 6, "SB1", SPACE, *high(6.25 * FT, 6.3 * FT)),
    Told(DATES, 7, "SB1", SPACE, *high(6.5 * FT, 6.3 * FT), ("HP1",)),
    Told(DATES, 9, "SB1", ZONE, *high(12 * FT, 9 * FT), ("HP1",)),
    # 1001 to 2500 V to ground: 900, 1200, 1500; 2501 to 9000 V, condition 2: 1500.
    Told(VOLTS, 2, "SG1", SPACE, *deep(1200, 5000 - 3810), ("W1",), condition=2),
    Told(VOLTS, 3, "SG1", SPACE, *deep(1200, 5000 - 3800), condition=2),
    Told(VOLTS, 4, "SG1", SPACE, *deep(1500, 5000 - 3510), ("W1",), condition=2),
    Told(VOLTS, 5, "SG2", SPACE, *deep(1500, 5000 - 3500), condition=3),
    Told(VOLTS, 6, "SG1", SPACE, {"width": 914}, {"width": 3950 - 3050}, ("C1", "C2")),
    Told(VOLTS, 7, "SG1", WAY, *wide_way(600)),
    Told(VOLTS, 9, "SG1", "guarded-live-parts", *high(2800, 2800)),
    # The riser: 350 out and 25 past the hinge, 40 in radius.
    Told(EXAM, 2, "SB1", SPACE, *deep(1000, 3600 - 2620), ("PM1",), condition=2),
    Told(EXAM, 2, "LP1", SPACE, by=("WW1",), reach=310 - 150),
    Told(EXAM, 2, "SB1", ZONE, *high(2150 + 1800, 3400 - 50), ("CW1",)),
    Told(EXAM, 2, "DS1", SWING, *turn(RISER), ("VR1",), 0),
    Told(EXAM, 3, "SB1", SPACE, *deep(1000, 1000)),
    # A leaf of 800, from 700 to 1900, before an edge 400 away.
    Told(SIDE, 3, "LP1", SWING, *turn(degrees(asin(400 / 800))), ("BN1",), 0),
    Told(SIDE, 3, "LP1", SPACE, *deep(900, 400), ("BN1",)),
    Told(SIDE, 4, "LP1", SPACE, *high(2000, 1950), ("UH1",)),
    Told(SIDE, 5, "LP1", SPACE, *high(2000, 2000)),
    Told(SIDE, 6, "LP1", SPACE, {"width": 800}, {"width": 50 + 800 + 60}),
    Told(SIDE, 7, "LP1", SPACE, *wide(100 + 500 + 150), ("S1",)),
    Told(SIDE, 8, "LP1", SPACE, *wide(100 + 500 + 162)),
)
