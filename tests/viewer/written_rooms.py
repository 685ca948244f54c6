"""Invented rooms for the tests of what draws and serves them."""

from __future__ import annotations

from typing import Any, Final

from model3d import Scene

Plain = dict[str, Any]

HOSTILE: Final = "</script><script>document.title='taken'</script><img src=x onerror=1>"
"""A name that would do harm were it ever taken for markup."""
LINE_END: Final = "\u2028"
"""Ends a line in old scripts, and so a text in them."""

ROOM: Final[Plain] = {
    "title": f"Mill annex{LINE_END} {HOSTILE}",
    "units": "mm",
    "rules": "nec-2023",
    "room": {
        "size": [4000, 3000],
        "height": 2700,
        "walls": "concrete",
        "doors": [
            {
                "id": "D1",
                "wall": "south",
                "along": 400,
                "width": 900,
                "height": 2100,
                "opens": "out",
                "hinge": "left",
                "hardware": "panic",
            }
        ],
    },
    "items": [
        {
            "id": "LP1",
            "name": HOSTILE,
            "kind": "panelboard",
            "size": [500, 150, 900],
            "place": {"wall": "north", "along": 600, "bottom": 900},
            "supply": {"system": "208Y/120", "amps": 200},
            "door": "left",
        },
        {
            "id": "WW1",
            "kind": "wireway",
            "size": [1000, 400, 150],
            "place": {"over": "LP1", "gap": 50},
        },
        {
            "id": "CP1",
            "kind": "control-panel",
            "size": [600, 300, 1200],
            "place": {"wall": "north", "along": 2400, "bottom": 300},
            "supply": {"system": "480Y/277"},
            "door": "left",
        },
        {
            "id": "BOX",
            "kind": "machine",
            "size": [400, 400, 1500],
            "place": {"at": [2700, 2200], "facing": "south"},
        },
        {
            "id": "L1",
            "kind": "luminaire",
            "size": [1200, 150, 100],
            "place": {"at": [2000, 1200], "facing": "south", "bottom": 2500},
        },
    ],
}
"""A wireway 250 mm past the panelboard below it (150 are allowed: not met, NEC 2023
110.26(A)(3)), a machine before a control panel, a light overhead."""

LESSON: Final[Plain] = {
    "title": "How far may a wireway stick out?",
    "steps": [
        {
            "say": "The wireway is mounted higher.",
            "look": {"at": "LP1", "from": "south-east"},
            "show": [
                {"from": [600, 2850, 0], "to": [600, 2850, 900], "label": "mounted at"}
            ],
            "do": [{"move": "WW1", "by": [0, 0, 300]}],
        },
        {
            "ask": "It comes down, and is 300 deep. Is the space right?",
            "say": "Yes: 150 past the front is as far as it may come.",
            "do": [
                {"move": "WW1", "by": [0, 0, -300]},
                {"set": "WW1", "size": [1000, 300, 150]},
            ],
        },
        {"say": "The door opens.", "do": [{"open": "LP1", "to": 60}]},
    ],
}
"""Changes of ROOM, one of them behind a question."""

LAYERED: Final[Plain] = {
    "title": "What is asked for before the panel?",
    "steps": [
        {"say": "The panel.", "look": {"at": "LP1", "from": "south-east"}},
        {
            "ask": "Is the space right?",
            "say": "No: the wireway is in it.",
            "look": {
                "at": "LP1",
                "from": "south-east",
                "near": 300,
                "layers": ["gear", "room", "spaces"],
            },
        },
        {"say": "So it is with all of the room."},
    ],
}
"""A step that goes near the panel and shows it with its spaces alone."""

QUESTIONS: Final[Plain] = {
    "title": "What is in the way?",
    "steps": [
        {
            "ask": "Is the machine a fault?",
            "choices": [
                {"text": "No", "right": False, "why": "1.0 m is asked for."},
                {"text": "Yes", "right": True, "why": "Only 300 mm are there."},
            ],
            "say": "It is.",
            "notes": "Let them measure it.",
            "minutes": 2,
        },
        {
            "ask": "Which things are faults?",
            "find": ["BOX", "WW1"],
            "say": "The machine and the wireway.",
        },
        {
            "ask": "Where may the machine stand?",
            "drag": "BOX",
            "say": "700 farther.",
            "do": [{"move": "BOX", "by": [0, -700, 0]}],
            "expect": {"CP1": {"working-space": "met"}},
        },
    ],
}
"""An answer to choose, things to find, one to move. The machine stands 300 mm
before the control panel's front at 2700, which needs 1.0 m: NEC 2023 Table
110.26(A)(1), condition 2 or 3."""


def room_scene(**more: Any) -> Scene:  # noqa: ANN401 - whatever a scene has
    """Return ROOM with other or more keys."""
    return Scene.model_validate({**ROOM, **more})


WRITTEN: Final = """\
# Mill annex, as surveyed.   Numbers in millimetres.
title: Mill annex
units: mm
rules: nec-2023

room:
  size: [4000, 3000]     # between the wall faces
  height: 2700
  walls: concrete

items:
  - id: LP1   # lighting
    kind: panelboard
    size: [500, 150, 900]
    place: {wall: north, along: 600, bottom: 900}   # back to the wall
    supply: {system: 208Y/120, amps: 200}
    door: left
  - id: WW1
    kind: wireway
    size: [1000, 150, 150]
    place:
      # just above the panelboard
      over: LP1
      gap: 50
  - id: CP1
    kind: control-panel
    size: [600, 300, 1200]
    place: {wall: north, along: 2400, bottom: 1 ft}
    supply: {system: 480Y/277}
    door: left
  - {id: BOX, kind: machine, size: [400, 400, 1500],
     place: {at: [2700, 2200], facing: south}}
  - id: P1
    kind: pipe
    from: [ 0 ,2900, 2500 ]
    to:
      - 4000
      - 2900   # to the east wall
      - 2500
    diameter: 60
"""
"""A room with comments and every way of writing a place."""

TOLD: Final = """\

lesson:
  title: A wireway goes up
  steps:
    - say: It is mounted higher.
      look: {at: LP1}
      do: [{move: WW1, by: [0, 0, 400]}]
    - ask: Is it still right?
      say: Above the space it harms nobody.
      do: [{set: WW1, size: [1000, 600, 150]}, {open: LP1, to: 45}]
"""
"""A lesson for WRITTEN."""
