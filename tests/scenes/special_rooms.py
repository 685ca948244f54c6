"""What the rooms of other books, units and surfaces must show, worked out by hand.

Millimetres; see ``ordinary_rooms`` for how to follow it.
"""

from __future__ import annotations

from typing import Final

from tests.scenes.told import (
    ABOVE,
    APART,
    AS_DRAWN,
    CEILING,
    DOOR,
    DRAWN,
    FLOOR,
    HANDLES,
    LIMITED,
    LIVE,
    MAKER,
    PARTED,
    TOP,
    WAY,
    WS,
    Story,
    Told,
)

INCH: Final = 25.4
FOOT: Final = 304.8

SPECIAL: Final = {
    "above-ceiling": Story(
        not_met=(
            Told(
                "room",
                LIMITED,
                {"width": 559, "length": 559},
                {"width": 500, "length": 600},
            ),
        ),
        met=(
            # The duct is above the disconnect's top; the fan coil is in front of it.
            Told(
                "DS1",
                WS,
                {"depth": 900, "width": 762},
                {"depth": (3000 - 350) - 120},
            ),
            Told("DS1", LIMITED),
        ),
    ),
    "crawl-space": Story(
        not_met=(
            # Joists 9 1/4 in high about 67 3/8 in; the floor above at 72 in.
            Told(
                "DS1",
                WS,
                {"height": 78 * INCH, "depth": 3 * FOOT},
                {"height": 62.75 * INCH},
                ("J2", "ceiling"),
                cites="110.26(A)(3)",
            ),
        ),
        still_open=(
            # The duct is 14 in wide about y = 120 in and 8 in high about z = 57 in. The
            # panel's top is at 52 in.
            Told(
                "LP2",
                WS,
                {"depth": 3 * FOOT, "height": 78 * INCH},
                {"depth": (144 - 4.5 - 127) * INCH, "height": 53 * INCH},
                ("AD1",),
            ),
            Told("DS1", WAY, {"width": 24 * INCH}, {"height": 54 * INCH}),
            Told("LP1", WAY, {"width": 24 * INCH}, {"height": 54 * INCH}),
            # Under the duct first.
            Told("LP2", WAY, {"width": 24 * INCH}, {"height": 53 * INCH}),
        ),
        met=(
            Told("LP1", WS, {"height": 78 * INCH}, {"depth": (144 - 4.5) * INCH}),
            Told("LP1", ABOVE, {"height": 72 * INCH}),
            Told("LP2", ABOVE, {"height": 72 * INCH}),
            Told("LP2", DOOR, {"angle": 90}, {"angle": 90}, number=0),
        ),
    ),
    "scanned-pump": Story(
        not_met=(
            # The flange is half of the pump's 1150 north of its middle.
            Told(
                "CP1",
                WS,
                {"depth": 1000},
                {"depth": (4500 - 300) - (2925 + 1150 / 2)},
                ("P3",),
                condition=2,
            ),
            # From the panel's front to the near edge of the sump.
            Told(
                "LP1",
                FLOOR,
                {"depth": 900},
                {"depth": (4500 - 120) - (3600 + 150)},
                ("SU1",),
                cites="110.26(A)(6)",
            ),
        ),
        still_open=(Told("DS1", WS, {"depth": 1000}, {"depth": 1190 - 200}, ("V1",)),),
        met=(Told("LP1", WS, {"depth": 900}, {"depth": 4500 - 120}),),
    ),
    "feet-and-inches": Story(
        not_met=(
            Told(
                "HP1",
                WS,
                {"depth": 3.5 * FOOT, "height": 6.5 * FOOT},
                {"depth": 3 * FOOT + 5 * INCH},
                ("wall-south",),
                condition=2,
                cites="110.26(A)(1)",
            ),
        ),
        met=(
            Told("LP1", WS, {"depth": 3 * FOOT}, {"depth": 3 * FOOT + 5 * INCH}),
            Told("HP1", ABOVE, {"height": 9 * FOOT}),
            # The doors at a right angle leave 41 in - 16 in; the room's door is wider.
            Told("HP1", WAY, {"width": 2 * FOOT}, {"height": 7 * FOOT}),
        ),
    ),
    "osha-workshop": Story(
        not_met=(
            Told(
                "MCC1",
                WS,
                {"depth": 1000, "height": 1910},
                {"depth": (6000 - 500) - (4100 + 900 / 2)},
                ("LA1",),
                condition=2,
            ),
        ),
        still_open=(Told("LP1", WAY, {"height": 1980}, {"height": 1930}),),
        met=(
            Told(
                "LP1", WS, {"depth": 700}, {"depth": 1300 - 350 - 150, "height": 1930}
            ),
        ),
    ),
    "local-amendment": Story(
        not_met=(
            Told(
                "LP1",
                WS,
                {"width": 914, "depth": 900},
                {"width": 800},
                ("W1", "W2"),
                cites="Quillhaven Electrical Ordinance 17-4",
            ),
            Told(
                "LP2",
                ABOVE,
                {"height": 1800 + 2400},
                {"height": 4050 - 150},
                ("AD1",),
                cites="Quillhaven Electrical Ordinance 17-9",
            ),
        ),
        met=(Told("LP2", WS, {"width": 914}, {"depth": 4000 - 150}),),
    ),
    "transformer-vault": Story(
        not_met=(
            # From y = 5600 - 300 - 1500 to the column about y = 2200.
            Told(
                "T1",
                WS,
                {"depth": 1500, "width": 2000, "height": 2000},
                {"depth": 3800 - 2400},
                ("COL1",),
                condition=2,
                cites="110.34(A)",
            ),
            Told("SW1", LIVE, {"height": 2900}, {"height": 2700}, cites="110.34(E)"),
            Told("SW1", PARTED),
        ),
        met=(
            Told(
                "SG1",
                WS,
                {"depth": 1500, "width": 2400, "height": 2000},
                {"depth": 5600 - 100 - 1600},
                condition=2,
                cites="110.34(A)",
            ),
            Told("LP1", WS, {"depth": 900}, {"depth": 5600 - 120}),
            Told("SG1", DRAWN, {"depth": 1400}, {"depth": 5600 - 100 - 1600}),
            Told("T1", LIVE, {"height": 2900}, {"height": 3000}),
            Told("SG1", PARTED),
            Told("T1", PARTED),
        ),
    ),
    "high-handles": Story(
        not_met=(
            Told(
                "DS1",
                HANDLES,
                {"height": 2000},
                {"height": 1400 + 660},
                cites="404.8(A)",
            ),
        ),
        still_open=(
            # Its top; nobody says where its highest breaker is.
            Told(
                "LP1",
                HANDLES,
                {"height": 2000},
                {"height": 1180 + 900},
                cites="240.24(A)",
            ),
        ),
        met=(
            # More than 2.0 m, less than 6 ft 7 in.
            Told(
                "SB1", HANDLES, {"height": 6 * FOOT + 7 * INCH}, {"height": 100 + 1905}
            ),
            Told("DS2", HANDLES, {"height": 2000}, {"height": 1340 + 660}),
            # The top is at 100 + 2100.
            Told("SB1", CEILING, {"clearance": 900}, {"clearance": 3400 - 2200}),
            # Above its platform.
            Told("CP1", HANDLES, {"height": 2000}, {"height": 1200 + 940 - 150}),
            Told("DS3", HANDLES, cites="404.8(A) Exception No. 3"),
        ),
    ),
    "as-drawn-room": Story(
        not_met=(
            Told("DS1", DOOR, {"angle": 90}, {"angle": 0}, ("wall-north",), number=0),
            # Of its front, from y = 4750 on, 250 are in the room.
            Told("DS1", WS, {"depth": 900}, {"width": 250}, ("wall-north",)),
        ),
        still_open=(
            Told("DS1", AS_DRAWN, {}, {"outside": 4750 + 400 - 5000}),
            Told("DS1", WAY),
            Told("LP1", AS_DRAWN, {}, {"overlap": 40}, ("WW1",)),
            # The wireway ends at 1700 + (500 + 1000) / 2.
            Told("PB1", AS_DRAWN, {}, {"overlap": 2450 - 2390}, ("WW1",)),
            Told("WW1", AS_DRAWN, {}, {"overlap": 60}, ("LP1", "PB1")),
            Told("SB1", AS_DRAWN, {}, {"gap": 100}),
            # The lower cells, with their posts, and the underside of the upper shelf.
            Told("R1", AS_DRAWN, {}, {"overlap": (150 + 380) - (540 - 40)}),
            Told("R1", TOP, number=0),
            Told("D1", AS_DRAWN, {}, {"overlap": 600 + 900 - 1400}),
            Told("D2", AS_DRAWN, {}, {"overlap": 600 + 900 - 1400}),
            Told("CC1", AS_DRAWN, {}, {"size": 0.6}),
        ),
        met=(
            Told("LP2", WS, {"depth": 900}),
            Told("SB1", HANDLES, {"height": 2000}, {"height": 100 + 1700}),
        ),
    ),
    "storage-units": Story(
        not_met=(
            Told(
                "T1",
                MAKER,
                {"clearance": 150},
                {"clearance": 100},
                ("wall-east",),
                number="rear",
                cites="450.9",
            ),
        ),
        still_open=(
            Told("ESU1", APART, {"spacing": 914}, {"spacing": 2700 - 1400 - 700}),
            Told("ESU2", APART, {"spacing": 914}, {"spacing": 2700 - 1400 - 700}),
        ),
        met=(
            Told("ESU3", APART, {"spacing": 914}, {"spacing": 4400 - 2700 - 700}),
            # To the north wall; to the transformer's side at y = 1900; to the ceiling.
            Told("INV1", MAKER, {"clearance": 300}, {"clearance": 1200}, number="left"),
            Told(
                "INV1",
                MAKER,
                {"clearance": 300},
                {"clearance": 3000 - 1900},
                number="right",
            ),
            Told(
                "INV1", MAKER, {"clearance": 500}, {"clearance": 1200}, number="above"
            ),
        ),
    ),
}
