"""Questions about the space above boards and panels."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.lessons.drills.dice import ruler
from model3d.lessons.drills.sketch import Sketch, deep_of, room

if TYPE_CHECKING:
    from model3d.lessons.drills.dice import Dice
    from model3d.lessons.drills.sketch import Written

_OVER: Final = (("AD1", "Air duct"), ("ED1", "Exhaust duct"))


def sketch(dice: Dice) -> Sketch:
    """Draw a board below a high ceiling, and a duct over it."""
    units = ruler(dice)
    high = units.near(1.9 + dice.number(4) / 10)
    board: Written = {
        "id": "SB1",
        "name": "Switchboard",
        "kind": "switchboard",
        "size": [units.near(1.2 + dice.number(5) / 5), units.near(0.6), high],
        "place": {"wall": "north", "along": units.near(2.0)},
        "supply": {
            "system": dice.one(("208Y/120", "480Y/277")),
            "amps": dice.one((400, 600)),
        },
        "handle": units.near(1.6),
        "door": "bolted",
        "rear": "bolted",
    }
    scene = room(dice, units, [board], height=units.near(5.2))
    name, called = dice.one(_OVER)
    wide, thick = units.near(0.4), units.near(0.3)
    back = deep_of(scene) - units.near(0.3)

    def put(size: float) -> list[Written]:
        level = units.plain(high + size + thick / 2)
        ends = [[x, units.plain(back), level] for x in (0, scene["room"]["size"][0])]
        run = {"from": ends[0], "to": ends[1], "section": [wide, thick]}
        return [
            {
                "add": {
                    "id": name,
                    "name": called,
                    "kind": "duct",
                    **run,
                    "protected": True,
                }
            }
        ]

    return Sketch(
        scene,
        units,
        "SB1",
        "height",
        put,
        ask=f"An {called.lower()}, {name}, protected against condensation and leaks, "
        "runs over the switchboard SB1. Its underside is {size} above the top of the "
        "board. Is the space above the board met?",
        needs="{limit} above it are the board's own, below the structural ceiling",
        learn="the space above a board is its own; what does not serve the electrical "
        "installation keeps out, protected or not",
        look="west",
        base=units.metres(high),
    )
