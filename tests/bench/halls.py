"""Large halls: rows of switchgear with things in the way of each.

Invented data. A cell of the hall is one gear with nine boxes about it. In a crowded
hall three reach into its working space and one into its dedicated space, and the same
stop its doors; in one that is not, one box is in the way; the others are near.
"""

from __future__ import annotations

from typing import Any, Final

from model3d import Scene
from model3d.scene.scene import Origin

Plain = dict[str, Any]

WIDE, DEEP = 2000.0, 3600.0
"""Millimetres: the plan of a cell. The next row's back is 2400 ahead of the front."""
HEIGHT: Final = 5000.0
DOOR: Final = {
    "id": "D1",
    "wall": "west",
    "along": 500,
    "width": 1800,
    "height": 2200,
    "opens": "out",
    "hinge": "pair",
    "hardware": "panic",
}
SHARE: Final = 10
"""Of so many boxes one is gear."""

_Box = tuple[str, tuple[float, float, float], float, float, float]

_ABOUT: Final[tuple[_Box, ...]] = (
    # kind, size, right of the gear's middle, ahead of its front, bottom
    ("storage", (300, 300, 600), -600, 500, 0),
    ("furniture", (400, 400, 750), 100, 700, 0),
    ("pipe", (2000, 80, 80), 0, 400, 1950),
    ("duct", (2000, 250, 250), 0, -150, 3000),
    ("cable-tray", (2000, 300, 100), 0, -150, 2300),
    ("luminaire", (1200, 150, 100), 0, 700, 2700),
    ("sprinkler", (60, 60, 100), 300, 900, 3500),
    ("wireway", (800, 150, 150), 0, -200, 2100),
    ("column", (200, 200, 5000), 900, 1900, 0),
)

_ORDERLY: Final[tuple[_Box, ...]] = (
    ("storage", (300, 300, 600), -600, 500, 0),
    ("furniture", (400, 400, 750), 100, 1400, 0),
    ("pipe", (2000, 80, 80), 0, 400, 2450),
    ("duct", (2000, 250, 250), 0, -150, 4000),
    *_ABOUT[4:],
)


def hall(boxes: int, *, door: bool = False, crowded: bool = True) -> Scene:
    """Build a hall of so many boxes, one of ten of them gear.

    Without a door no way out is searched for: that is no question of solids.
    """
    gear = boxes // SHARE
    across = max(int((gear * DEEP / WIDE) ** 0.5), 1)
    items: list[Plain] = []
    for number in range(gear):
        row, place = divmod(number, across)
        about = _ABOUT if crowded else _ORDERLY
        items += _cell(number, (place + 0.5) * WIDE, (row + 1) * DEEP, about)
    rows = -(-gear // across)
    scene = {
        "title": f"Hall of {boxes} boxes",
        "units": "mm",
        "rules": "nec-2023",
        "room": {
            "size": [across * WIDE, (rows + 1) * DEEP],
            "height": HEIGHT,
            "walls": "concrete",
            "doors": [DOOR] if door else [],
        },
        "items": items,
    }
    # The cross checks are part of reading a file, not of what is measured here.
    return Scene.model_validate(scene, context=Origin(checked=True))


def _cell(number: int, x: float, y: float, about: tuple[_Box, ...]) -> list[Plain]:
    gear: Plain = {
        "id": f"G{number}",
        "kind": "switchboard",
        "size": [1000, 400, 2000],
        "place": {"at": [x, y + 200], "facing": "south"},
        "supply": {"system": "480Y/277", "amps": 800},
        "door": "pair",
    }
    return [
        gear,
        *(
            {
                "id": f"B{number}-{part}",
                "kind": kind,
                "size": list(size),
                "place": {"at": [x + right, y - ahead], "bottom": bottom},
            }
            for part, (kind, size, right, ahead, bottom) in enumerate(about)
        ),
    ]
