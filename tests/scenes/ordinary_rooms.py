"""What the ordinary rooms must show, worked out by hand from their sizes.

Millimetres and degrees. The arithmetic is written out, so that it can be followed
with the scene file beside it; the limits are those of the rule books' tables.
"""

from __future__ import annotations

from math import asin, atan2, degrees, hypot
from typing import Final

from tests.scenes.told import (
    ABOVE,
    BATTERIES,
    CEILING,
    DOOR,
    DRAWN,
    FLOOR,
    GAP,
    HANDLES,
    HARDWARE,
    LIGHT,
    REAR,
    SECOND,
    STORED,
    SWINGS,
    TOP,
    WAY,
    WS,
    Story,
    Told,
)

_RISER = (600, 100), 168 / 2
"""Pump station: the riser from the hinge of the pumps' panel, out and right; radius."""
_TO_THE_SLANT = (7000 - 6300) * 4 / 3 - 150
"""Angled room: from the panel's front at x = 6300 to the wall, 4 up for 3 across."""

ORDINARY: Final = {
    "four-racks": Story(
        not_met=tuple(
            # Next shelf less its thickness, less the lower cells with their posts.
            Told(
                name,
                TOP,
                {"clearance": 200},
                {"clearance": (800 - 40) - (150 + 410 + 20)},
                (name,),
                number=0,
            )
            for name in ("R3", "R4")
        ),
        met=(
            *(
                Told(
                    name, TOP, provided={"clearance": 760 - (150 + 360 + 20)}, number=0
                )
                for name in ("R1", "R2")
            ),
            # The cells stand in the middle of a rack that is 25 off the wall.
            Told("R4", GAP, {"gap": 25}, {"gap": 25 + (450 - 320) / 2}),
            # Racks on both sides of the aisle: live parts opposite.
            *(
                Told(name, WS, {"depth": 900}, {"depth": 3400 - 2 * 475}, condition=3)
                for name in ("R1", "R2", "R3", "R4")
            ),
        ),
    ),
    "rows": Story(
        # 5 sections of 508 are 2540 wide together, and 1200 A: large equipment.
        still_open=tuple(Told(f"MCC{n}", SECOND, {"width": 610}) for n in range(1, 6)),
        met=(
            *(
                Told(f"LP{n}", WS, {"depth": 900, "width": 762}, {"depth": 2500 - 146})
                for n in range(1, 4)
            ),
            # The fourth panel, at x = 3292, faces the last two sections: live parts
            # opposite, 120 V to ground there and 277 V here.
            Told("LP4", WS, {"depth": 900}, {"depth": 2500 - 146 - 608}, condition=3),
            Told("MCC5", WS, {"depth": 1200}, {"depth": 1746}, condition=3),
            Told("MCC1", WS, {"depth": 900}, {"depth": 2500 - 608}, condition=1),
            # Where a section ends the next one stands: its door opens all the same.
            *(
                Told(f"MCC{n}", DOOR, {"angle": 90}, {"angle": 90}, number=0)
                for n in range(1, 6)
            ),
        ),
    ),
    "clean-small-room": Story(
        met=(
            # 0 to 150 V: 900 whatever is opposite. The room is 2800 deep.
            Told("LP1", WS, {"depth": 900, "width": 762}, {"depth": 2800 - 146}),
            Told("DS1", WS, {"depth": 900, "width": 762}, {"depth": 2800 - 150}),
            # 277 V, gypsum opposite: condition 1. The room is 3600 wide.
            Told("T1", WS, {"depth": 900}, {"depth": 3600 - 150 - 600}, condition=1),
            Told("LP1", ABOVE, {"height": 2900}),
            Told("D1", SWINGS),
            Told("LP1", DOOR, {"angle": 90}, {"angle": 90}, number=0),
            Told("DS1", DOOR, {"angle": 90}, {"angle": 90}, number=0),
        )
    ),
    "pump-station": Story(
        not_met=(
            *(
                Told(
                    name,
                    WS,
                    {"reach": 150},
                    {"reach": 320 - deep},
                    ("PB1",),
                    reach=320 - deep,
                    cites="110.26(A)(3)",
                )
                for name, deep in (("LP1", 150), ("DS1", 160))
            ),
            # The ceiling is nearer than 1800 above the board. The pipe is round, so
            # its many-sided body comes a hair lower.
            Told("MSB", ABOVE, {"height": 3000}, {"height": 2600 - 114 / 2}, ("CW1",)),
            # 277 V and a brick wall opposite: condition 2.
            Told(
                "PCP1",
                WS,
                {"depth": 1000, "width": 900},
                {"depth": (6400 - 300) - (5500 + 168 / 2)},
                ("RW1",),
                condition=2,
                cites="110.26(A)(1)",
            ),
            # The leaf is stopped where its line touches the round of the riser.
            Told(
                "PCP1",
                DOOR,
                {"angle": 90},
                {
                    "angle": degrees(
                        atan2(*_RISER[0]) - asin(_RISER[1] / hypot(*_RISER[0]))
                    )
                },
                ("RW1",),
                number=0,
            ),
        ),
        still_open=(Told("TP1", WS, {"depth": 900}, {"depth": 4200 - 250}),),
        met=(
            # Its top is at 90 + 2150; gypsum opposite.
            Told(
                "MSB", WS, {"depth": 900, "height": 2240}, {"depth": 3600}, condition=1
            ),
            Told("T1", WS, {"depth": 1000}, {"depth": 4200 - 725}, condition=2),
            Told("LP1", ABOVE, {"height": 3000}),
            Told("MSB", HANDLES, {"height": 2000}, {"height": 90 + 1800}),
            # The riser on it is told by the working space alone.
            Told("PCP1", FLOOR),
        ),
    ),
    "facing-lineups": Story(
        not_met=(
            *(
                Told(
                    name,
                    WS,
                    {"depth": 1200, "width": width, "height": 2300},
                    {"depth": 2600 - 100 - 500 - 800 - 100},
                    (other,),
                    condition=3,
                    cites="110.26(A)(1)",
                )
                for name, other, width in (("MCC1", "SB1", 3000), ("SB1", "MCC1", 3200))
            ),
            Told("SB1", DRAWN, {"depth": 1150}, {"depth": 1100}, ("MCC1",)),
        ),
        met=(
            # The zone ends 1800 above the gear, the duct begins above it.
            Told("MCC1", ABOVE, {"height": 2300 + 1800}, {"height": 4350 - 150}),
            Told("SB1", ABOVE, {"height": 2300 + 1800}),
        ),
    ),
    "battery-room": Story(
        not_met=(
            Told("GP1", BATTERIES),
            # The upper row is flush with the rack's back: 330 + 320 = 650.
            Told("R1", GAP, {"gap": 25}, {"gap": 15}, ("wall-east",)),
            # Next shelf less its thickness, less the lower cells with their posts.
            Told(
                "R2",
                TOP,
                {"clearance": 200},
                {"clearance": (700 - 40) - (150 + 360 + 20)},
                ("R2", "R2"),
                number=0,
            ),
        ),
        still_open=(Told("L2", BATTERIES),),
        met=(
            # The rack touches the wall; its cells stand in its middle.
            Told("R2", GAP, {"gap": 25}, {"gap": (450 - 320) / 2}),
            Told("D1", BATTERIES),
            Told("L1", BATTERIES),
            # Neither row is under the other: up to the exhaust duct.
            *(
                Told(
                    "R1",
                    TOP,
                    {"clearance": 200},
                    {"clearance": (2700 - 150) - (shelf + 380)},
                    number=tier,
                )
                for tier, shelf in enumerate((150, 450))
            ),
            # Up to the light.
            Told("R2", TOP, provided={"clearance": 2600 - (700 + 380)}, number=1),
            Told(
                "UPS1",
                WS,
                {"depth": 1200, "width": 1200},
                {"depth": 2800 - 15 - 650 - 850},
                condition=3,
            ),
            Told("R1", WS, {"depth": 900}, {"depth": 1285}, condition=3),
            # The exhaust duct does not hang in front of R2, R1 stands further off.
            Told("R2", WS, {"depth": 900, "width": 1500}, condition=2),
        ),
    ),
    "meter-stack-outdoors": Story(
        not_met=(
            Told("DS1", WS, {"reach": 150}, {"reach": 170}, ("PB1",), reach=320 - 150),
        ),
        met=(
            *(
                Told(f"MS{n}", WS, {"depth": 900, "width": 762}, {"height": 2700})
                for n in (1, 2, 3, 4)
            ),
            Told("LP1", WS, {"depth": 900}, {"height": 2700}, condition=1),
            Told("DS1", ABOVE, {"height": 1700 + 1800}),
            Told("LP1", ABOVE, {"height": 1700 + 1800}),
        ),
    ),
    "pad-mounted-gear": Story(
        not_met=(
            Told(
                "SG1",
                WS,
                # The lights leave least: 900 wherever they hang so low.
                {"depth": 900, "height": 150 + 2300},
                {"depth": (5000 - 200 - 1500) - (2700 + 60), "height": 2300},
                ("L1",),
                condition=1,
                cites="110.26(A)(3)",
            ),
        ),
        met=(
            Told(
                "SG2",
                WS,
                {"depth": 1000, "height": 2200},
                {"depth": 5000 - 200 - 1500, "height": 2300},
                condition=2,
            ),
            Told("SG1", ABOVE, {"height": 150 + 2300 + 1800}),
            Told("SG2", ABOVE, {"height": 2200 + 1800}),
        ),
    ),
    "angled-room": Story(
        not_met=(
            Told("LP1", WS, {"depth": 900}, {"depth": _TO_THE_SLANT}, ("wall-2",)),
        ),
        met=(
            # Along (4, 3)/5 the wall is at 5600, the gear's front at 5100 and the
            # transformer's at (4 * 2200 + 3 * 900)/5 + 300.
            Told("T1", WS, {"depth": 1200}, {"depth": 5100 - 2600}, condition=3),
            # Its right corner is at y = 4000 - 4/5 * 3200 - 3/5 * 500 = 1140, and there
            # the gypsum of the south wall is 5/3 * 1140 ahead. That leaves 1000, the
            # transformer leaves 1300.
            Told("MCC1", WS, {"depth": 900}, {"depth": 1140 * 5 / 3}, condition=1),
        ),
    ),
    "stored-goods": Story(
        not_met=(
            # The shelf hangs at the front, and the boxes stand on the floor.
            Told(
                "LP1",
                WS,
                {"depth": 900, "width": 762, "height": 2000},
                by=("BX1", "SH1"),
            ),
            Told("room", LIGHT, cites="110.26(D)"),
            Told("LP1", STORED, by=("BX1", "SH1"), cites="110.26(B)"),
            Told("LP1", ABOVE, {"height": 2800}, {"height": 1960}, ("SH1",)),
        ),
        met=(
            # Up to the boxes in front of the panelboard.
            Told("DS1", WS, {"depth": 900}, {"depth": 4200 - 160 - (850 + 300)}),
            Told("DS1", STORED),
        ),
        still_open=(Told("LP1", WAY, {"height": 2000}, {"height": 1960}),),
    ),
    "around-the-corner": Story(
        not_met=(
            # The bench stands 900 off the south wall, the doors are 600 wide.
            Told(
                "MCC1",
                WAY,
                {"width": 610, "height": 2000},
                {"width": (2600 - 500) - 900 - 600},
                cites="110.26",
            ),
        ),
        still_open=(
            # From the rack's front at x = 1000 to the column at 1740 - 200.
            Told("LP1", WAY, {"width": 610}, {"width": 540, "height": 2100}),
            Told("D1", SWINGS),
        ),
        met=(
            # D1's leaf turns about the south jamb, 1600 from the bench. Held so that it
            # leaves as much beside the bench as of the door, it leaves half of that.
            Told("DS1", WAY, {"width": 610}, {"width": 1600 / 2, "height": 2100}),
            Told("MCC1", WS, {"depth": 900}, {"depth": 1200}, condition=1),
        ),
    ),
    "one-way-out": Story(
        not_met=(
            # The room is 2500 deep; the switchboard's door at a right angle takes 900.
            Told(
                "SB1",
                WAY,
                {"width": 610, "height": 2000},
                {"width": (2500 - 100 - 900) - 900},
            ),
            Told("SB1", SECOND, {"width": 610, "height": 2000}, cites="110.26(C)(2)"),
            # It opens to 100 degrees, but inwards.
            Told("D1", HARDWARE, {"angle": 90}, {"angle": 100}, cites="110.26(C)(3)"),
        ),
        still_open=(Told("D1", SWINGS),),
        met=(
            # The space slides towards the door, up to the column at x = 1300.
            Told("LP1", WS, {"depth": 900}, {"width": 1300}),
            Told("SB1", WS, {"depth": 1000}, {"depth": 1500}, condition=2),
            Told("LP1", WAY, {"width": 610}, {"width": 900, "height": 2100}),
        ),
    ),
    "old-switch-room": Story(
        not_met=(
            # Behind it as in front of it: 277 V and a brick wall, condition 2.
            Told(
                "SB1",
                REAR,
                {"depth": 1000, "width": 3000, "height": 2200},
                {"depth": 700},
                ("wall-north",),
                condition=2,
                number="rear",
            ),
        ),
        still_open=(
            # A timber ceiling at 3090, the top at 2200; 900 mm / 3 ft.
            Told(
                "SB1",
                CEILING,
                {"clearance": 900},
                {"clearance": 890},
                cites="408.18(A)",
            ),
        ),
        met=(
            Told("TS1", REAR, {"depth": 762}, {"depth": 800}, number="rear"),
            # 1600 A and 3000 wide, with a door at each end.
            Told("SB1", SECOND, {"width": 610, "height": 2000}),
            Told("D1", HARDWARE, {"angle": 90}, {"angle": 110}),
            Told("SB1", WS, {"depth": 1000}, {"depth": 2900 - 700 - 900}),
            Told("TS1", WS, {"depth": 1000}, {"depth": 2900 - 800 - 700}),
            Told("room", LIGHT),
        ),
    ),
}
